//! Plans as they were shown: each has a number of its own and is kept with the job, so that
//! "12" on a printed plan means the same job a week later.
//!
//! `plans/plan-3.txt` is plain text, a step a line: its number, the job, the parts that it was
//! certain for, and those that it was perhaps for.
//!
//! ```text
//! plan: 3
//! shown: 2026-11-27 16:05
//! 1: clear the drawer; drawer 1, drawer 2
//! 2: wax the runners; drawer 2; drawer 4
//! ```

use super::error::JobError;
use super::folder::Job;
use super::lock::Turn;
use crate::{inside, plain};
use jiff::civil::DateTime;
use std::fmt::Write as _;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// The folder inside a job's folder for plans that were shown.
pub const PLANS_FOLDER: &str = "plans";

/// Says which plan was shown last.
const LAST: &str = "last-shown.txt";

/// A plan as it was shown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ShownPlan {
    /// Its number, from 1.
    pub number: u32,
    /// Its steps; the first has the number 1.
    pub steps: Vec<ShownStep>,
}

/// A step of such a plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ShownStep {
    /// The job, in the words of the rules.
    pub job: String,
    /// The parts that it was certain for.
    pub certain: Vec<String>,
    /// The parts that it was perhaps for.
    pub perhaps: Vec<String>,
}

impl Job {
    /// Keeps a plan that is shown, and gives its number: that of an earlier one if that says
    /// the same.
    ///
    /// # Errors
    /// If it cannot be kept; then it has no number.
    pub fn keep_plan(&self, steps: &[ShownStep], now: DateTime) -> Result<u32, JobError> {
        let folder = self.folder.join(PLANS_FOLDER);
        if let Ok(Some(last)) = self.shown_plan(None)
            && last.steps == steps
        {
            return Ok(last.number);
        }
        let turn = Turn::take(&self.folder, now)?;
        inside::refuse_link(&folder).map_err(JobError::write(&folder))?;
        match fs::create_dir(&folder) {
            Ok(()) => plain::sync_folder(&self.folder).map_err(JobError::write(&folder))?,
            Err(why) if why.kind() == io::ErrorKind::AlreadyExists && folder.is_dir() => {}
            Err(why) => return Err(JobError::Write { path: folder, why }),
        }
        let numbers = numbers(&folder);
        let same = numbers.iter().find(|&&number| {
            let kept = read(&self.plan_file(number), number);
            kept.is_ok_and(|kept| kept.is_some_and(|kept| kept.steps == steps))
        });
        let number = match same {
            Some(&number) => number,
            None => {
                let number = numbers.last().map_or(1, |last| last.saturating_add(1));
                let text = text(number, steps, now);
                write(&self.plan_file(number), &text)?;
                number
            }
        };
        write(&folder.join(LAST), &format!("plan: {number}\n"))?;
        drop(turn);
        Ok(number)
    }

    /// A plan that was shown, by its number or the last one; `None` if there is none.
    ///
    /// # Errors
    /// If it is there and cannot be read.
    pub fn shown_plan(&self, number: Option<u32>) -> Result<Option<ShownPlan>, JobError> {
        let number = match number {
            Some(number) => number,
            None => {
                let last = self.folder.join(PLANS_FOLDER).join(LAST);
                match read_text(&last)?.as_deref().and_then(last_shown) {
                    Some(number) => number,
                    None => return Ok(None),
                }
            }
        };
        read(&self.plan_file(number), number)
    }

    fn plan_file(&self, number: u32) -> PathBuf {
        self.folder
            .join(PLANS_FOLDER)
            .join(format!("plan-{number}.txt"))
    }
}

fn last_shown(text: &str) -> Option<u32> {
    text.trim().strip_prefix("plan:")?.trim().parse().ok()
}

/// The numbers of the plans that are kept, in order.
fn numbers(folder: &Path) -> Vec<u32> {
    let names = fs::read_dir(folder).into_iter().flatten().flatten();
    let number = |name: &str| -> Option<u32> {
        let number = name.strip_prefix("plan-")?.strip_suffix(".txt")?;
        number.parse().ok()
    };
    let names = names.filter_map(|entry| entry.file_name().into_string().ok());
    let mut numbers: Vec<u32> = names.filter_map(|name| number(&name)).collect();
    numbers.sort_unstable();
    numbers
}

fn text(number: u32, steps: &[ShownStep], now: DateTime) -> String {
    let now = now.strftime("%Y-%m-%d %H:%M");
    let mut text = format!("plan: {number}\nshown: {now}\n");
    for (at, step) in (1..).zip(steps) {
        let fields = [
            step.job.clone(),
            step.certain.join(", "),
            step.perhaps.join(", "),
        ];
        let said = fields.iter().rposition(|field| !field.is_empty());
        let fields = fields.get(..=said.unwrap_or(0)).unwrap_or_default();
        // Writing to a string cannot fail.
        let _ = writeln!(text, "{at}: {}", fields.join("; "));
    }
    text
}

fn read(path: &Path, number: u32) -> Result<Option<ShownPlan>, JobError> {
    let Some(text) = read_text(path)? else {
        return Ok(None);
    };
    let steps = text.lines().filter_map(|line| {
        let (at, said) = line.split_once(": ")?;
        at.parse::<usize>().ok()?;
        let mut fields = said.split("; ");
        let job = fields.next()?.to_owned();
        let mut parts = || {
            let parts = fields.next().unwrap_or_default().split(", ");
            let parts = parts.filter(|part| !part.is_empty());
            parts.map(str::to_owned).collect()
        };
        let (certain, perhaps) = (parts(), parts());
        Some(ShownStep {
            job,
            certain,
            perhaps,
        })
    });
    Ok(Some(ShownPlan {
        number,
        steps: steps.collect(),
    }))
}

fn read_text(path: &Path) -> Result<Option<String>, JobError> {
    match inside::read_text(path) {
        Ok(text) => Ok(Some(text)),
        Err(why) if why.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(why) => Err(JobError::Read {
            path: path.to_owned(),
            why,
        }),
    }
}

fn write(path: &Path, text: &str) -> Result<(), JobError> {
    plain::write_whole(path, text.as_bytes()).map_err(JobError::write(path))
}
