//! Work of one's own in the plan, and what the plan leaves out.

use super::super::brief::known_part;
use super::super::exit::{Exit, Stopped};
use super::super::frame::Frame;
use super::super::open_job::{cannot_set_up, open_job, progress};
use super::super::typed::as_argument;
use super::{FAINT, Plan, Printed, STRONG};
use tellmark_job::record::Says;
use tellmark_language::AnswerReader;
use tellmark_language::words::{list, minutes, some_of};

impl Plan {
    /// Writes down work of one's own, or that it is not to be done.
    pub(super) fn write_own(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut job = open_job(&self.job, frame)?;
        let says = {
            let view = job.view()?;
            let progress = progress(&view, frame)?;
            match (&self.own, &self.not_own) {
                (Some(own), _) => {
                    let takes = self.takes.as_deref().unwrap_or_default().trim().to_owned();
                    if AnswerReader::new(view.model()).time(&takes).is_none() {
                        return Err(Stopped::Misuse(format!(
                            "I cannot read \"{takes}\" as a time: \"25 min\", \"1 h 30\" or \"half \
                             an hour\" would do. Nothing was noted."
                        )));
                    }
                    let job = one_line(own)?;
                    let mut jobs = view.model().jobs.iter();
                    if let Some(known) = jobs.find(|known| known.name == job.to_lowercase()) {
                        return Err(Stopped::Misuse(format!(
                            "\"{}\" is a job of these rules. It is planned where something calls \
                             for it, and can be ticked where it was done all the same: done --part. \
                             Nothing was noted.",
                            known.name
                        )));
                    }
                    let parts = self.part.iter().map(|part| known_part(&view, part));
                    let mut parts = parts.collect::<Result<Vec<_>, _>>()?;
                    if parts.is_empty() {
                        parts.push(view.open.piece_name());
                    }
                    let indices = view.parts_called(&parts).map_err(cannot_set_up)?;
                    let left = indices.iter().flat_map(|&part| progress.leave(part)).next();
                    if let Some(left) = left {
                        return Err(Stopped::No(format!(
                            "The owner wants {} left alone (line {}). Nothing was noted. If it may \
                             be touched after all: {} --not-leave {}",
                            list(&left.what.parts.names),
                            left.line,
                            frame.command("brief", &self.job),
                            as_argument(left.what.parts.names.first().map_or("", String::as_str))
                        )));
                    }
                    Says::OwnWork { job, parts, takes }
                }
                (None, own) => {
                    let asked = one_line(own.as_deref().unwrap_or_default())?;
                    let same = |job: &str| job.to_lowercase() == asked.to_lowercase();
                    let mut known = progress.own.iter().map(|told| told.what.job.as_str());
                    let Some(found) = known.find(|job| same(job)) else {
                        let known: Vec<String> = progress
                            .own
                            .iter()
                            .map(|told| format!("\"{}\"", told.what.job))
                            .collect();
                        let there = match known.is_empty() {
                            true => "There is none.".to_owned(),
                            false => format!("There is {}.", known.join(", ")),
                        };
                        return Err(Stopped::Misuse(format!(
                            "No work of your own is called \"{asked}\". {there} Nothing was noted."
                        )));
                    };
                    Says::NotOwnWork(found.to_owned())
                }
            }
        };
        let added = job.job.append_entry(&says, frame.now)?;
        frame.tell_line(added.number, &says)
    }
}

impl Printed<'_> {
    /// Work of one's own, numbered on from the steps.
    pub(super) fn print_own(&self, frame: &mut Frame) -> Result<(), Stopped> {
        for (at, own) in self.plan.own.iter().enumerate() {
            if at == 0 {
                writeln!(
                    frame.out,
                    "\n{STRONG}Work of your own, where in the order you judge right{STRONG:#}"
                )?;
            }
            let each = if own.parts.len() > 1 { " each" } else { "" };
            writeln!(
                frame.out,
                "{:>3}. {}{} {FAINT}({}{each}){FAINT:#}",
                self.plan.steps.len() + at + 1,
                own.job,
                self.on(&own.parts),
                minutes(own.takes)
            )?;
        }
        Ok(())
    }

    /// How many jobs are only perhaps called for and not listed.
    pub(super) fn print_left_out(&self, frame: &mut Frame) -> Result<(), Stopped> {
        if self.not_certain == 0 {
            return Ok(());
        }
        let jobs = some_of(
            u32::try_from(self.not_certain).unwrap_or(u32::MAX),
            "job",
            "jobs",
        );
        let is = if self.not_certain == 1 { "is" } else { "are" };
        writeln!(
            frame.out,
            "\n{jobs} more {is} only perhaps called for, by what nobody has looked at yet or what is \
             not likely {FAINT}(--all lists them){FAINT:#}."
        )?;
        Ok(())
    }
}

/// The longest name of work of one's own, in signs: it stands in one line of a paper.
const LONGEST: usize = 100;

/// What work of one's own is called: it stands in a line of the record before a semicolon, in one
/// line of a paper, and is no number of a step.
fn one_line(words: &str) -> Result<String, Stopped> {
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = words.trim_end_matches('.').to_owned();
    let is_number = words.chars().all(|c| c.is_ascii_digit());
    match is_number || words.contains(';') || words.chars().count() > LONGEST {
        true => Err(Stopped::Misuse(format!(
            "Say what is to be done in a few words: at most {LONGEST} signs, no semicolon, not a \
             number alone. Nothing was noted."
        ))),
        false => Ok(words),
    }
}
