//! `tellmark` with no command: what to do next, by what is in this folder.

use super::exit::{Exit, Stopped};
use super::frame::{Frame, as_argument};
use crate::house::ENDING;
use crate::job::Job;
use crate::model::Model;
use crate::words::{a, list_or, some_of};
use serde_json::json;
use std::fs;
use std::path::Path;

/// Runs it.
pub(super) fn run(frame: &mut Frame) -> Result<Exit, Stopped> {
    let here = look_around(Path::new("."));
    let model = frame.reading_or_warn()?.model;
    let pieces = pieces(&model);
    if frame.global.json {
        let jobs: Vec<_> = here
            .jobs
            .iter()
            .map(|j| json!({ "folder": j.folder, "piece": j.piece, "lines": j.lines }))
            .collect();
        frame.print_json(&json!({
            "jobs": jobs,
            "rules_here": here.has_rules,
            "pieces": pieces,
        }))?;
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
            let folder = as_argument(&job.folder);
            writeln!(
                frame.out,
                "\nTo note what you find, in the words of the rules:\n  \
                 tellmark note {folder} \"...\"{rules}\nTo see what is likely wrong:\n  \
                 tellmark triage {folder}{rules}\nTo open another job, say what the piece is:"
            )?;
        }
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
    let jobs = names
        .into_iter()
        .filter_map(|name| {
            let job = Job::open(&folder.join(&name)).ok()?;
            Some(Found {
                folder: name,
                piece: job.header().piece.clone(),
                lines: job.lines().len(),
            })
        })
        .collect();
    Here { jobs, has_rules }
}
