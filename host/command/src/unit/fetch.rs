//! `tellmark unit fetch`

use super::super::exit::{Exit, Stopped};
use super::super::frame::Frame;
use super::super::open_job::built_rules;
use super::super::shape::Shape;
use super::super::typed::{as_argument, as_path};
use super::rules::of_pack;
use super::{Progress, Which};
use clap::Args;
use serde_json::json;
use std::path::PathBuf;
use tellmark_compile::check::Checked;
use tellmark_device::unit::{
    FetchError, Fetched, LEDGER_FILE, Rules, Target, fetch, keep, put_into_words,
};
use tellmark_language::words::{self, some_of};

/// Fetch what was noted at the bench into a job's record
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark unit fetch walnut-chest\n\nThe job is made if it is not \
                  there. Each note comes once, also if fetching is cut short and done again. The \
                  unit has no clock: the findings are dated when they are fetched."
)]
pub struct Fetch {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// The notes begin the job's piece again: it was looked over once more
    #[arg(long)]
    again: bool,
    /// Only keep the notes in the job's folder as they were sent, for rules that
    /// are gone
    #[arg(long, conflicts_with = "again")]
    only_keep: bool,
    /// Put into words what was only kept, now that the rules are there; needs no unit
    #[arg(long, conflicts_with_all = ["again", "only_keep"])]
    kept: bool,
    #[command(flatten)]
    which: Which,
}

impl Fetch {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        if self.only_keep {
            return self.keep(frame);
        }
        let first = self.said_by(&frame.ready()?, frame)?;
        let fetched = match first {
            Err(FetchError::OtherRules { notes, .. }) => match of_pack(notes, frame)? {
                Some(rules) => self.said_by(&rules, frame)?,
                None => first,
            },
            first => first,
        };
        let fetched = fetched?;
        frame.tell(Exit::Fine, |frame| self.tell(frame, &fetched))
    }

    /// The notes of the unit, or those that were kept, in the words of these rules.
    fn said_by(
        &self,
        checked: &Checked,
        frame: &mut Frame,
    ) -> Result<Result<Fetched, FetchError>, Stopped> {
        let rules = Rules {
            model: &checked.reading.model,
            built: built_rules(checked, frame)?,
        };
        let target = Target {
            folder: &self.job,
            now: frame.now,
            again: self.again,
        };
        if self.kept {
            return Ok(put_into_words(rules, target));
        }
        let mut line = self.which.line()?;
        let progress = Progress::new();
        let fetched = fetch(&mut line, rules, target, |done, all| {
            progress.show(frame.err, &format!("{done} of {all} notes"));
        });
        progress.end(frame.err);
        Ok(fetched)
    }

    fn tell(&self, frame: &mut Frame, fetched: &Fetched) -> Result<(), Stopped> {
        if frame.global.json {
            frame.print_json(
                Shape::UNIT_FETCH,
                json!({
                    "job": self.job.display().to_string(),
                    "piece": fetched.piece,
                    "created": fetched.created,
                    "notes": fetched.notes,
                    "lines": fetched.lines,
                    "damaged": fetched.damaged,
                    "not_in_these_words": fetched.unsaid,
                    "being_begun": fetched.being_begun,
                    "more": fetched.more,
                }),
            )?;
        } else {
            self.print(frame, fetched)?;
        }
        Ok(())
    }

    fn keep(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut line = self.which.line()?;
        let kept = keep(&mut line, &self.job)?;
        let file = self.job.join(LEDGER_FILE);
        let file = file.display().to_string();
        frame.tell(Exit::Fine, |frame| {
            if frame.global.json {
                return frame.print_json(Shape::UNIT_KEPT, json!({ "kept": kept, "file": file }));
            }
            let notes = some_of(u32::try_from(kept).unwrap_or(u32::MAX), "note", "notes");
            writeln!(
                frame.out,
                "Kept {notes} in {file}; the record is as it was. With the rules that they were \
                 made by, they can be put into words: tellmark unit fetch {} --kept --rules DIR",
                as_path(&self.job)
            )?;
            Ok(())
        })
    }

    fn print(&self, frame: &mut Frame, fetched: &Fetched) -> Result<(), Stopped> {
        let job = self.job.display();
        if fetched.created {
            let piece = words::a(&fetched.piece);
            writeln!(frame.out, "Opened {job}: {piece}.")?;
        }
        for line in &fetched.lines {
            writeln!(frame.out, "  {line}")?;
        }
        let number = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        let notes = some_of(number(fetched.notes), "note", "notes");
        match fetched.notes {
            0 => writeln!(frame.out, "There is nothing new.")?,
            _ => writeln!(frame.out, "Fetched {notes}.")?,
        }
        if fetched.damaged > 0 {
            let notes = some_of(number(fetched.damaged), "note was", "notes were");
            writeln!(frame.err, "{notes} damaged on the unit and cannot be read.")?;
        }
        if fetched.unsaid > 0 {
            let notes = some_of(number(fetched.unsaid), "note is", "notes are");
            writeln!(
                frame.err,
                "{notes} not in the words of these rules, and kept in {LEDGER_FILE} as sent."
            )?;
        }
        if fetched.being_begun {
            writeln!(
                frame.out,
                "A piece is being begun at the bench. Fetch again when it is set up."
            )?;
        }
        if fetched.more && self.kept {
            writeln!(
                frame.err,
                "Some of what is kept is about another piece, and stays in {LEDGER_FILE}."
            )?;
        } else if fetched.more {
            let rules = frame.rules_argument();
            writeln!(
                frame.out,
                "The unit has notes about another piece: tellmark unit fetch ANOTHER-JOB{rules}"
            )?;
        } else if fetched.notes > 0 {
            let (job, rules) = (as_argument(&job.to_string()), frame.rules_argument());
            writeln!(frame.out, "What is likely: tellmark triage {job}{rules}")?;
        }
        Ok(())
    }
}
