//! The list for a busy restorer: a line a fault, what matters most first.

use super::super::exit::Stopped;
use super::super::frame::Frame;
use super::super::moments;
use super::{FAINT, Page, STRONG};
use tellmark_job::advice::{Alike, Reason, Suspect};
use tellmark_language::words::{self, capital, figure, minutes, sureness_word};

/// Columns that a line keeps to, by naming fewer of its reasons.
const WIDTH: usize = 100;
/// Reasons named for one fault.
const REASONS: usize = 3;
/// The gravest risk: somebody may be hurt. It is said from this chance in 100 on.
const GRAVEST: u8 = 5;
const STILL_SAID: u8 = 5;
/// From this risk on it is said what finding a doubtful fault late costs.
const GRAVE: u8 = 3;

impl Page<'_> {
    /// Prints every fault from `least` upwards, as likely ones together.
    pub(super) fn print_brief(&self, frame: &mut Frame) -> Result<(), Stopped> {
        let faults = self.list.by_what_matters(self.least);
        let (moved, unmoved): (Vec<_>, Vec<_>) =
            faults.into_iter().partition(|one| is_moved(one.first()));
        for word in HEADINGS {
            let mut under = moved
                .iter()
                .filter(|one| heading(one.first()) == word)
                .peekable();
            if under.peek().is_some() {
                writeln!(frame.out, "\n{STRONG}{}{STRONG:#}", capital(word))?;
            }
            for alike in under {
                self.print_line(frame, alike)?;
            }
        }
        writeln!(frame.out)?;
        self.print_unmoved(frame, &unmoved)?;
        self.print_grave(frame)?;
        self.print_below(frame)
    }

    fn print_line(&self, frame: &mut Frame, alike: &Alike<'_>) -> Result<(), Stopped> {
        let suspect = alike.first();
        let model = self.job.model();
        let state = &model.states[suspect.state.index()];
        let chance = if suspect.opened {
            String::new()
        } else {
            in_hundred(suspect.chance)
        };
        let parts = self.list.all_or_each(model, suspect.state, &alike.parts);
        let line = format!("{chance:>9}  {}: {parts}", state.phrase);
        let late = late(suspect);
        let room = WIDTH.saturating_sub(line.chars().count() + late.chars().count());
        let why = self.reasons(alike, room);
        writeln!(frame.out, "{line}{FAINT}{why}{late}{FAINT:#}")?;
        if let Some(doubted) = moments::doubted(self.job, suspect.part, suspect.state) {
            writeln!(frame.out, "           {doubted}")?;
        }
        Ok(())
    }

    /// " (out of square 6 mm, swaying)": the findings that speak for it most, as many as
    /// there is room for.
    fn reasons(&self, alike: &Alike<'_>, room: usize) -> String {
        let speaks_for = |reason: &&Reason| reason.decibans > 0.0;
        let mut said = String::new();
        for reason in alike.reasons().filter(speaks_for).take(REASONS) {
            let written = self.job.written(reason.from);
            let mut one = written.text.as_str();
            // What was found on the part itself needs no name.
            if let [part] = alike.parts.as_slice()
                && let Some(rest) = one.strip_prefix(part).and_then(|r| r.strip_prefix(' '))
            {
                one = rest.strip_prefix("is ").unwrap_or(rest);
            }
            let joined = if said.is_empty() {
                one.to_owned()
            } else {
                format!("{said}, {one}")
            };
            if joined.chars().count() + 3 > room {
                break;
            }
            said = joined;
        }
        if said.is_empty() {
            said
        } else {
            format!(" ({said})")
        }
    }

    /// What is listed though nothing that was found moves it, in one line.
    fn print_unmoved(&self, frame: &mut Frame, unmoved: &[Alike<'_>]) -> Result<(), Stopped> {
        if unmoved.is_empty() {
            return Ok(());
        }
        let said = self.with_chances(unmoved);
        writeln!(
            frame.out,
            "Possible, though nothing found speaks of it: {}.",
            said.join("; ")
        )?;
        Ok(())
    }

    /// What is not likely enough to be listed, and could hurt somebody or the piece.
    fn print_grave(&self, frame: &mut Frame) -> Result<(), Stopped> {
        let is_grave = |alike: &Alike<'_>| {
            let suspect = alike.first();
            let risk = suspect.missed.map_or(0, |missed| missed.risk);
            risk == GRAVEST && !words::reaches(suspect.chance, self.least)
        };
        let all = self.list.by_what_matters(self.least.min(STILL_SAID));
        let grave: Vec<Alike<'_>> = all.into_iter().filter(is_grave).collect();
        if grave.is_empty() {
            return Ok(());
        }
        let said = self.with_chances(&grave);
        writeln!(frame.out, "Not likely, but grave: {}.", said.join("; "))?;
        Ok(())
    }

    /// "fixed hard: the top (15)", of each.
    fn with_chances(&self, faults: &[Alike<'_>]) -> Vec<String> {
        let model = self.job.model();
        let said = faults.iter().map(|alike| {
            let suspect = alike.first();
            let state = &model.states[suspect.state.index()];
            let parts = self.list.all_or_each(model, suspect.state, &alike.parts);
            format!("{}: {parts} ({})", state.phrase, in_hundred(suspect.chance))
        });
        said.collect()
    }

    /// What is not listed, summed.
    fn print_below(&self, frame: &mut Frame) -> Result<(), Stopped> {
        let (count, expected) = self.list.below(self.least);
        if count > 0 {
            writeln!(
                frame.out,
                "{FAINT}{count} other faults are below {} in 100 each; {expected:.1} of them are \
                 to be expected (--all lists them).{FAINT:#}",
                self.least
            )?;
        }
        Ok(())
    }
}

const FOUND: &str = "found so";
/// The headings, in the order of the page.
const HEADINGS: [&str; 6] = [
    FOUND,
    "almost certainly",
    "probably",
    "possibly",
    "probably not",
    "almost certainly not",
];

fn heading(suspect: &Suspect) -> &'static str {
    if suspect.opened && suspect.chance > 0.5 {
        FOUND
    } else {
        sureness_word(suspect.chance)
    }
}

/// Whether something that was found makes a difference that can be seen in the figures.
fn is_moved(suspect: &Suspect) -> bool {
    suspect.opened || (suspect.chance - suspect.before).abs() >= 0.01
}

/// "82": a chance out of a hundred.
fn in_hundred(chance: f64) -> String {
    let said = figure(chance);
    said.strip_suffix(" in 100").unwrap_or(&said).to_owned()
}

/// "; late: 4 h, risk 4", of a grave fault that is in doubt.
fn late(suspect: &Suspect) -> String {
    let in_doubt = !suspect.opened && !words::reaches(suspect.chance, 95);
    match suspect.missed {
        Some(missed) if in_doubt && missed.risk >= GRAVE => {
            let time = minutes(missed.minutes);
            format!("; late: {time}, risk {}", missed.risk)
        }
        _ => String::new(),
    }
}
