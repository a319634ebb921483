//! `tellmark next`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::moments;
use super::open_job::{cannot_set_up, open_job};
use super::shape::Shape;
use clap::Args;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use tellmark_core::pack::Touch;
use tellmark_job::advice::{Change, Check, short_round};
use tellmark_job::open_job::OpenJob;
use tellmark_language::AnswerReader;
use tellmark_language::ink::Ink;
use tellmark_language::model::{Minutes, Model};
use tellmark_language::words::{self, figure, minutes};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// Say which checks are most worth making next, and what they would change
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark next walnut-chest\n  tellmark next walnut-chest \
                        --within \"15 min\"\n\nA check is worth the bench time that \
                        its answer is expected to save, for each minute it takes: faults missed \
                        until it is late, and jobs planned for nothing. A check that interferes \
                        with the piece comes after the gentler ones for the same fault."
)]
pub struct Next {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// How many checks to name
    #[arg(long, value_name = "NUMBER", default_value_t = 8)]
    most: usize,
    /// A short look over: what is worth most within this time, in the order of the round
    #[arg(long, value_name = "TIME", conflicts_with = "most")]
    within: Option<String>,
}

impl Next {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let job = open_job(&self.job, frame)?;
        let view = job.view()?;
        let Some(checks) = view.next().map_err(cannot_set_up)? else {
            let triage = frame.command("triage", &self.job);
            return Err(Stopped::Misuse(format!(
                "The findings cannot all be true, so nothing can be weighed. \
                 To see which ones clash:\n  {triage}"
            )));
        };
        let left = checks.len();
        let within = self.within(job.model())?;
        let shown: Vec<&Check> = match within {
            Some(within) => short_round(job.model(), job.order.kind, &checks, within),
            None => checks.iter().take(self.most).collect(),
        };
        if frame.global.json {
            let checks: Vec<Value> = shown.iter().map(|c| as_json(&job, c)).collect();
            frame.print_json(
                Shape::NEXT,
                json!({
                    "moment": moments::which_json(&view),
                    "checks": checks,
                    "within_minutes": within,
                    "worth_making": left,
                }),
            )?;
            return Ok(Exit::Fine);
        }
        moments::print_which(frame, &view)?;
        if shown.is_empty() {
            writeln!(
                frame.out,
                "No check that is left would change what to plan."
            )?;
        }
        if within.is_some() && !shown.is_empty() {
            print_round(frame, &shown)?;
            return Ok(Exit::Fine);
        }
        for (i, check) in shown.iter().enumerate() {
            print(frame, &job, i + 1, check)?;
        }
        if left > shown.len() {
            writeln!(
                frame.out,
                "\n{left} checks are worth something; --most {left} names them all."
            )?;
        }
        Ok(Exit::Fine)
    }
}

impl Next {
    /// The time that there is for a short look over.
    fn within(&self, model: &Model) -> Result<Option<Minutes>, Stopped> {
        let Some(typed) = &self.within else {
            return Ok(None);
        };
        match AnswerReader::new(model).time(typed) {
            Some(minutes) if minutes > 0 => Ok(Some(minutes)),
            _ => Err(Stopped::Misuse(format!(
                "I cannot read \"{typed}\" as a time: \"15 min\", \"half an hour\" or \"1 h\" would do."
            ))),
        }
    }
}

/// A short look over, step by step.
fn print_round(frame: &mut Frame, checks: &[&Check]) -> Result<(), Stopped> {
    let time = checks.iter().map(|check| check.minutes).sum();
    let number = u32::try_from(checks.len()).unwrap_or(u32::MAX);
    writeln!(
        frame.out,
        "{STRONG}A look over in {}{STRONG:#}: {}, in the order of the round",
        minutes(time),
        words::some_of(number, "check", "checks")
    )?;
    let alike = checks.chunk_by(|one, next| one.sign == next.sign);
    for (number, checks) in (1..).zip(alike) {
        let [first, others @ ..] = checks else {
            continue;
        };
        let each = if others.is_empty() { "" } else { " each" };
        writeln!(
            frame.out,
            "{number:3}. {} {FAINT}({}{each}){FAINT:#}",
            first.words,
            minutes(first.minutes)
        )?;
        if !others.is_empty() {
            let others: Vec<&str> = others.iter().map(|one| one.part_name.as_str()).collect();
            writeln!(frame.out, "     and likewise {}", words::list(&others))?;
        }
    }
    Ok(())
}

/// What to look at next, in one line.
pub(super) fn print_first(folder: &Path, frame: &mut Frame) -> Result<(), Stopped> {
    let job = open_job(folder, frame)?;
    let view = job.view()?;
    let checks = view.next().map_err(cannot_set_up)?.unwrap_or_default();
    match checks.first() {
        Some(check) => writeln!(
            frame.out,
            "Next: {} ({}, saves {:.0} min)",
            check.words,
            minutes(check.minutes),
            check.saves
        )?,
        None => writeln!(
            frame.out,
            "No check that is left would change what to plan."
        )?,
    }
    Ok(())
}

fn print(frame: &mut Frame, job: &OpenJob, number: usize, check: &Check) -> Result<(), Stopped> {
    let touch = match check.touch {
        Touch::Nothing => "",
        Touch::ALittle => ", disturbs a little",
        Touch::ALot => ", disturbs a lot",
    };
    writeln!(
        frame.out,
        "{number:2}. {STRONG}{}{STRONG:#} {FAINT}({}{touch}; saves {:.0} min, {:.0} for each){FAINT:#}",
        check.words,
        minutes(check.minutes),
        check.saves,
        check.worth,
    )?;
    for (change, parts) in together(&check.changes) {
        writeln!(frame.out, "      {}", changed(job, change, &parts))?;
    }
    Ok(())
}

/// Changes that are alike but for the part, once each with all their parts.
fn together(changes: &[Change]) -> Vec<(&Change, Vec<&str>)> {
    let near = |a: f64, b: f64| (a - b).abs() < 0.005;
    let mut found: Vec<(&Change, Vec<&str>)> = Vec::new();
    for change in changes {
        let alike = |(other, _): &&mut (&Change, Vec<&str>)| {
            other.state == change.state
                && near(other.now, change.now)
                && near(other.from_to.0, change.from_to.0)
                && near(other.from_to.1, change.from_to.1)
        };
        match found.iter_mut().find(alike) {
            Some((_, parts)) => parts.push(&change.part),
            None => found.push((change, vec![&change.part])),
        }
    }
    found
}

/// "drawer 3 is loose in the dovetails: 47 in 100 now, then 15 to 95".
fn changed(job: &OpenJob, change: &Change, parts: &[&str]) -> String {
    let state = words::state_words(job.model(), change.state, true, parts.len() > 1);
    format!(
        "{} {state}: {} now, then {} or {}",
        words::list(parts),
        figure(change.now),
        figure(change.from_to.0),
        figure(change.from_to.1)
    )
}

fn as_json(job: &OpenJob, check: &Check) -> Value {
    let changes: Vec<Value> = check
        .changes
        .iter()
        .map(|change| {
            json!({
                "part": change.part,
                "fault": words::state_words(job.model(), change.state, true, false),
                "now": change.now,
                "lowest": change.from_to.0,
                "highest": change.from_to.1,
                "saves_minutes": change.saves,
            })
        })
        .collect();
    json!({
        "check": check.words,
        "minutes": check.minutes,
        "saves_minutes": check.saves,
        "worth": check.worth,
        "changes": changes,
    })
}
