//! `tellmark jobs`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::open_job::cannot_set_up;
use super::shape::Shape;
use super::whose;
use clap::Args;
use serde_json::json;
use std::fs;
use std::path::{Path, PathBuf};
use tellmark_compile::check::Checked;
use tellmark_job::advice::{Now, Stage, Standing, Wait};
use tellmark_job::house::{self, For};
use tellmark_job::open_job::OpenJob;
use tellmark_job::papers::Account;
use tellmark_job::record::{Job, Running};
use tellmark_language::words::{a, capital, minutes, some_of};

/// How deep below a folder jobs are looked for: by customer and by year.
const DEEPEST: usize = 3;

/// List the jobs in a folder: what each is, and where it stands
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark jobs\n  tellmark jobs workshop --with \"worm\"\n\n\
                  Exit code 1 if there is no job, or none with these words, and if one has \
                  something in its record that the rules do not know."
)]
pub struct Jobs {
    /// The folder; jobs are looked for in it and in the folders in it
    #[arg(value_name = "DIR", default_value = ".")]
    pub(super) folder: PathBuf,
    /// Only jobs with these words in their record
    #[arg(long, value_name = "WORDS")]
    with: Option<String>,
}

/// Where a job stands, or why that cannot be said.
pub(super) type Stands = Result<Standing, String>;

/// One job on the shelf.
struct Shelved {
    folder: String,
    piece: String,
    opened: Option<String>,
    owner: Option<String>,
    standing: Stands,
    /// The lines with the words that were asked for.
    lines: Vec<String>,
    /// What the rules that it is read by do not know.
    amiss: Vec<String>,
    /// What is being timed.
    running: Option<Running>,
    /// What was invoiced and paid, or why that cannot be said.
    account: Result<Option<Account>, String>,
}

impl Jobs {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        if !self.folder.is_dir() {
            return Err(Stopped::Disk(format!(
                "There is no folder {}.",
                self.folder.display()
            )));
        }
        let mut folders = Vec::new();
        job_folders(&self.folder, 0, &mut folders);
        folders.sort();
        let mut shelf = Vec::new();
        for folder in &folders {
            shelf.extend(self.shelved(folder, frame)?);
        }
        let is_amiss = shelf.iter().any(|job| !job.amiss.is_empty());
        let exit = match shelf.is_empty() || is_amiss {
            true => Exit::No,
            false => Exit::Fine,
        };
        if frame.global.json {
            let jobs: Vec<_> = shelf.iter().map(as_json).collect();
            frame.print_json(Shape::JOBS, json!({ "jobs": jobs }))?;
            return Ok(exit);
        }
        if shelf.is_empty() {
            let folder = match self.folder.as_os_str() == "." {
                true => "this folder".to_owned(),
                false => self.folder.display().to_string(),
            };
            let said = match &self.with {
                Some(words) => format!("No job in {folder} has \"{words}\" in its record."),
                None => format!("There is no job in {folder}."),
            };
            writeln!(frame.out, "{said}")?;
        }
        for job in &shelf {
            print(job, frame)?;
        }
        Ok(exit)
    }

    /// A job, unless it has not the words that were asked for.
    fn shelved(&self, folder: &Path, frame: &mut Frame) -> Result<Option<Shelved>, Stopped> {
        let job = match Job::open(folder) {
            Ok(job) => job,
            Err(why) => {
                let said = Shelved {
                    folder: shown(folder),
                    piece: "piece not known".to_owned(),
                    opened: None,
                    owner: None,
                    standing: Err(why.to_string()),
                    lines: Vec::new(),
                    amiss: Vec::new(),
                    running: None,
                    account: Ok(None),
                };
                return Ok(self.with.is_none().then_some(said));
            }
        };
        let lines = self.lines(&job);
        if self.with.is_some() && lines.is_empty() {
            return Ok(None);
        }
        let header = job.header();
        let opened = header.opened.map(|o| o.strftime("%Y-%m-%d").to_string());
        let piece = header.piece.clone();
        let house = whose::places(frame.global)?.find(For::Job(folder));
        let rules = house.and_then(|house| {
            let folder = house.folder.as_deref();
            house::ready(folder, &house::families(folder, &piece)?)
        });
        let (standing, amiss) = match rules {
            Ok(rules) => standing(folder, rules, frame.moment())?,
            Err(why) => (Err(why.to_string()), Vec::new()),
        };
        Ok(Some(Shelved {
            folder: shown(folder),
            owner: header.label("owner").map(str::to_owned),
            piece,
            opened,
            standing,
            lines,
            amiss,
            running: job.running(),
            account: Account::of(&job).map_err(|why| why.to_string()),
        }))
    }

    /// The lines of the record with the words that were asked for, and the piece if it is
    /// called so.
    fn lines(&self, job: &Job) -> Vec<String> {
        let Some(words) = self.with.as_ref().map(|words| words.to_lowercase()) else {
            return Vec::new();
        };
        let findings = job.lines().iter();
        let findings = findings.map(|line| (line.number, line.text.clone()));
        let entries = job.entries().iter();
        let entries = entries.map(|entry| (entry.number, entry.says.shown()));
        let mut all: Vec<(usize, String)> = findings.chain(entries).collect();
        all.sort();
        let piece = std::iter::once(job.header().piece_said());
        let lines = piece.chain(all.into_iter().map(|(_, text)| text));
        lines
            .filter(|text| text.to_lowercase().contains(&words))
            .collect()
    }
}

/// Where a job stands by these rules, or why they cannot tell; and what they do not know.
pub(super) fn standing(
    folder: &Path,
    rules: Checked,
    now: Now,
) -> Result<(Stands, Vec<String>), Stopped> {
    let open = match OpenJob::open(folder, rules) {
        Ok(open) => open,
        Err(why) => return Ok((Err(why.to_string()), Vec::new())),
    };
    let view = match open.view() {
        Ok(view) => view,
        Err(why) => return Ok((Err(why.to_string()), Vec::new())),
    };
    let progress = view.progress().map_err(cannot_set_up)?;
    let amiss = open.amiss(&progress).sentences();
    let plan = view.plan(&progress).map_err(cannot_set_up)?;
    if plan.clash.is_some() {
        let why = "its findings cannot all be true: \"tellmark triage\" says which";
        return Ok((Err(why.to_owned()), amiss));
    }
    let entries = open.job.entries();
    let (model, findings) = (open.model(), open.findings.len());
    let standing = Standing::of(model, findings, entries, &progress, &plan, now);
    Ok((Ok(standing), amiss))
}

/// Whether there are jobs in the folders of a folder.
pub(super) fn has_jobs_below(folder: &Path) -> bool {
    let mut found = Vec::new();
    job_folders(folder, 0, &mut found);
    !found.is_empty()
}

/// Folders with a `job.txt`. Links are not followed, and what cannot be looked at is passed
/// over.
fn job_folders(folder: &Path, depth: usize, found: &mut Vec<PathBuf>) {
    if folder.join("job.txt").is_file() {
        found.push(folder.to_owned());
        return;
    }
    if depth == DEEPEST {
        return;
    }
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let is_hidden = entry.file_name().to_string_lossy().starts_with('.');
        let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
        if is_folder && !is_hidden {
            job_folders(&entry.path(), depth + 1, found);
        }
    }
}

fn shown(folder: &Path) -> String {
    let shown = folder.strip_prefix(".").unwrap_or(folder);
    match shown.as_os_str().is_empty() {
        true => ".".to_owned(),
        false => shown.display().to_string(),
    }
}

fn print(job: &Shelved, frame: &mut Frame) -> Result<(), Stopped> {
    let opened = job.opened.as_ref();
    let opened = opened.map_or(String::new(), |day| format!(", opened {day}"));
    let owner = job.owner.as_ref();
    let owner = owner.map_or(String::new(), |owner| format!(", of {owner}"));
    writeln!(
        frame.out,
        "{}: {}{owner}{opened}",
        job.folder,
        a(&job.piece)
    )?;
    match &job.standing {
        Ok(standing) => writeln!(
            frame.out,
            "    {}",
            capital(&in_words(standing, frame.moment()))
        )?,
        Err(why) => writeln!(frame.out, "    Where it stands cannot be said: {why}")?,
    }
    if let Some(running) = &job.running {
        let (work, since) = (&running.job, running.since);
        writeln!(frame.out, "    A clock runs on \"{work}\", since {since}")?;
    }
    match &job.account {
        Ok(Some(account)) => writeln!(
            frame.out,
            "    {}",
            capital(&account.in_words("the owner's"))
        )?,
        Ok(None) => {}
        Err(why) => writeln!(frame.out, "    What is left to pay cannot be said: {why}")?,
    }
    for amiss in &job.amiss {
        writeln!(frame.out, "    {amiss}")?;
    }
    for line in &job.lines {
        writeln!(frame.out, "      {line}")?;
    }
    Ok(())
}

/// "on the bench: 3 jobs done, 5 left, mostly 6 h; 2 wait for the owner's answer".
pub(super) fn in_words(standing: &Standing, now: Now) -> String {
    let count = |number: usize| u32::try_from(number).unwrap_or(u32::MAX);
    let mut said = Vec::new();
    // "Waiting: for the hinge", but "ready: waits for the glue".
    let waits = match standing.stage {
        Stage::Waiting => "",
        _ => "waits ",
    };
    let each = standing.waits.iter();
    said.extend(each.map(|wait| format!("{waits}{}", wait.in_words(now))));
    if standing.done > 0 {
        let jobs = some_of(count(standing.done), "job", "jobs");
        said.push(format!("{jobs} done"));
    }
    if standing.left > 0 {
        let jobs = some_of(count(standing.left), "job", "jobs");
        let time = match standing.minutes {
            0 => String::new(),
            mostly => format!(", mostly {}", minutes(mostly)),
        };
        said.push(format!("{jobs} certain and left{time}"));
    }
    if standing.to_ask > 0 {
        let waits = if standing.to_ask == 1 {
            "waits"
        } else {
            "wait"
        };
        said.push(format!(
            "{} {waits} for the owner's answer",
            standing.to_ask
        ));
    }
    let stage = standing.stage.words();
    match said.is_empty() {
        true => stage.to_owned(),
        false => format!("{stage}: {}", said.join("; ")),
    }
}

/// What is waited for, the longest wait first.
pub(super) fn waits_json(waits: &[Wait]) -> Vec<serde_json::Value> {
    let waits = waits.iter().map(|wait| {
        json!({
            "for": wait.what,
            "until": wait.until.map(|until| until.to_string()),
            "line": wait.ticked,
        })
    });
    waits.collect()
}

fn as_json(job: &Shelved) -> serde_json::Value {
    let standing = job.standing.as_ref();
    let waits = standing.ok().and_then(|standing| standing.waits.first());
    let mut value = json!({
        "folder": job.folder,
        "piece": job.piece,
        "opened": job.opened,
        "owner": job.owner,
        "stage": standing.ok().map(|s| s.stage.words()),
        "done": standing.ok().map(|s| s.done),
        "left": standing.ok().map(|s| s.left),
        "minutes_left": standing.ok().map(|s| s.minutes),
        "to_ask": standing.ok().map(|s| s.to_ask),
        "waits_for": waits.map(|wait| &wait.what),
        "waits_until": waits.and_then(|wait| wait.until).map(|until| until.to_string()),
        "waits": standing.ok().map(|standing| waits_json(&standing.waits)),
        "why_not": standing.err(),
        "notices": job.amiss,
        "account": job.account.as_ref().ok(),
        "running": job.running.as_ref().map(|running| json!({
            "job": running.job,
            "since": running.since.to_string(),
        })),
    });
    if !job.lines.is_empty()
        && let Some(value) = value.as_object_mut()
    {
        value.insert("lines".to_owned(), json!(job.lines));
    }
    value
}
