//! `tellmark shelf`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::jobs::{in_words, standing, waits_json};
use super::open_job::open_job;
use super::shape::Shape;
use clap::Args;
use jiff::civil::Date;
use serde_json::json;
use std::path::PathBuf;
use tellmark_job::advice::said_when;
use tellmark_job::day;
use tellmark_job::papers::Account;
use tellmark_job::record::{Job, Says, Shelf as Stands};
use tellmark_language::words::{capital, some_of};

/// Say where a job stands on the shelf: what it waits for, that it is ready, handed back
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark shelf walnut-chest --waits \"the hinge from the foundry\" \
                        --until 2026-12-05\n  tellmark shelf walnut-chest --ready\n  tellmark \
                        shelf walnut-chest --handed-back\n  tellmark shelf walnut-chest\n\nWork \
                        on it ends a wait, and that it is ready. What was handed back is on the \
                        shelf again by --goes-on. What sets after a job was ticked is waited for \
                        by itself."
)]
#[command(group = clap::ArgGroup::new("what").multiple(false))]
pub struct Shelf {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// What it waits for
    #[arg(long, value_name = "WORDS", group = "what")]
    waits: Option<String>,
    /// With --waits: the day on which that is expected: "5 December", 2026-12-05, "2 weeks"
    #[arg(long, value_name = "DAY", requires = "waits")]
    until: Option<String>,
    /// It is ready to be handed back
    #[arg(long, group = "what")]
    ready: bool,
    /// It was handed back
    #[arg(long, group = "what")]
    handed_back: bool,
    /// It is worked on again
    #[arg(long, group = "what")]
    goes_on: bool,
}

impl Shelf {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let Some(shelf) = self.said(frame.now.date())? else {
            return self.show(frame);
        };
        let goes_home = matches!(shelf, Stands::Ready | Stands::HandedBack);
        let mut open = open_job(&self.job, frame)?;
        let is_gone = matches!(said_when(open.job.entries()), Some((Stands::HandedBack, _)));
        if is_gone && !matches!(shelf, Stands::GoesOn | Stands::HandedBack) {
            return Err(Stopped::No(format!(
                "It was handed back. Nothing was noted. If it is here again, say that first:\n  {} \
                 --goes-on",
                frame.command("shelf", &self.job)
            )));
        }
        let still_open = match goes_home {
            true => self.still_open(&open.job, frame)?,
            false => Vec::new(),
        };
        let says = Says::Shelf(shelf);
        let added = open.job.append_entry(&says, frame.now)?;
        let exit = frame.tell_line(added.number, &says)?;
        if !frame.global.json && !still_open.is_empty() {
            writeln!(
                frame.out,
                "Still open: {}. If it stays here, take that back:\n  {} --goes-on",
                still_open.join("; "),
                frame.command("shelf", &self.job)
            )?;
        }
        Ok(exit)
    }

    /// What is not done or not paid, and what runs, as the piece goes home.
    fn still_open(&self, job: &Job, frame: &mut Frame) -> Result<Vec<String>, Stopped> {
        let mut open = Vec::new();
        let (stands, _) = standing(&self.job, frame.ready()?, frame.moment())?;
        if let Ok(stands) = stands {
            let now = frame.moment();
            let waits = stands.waits.iter();
            open.extend(waits.map(|wait| format!("it waits {}", wait.in_words(now))));
            if stands.left > 0 {
                let jobs = some_of(
                    u32::try_from(stands.left).unwrap_or(u32::MAX),
                    "job",
                    "jobs",
                );
                open.push(format!("{jobs} of the plan not done"));
            }
            open.extend(stands.stops.iter().map(|stop| format!("STOP ({stop})")));
        }
        if let Some(running) = job.running() {
            open.push(format!("a clock runs on \"{}\"", running.job));
        }
        if let Ok(Some(account)) = Account::of(job)
            && account.is_open()
        {
            open.push(account.in_words("the owner's"));
        }
        Ok(open)
    }

    /// What is to be noted, if anything.
    fn said(&self, today: Date) -> Result<Option<Stands>, Stopped> {
        Ok(match &self.waits {
            Some(what) => Some(Stands::WaitsFor {
                what: words(what)?,
                until: self
                    .until
                    .as_deref()
                    .map(|typed| day_from(typed, today))
                    .transpose()?,
            }),
            None if self.ready => Some(Stands::Ready),
            None if self.handed_back => Some(Stands::HandedBack),
            None if self.goes_on => Some(Stands::GoesOn),
            None => None,
        })
    }

    fn show(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        // What is amiss is told as of any page.
        open_job(&self.job, frame)?;
        let (stands, _) = standing(&self.job, frame.ready()?, frame.moment())?;
        let stands = stands
            .map_err(|why| Stopped::Misuse(format!("Where it stands cannot be said: {why}")))?;
        if frame.global.json {
            frame.print_json(
                Shape::SHELF,
                json!({
                    "stage": stands.stage.words(),
                    "waits_for": stands.waits.first().map(|wait| &wait.what),
                    "waits_until": stands
                        .waits
                        .first()
                        .and_then(|wait| wait.until)
                        .map(|until| until.to_string()),
                    "waits": waits_json(&stands.waits),
                    "done": stands.done,
                    "left": stands.left,
                    "minutes_left": stands.minutes,
                    "to_ask": stands.to_ask,
                }),
            )?;
            return Ok(Exit::Fine);
        }
        writeln!(frame.out, "{}", capital(&in_words(&stands, frame.moment())))?;
        Ok(Exit::Fine)
    }
}

fn words(typed: &str) -> Result<String, Stopped> {
    let words = typed.split_whitespace().collect::<Vec<_>>().join(" ");
    match words.is_empty() || words.contains(';') {
        true => Err(Stopped::Misuse(
            "Say what it waits for in a few words, without a semicolon. Nothing was noted."
                .to_owned(),
        )),
        false => Ok(words),
    }
}

fn day_from(typed: &str, today: Date) -> Result<Date, Stopped> {
    day::read(typed, Some(today)).ok_or_else(|| {
        Stopped::Misuse(format!(
            "I cannot read \"{typed}\" as a day: \"5 December\", 2026-12-05 or \"2 weeks\" would \
             do. Nothing was noted."
        ))
    })
}
