//! `tellmark` with no command: what to do next, by what is in this folder.

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::jobs::has_jobs_below;
use super::shape::Shape;
use super::typed::as_argument;
use serde_json::json;
use std::fs;
use std::path::Path;
use tellmark_job::house::ENDING;
use tellmark_job::record::{Job, Says};
use tellmark_language::model::Model;
use tellmark_language::words::{a, list_or, some_of};

/// Runs it.
pub(super) fn run(frame: &mut Frame) -> Result<Exit, Stopped> {
    let here = look_around(Path::new("."));
    let model = frame.ready_or_warn()?.reading.model;
    let pieces = pieces(&model);
    if frame.global.json {
        let jobs: Vec<_> = here
            .jobs
            .iter()
            .map(|j| json!({ "folder": j.folder, "piece": j.piece, "lines": j.lines }))
            .collect();
        frame.print_json(
            Shape::HERE,
            json!({
                "jobs": jobs,
                "rules_here": here.has_rules,
                "pieces": pieces,
            }),
        )?;
        return Ok(Exit::Fine);
    }
    let rules = frame.rules_argument();
    for job in &here.jobs {
        let lines = u32::try_from(job.lines).unwrap_or(u32::MAX);
        let lines = some_of(lines, "finding", "findings");
        writeln!(frame.out, "{}: {}, {lines}", job.folder, job.piece)?;
    }
    match here.jobs.last() {
        Some(job) => {
            writeln!(frame.out)?;
            for (to, command) in next_steps(job) {
                let folder = as_argument(&job.folder);
                let command = command.replacen("JOB", &folder, 1);
                writeln!(frame.out, "{to}:\n  tellmark {command}{rules}")?;
            }
            writeln!(frame.out, "To open another job, say what the piece is:")?;
        }
        None if has_jobs_below(Path::new(".")) => writeln!(
            frame.out,
            "There are jobs in the folders here. To list them:\n  tellmark jobs{rules}\n\
             To open another job, say what the piece is:"
        )?,
        None => writeln!(
            frame.out,
            "There is no job in this folder yet. To open one, say what the piece is:"
        )?,
    }
    let example = pieces.first().copied().unwrap_or("...");
    writeln!(frame.out, "  tellmark open \"{example}\"{rules}")?;
    if pieces.len() > 1 {
        let pieces: Vec<String> = pieces.iter().map(|piece| a(piece)).collect();
        writeln!(frame.out, "It can be {}.", list_or(&pieces))?;
    }
    if here.has_rules && frame.global.rules.is_none() {
        writeln!(
            frame.out,
            "There are rules in this folder. To see whether they are in order:\n  \
             tellmark check --rules ."
        )?;
    } else {
        writeln!(
            frame.out,
            "To read the rules as I understand them:\n  tellmark read{rules}"
        )?;
    }
    writeln!(frame.out, "For everything I can do:\n  tellmark --help")?;
    Ok(Exit::Fine)
}

/// What one may want to do next with a job, and the command for it.
fn next_steps(job: &Found) -> Vec<(&'static str, &'static str)> {
    let note = (
        "To note what you find, in the words of the rules",
        "note JOB \"...\"",
    );
    let brief = ("To note what the owner wants", "brief JOB --wish \"...\"");
    if job.lines == 0 {
        return vec![note, brief];
    }
    let mut steps = vec![
        note,
        ("To see what is likely wrong", "triage JOB"),
        ("To see what to look at next", "next JOB"),
    ];
    if !job.has_brief {
        steps.push(brief);
    }
    steps.extend([
        ("To see what to do, in which order", "plan JOB"),
        ("To see what it comes to", "quote JOB"),
        ("To tick what is done", "done JOB \"...\" --took \"...\""),
    ]);
    if job.has_done {
        steps.push(("To write the page for the owner", "report JOB"));
    }
    steps
}

/// The pieces that the rules know.
fn pieces(model: &Model) -> Vec<&str> {
    model
        .kinds
        .iter()
        .skip(1)
        .filter(|kind| kind.is_piece)
        .map(|kind| kind.name.as_str())
        .collect()
}

struct Here {
    jobs: Vec<Found>,
    has_rules: bool,
}

struct Found {
    folder: String,
    piece: String,
    lines: usize,
    has_brief: bool,
    has_done: bool,
}

/// What is in a folder. What cannot be looked at is passed over: this is only
/// advice.
fn look_around(folder: &Path) -> Here {
    let mut names: Vec<String> = fs::read_dir(folder)
        .into_iter()
        .flatten()
        .flatten()
        .filter_map(|entry| entry.file_name().into_string().ok())
        .filter(|name| !name.starts_with('.'))
        .collect();
    names.sort();
    let has_rules = names.iter().any(|name| name.ends_with(ENDING));
    let jobs = std::iter::once(".".to_owned())
        .chain(
            names
                .into_iter()
                .flat_map(|name| here_or_one_down(folder, name)),
        )
        .filter_map(|name| {
            let job = Job::open(&folder.join(&name)).ok()?;
            Some(Found {
                folder: name,
                piece: job.header().piece_said(),
                lines: job.lines().len(),
                has_brief: has(&job, |says| matches!(says, Says::Wish(_) | Says::Limit(_))),
                has_done: has(&job, |says| matches!(says, Says::Done { .. })),
            })
        })
        .collect();
    Here { jobs, has_rules }
}

/// A folder, if it is a job, or else those in it that are: by customer, or by year.
fn here_or_one_down(folder: &Path, name: String) -> Vec<String> {
    let path = folder.join(&name);
    let is_link = fs::symlink_metadata(&path).is_ok_and(|what| what.is_symlink());
    if is_link || path.join("job.txt").is_file() {
        return vec![name];
    }
    let entries = fs::read_dir(&path).into_iter().flatten().flatten();
    let names = entries.filter_map(|entry| entry.file_name().into_string().ok());
    let names = names.filter(|below| path.join(below).join("job.txt").is_file());
    let mut below: Vec<String> = names.map(|below| format!("{name}/{below}")).collect();
    below.sort();
    below
}

fn has(job: &Job, what: impl Fn(&Says) -> bool) -> bool {
    job.entries().iter().any(|entry| what(&entry.says))
}
