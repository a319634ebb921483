//! The whole list, part by part: every reason of every fault, with the chance without it.

use super::super::exit::Stopped;
use super::super::frame::Frame;
use super::super::moments;
use super::{FAINT, Page, STRONG};
use tellmark_job::advice::{Group, Reason, Suspect, Unseen};
use tellmark_language::model::Missed;
use tellmark_language::words::{self, capital, figure, minutes, some_of};

/// Reasons shown for one fault.
const REASONS: usize = 3;

impl Page<'_> {
    /// Prints every fault from `least` upwards with what it rests on.
    pub(super) fn print_full(&self, frame: &mut Frame) -> Result<(), Stopped> {
        for group in &self.list.groups {
            self.print_group(frame, group)?;
        }
        self.print_rest(frame)
    }

    /// Faults that something found speaks for or against, part by part.
    fn print_group(&self, frame: &mut Frame, group: &Group) -> Result<(), Stopped> {
        let listed: Vec<&Suspect> = group
            .suspects
            .iter()
            .filter(|s| words::reaches(s.chance, self.least) && s.stands_out())
            .collect();
        if listed.is_empty() {
            return Ok(());
        }
        writeln!(
            frame.out,
            "\n{STRONG}{}{STRONG:#}{FAINT}{}{FAINT:#}",
            capital(&group.name),
            left(group.unseen)
        )?;
        for suspect in &listed {
            self.print_suspect(frame, suspect)?;
        }
        Ok(())
    }

    /// Faults that nothing speaks strongly of, each once with all its parts.
    fn print_rest(&self, frame: &mut Frame) -> Result<(), Stopped> {
        let rest = self.list.with_less_to_go_on(self.least);
        if rest.is_empty() {
            return Ok(());
        }
        writeln!(
            frame.out,
            "\n{STRONG}Possible, with less to go on{STRONG:#}"
        )?;
        for alike in rest {
            let suspect = alike.first();
            let state = &self.job.model().states[suspect.state.index()];
            let moved = (suspect.chance - suspect.before).abs() >= 0.01;
            let before = if moved {
                format!(", {} before anything was found", figure(suspect.before))
            } else {
                String::new()
            };
            writeln!(
                frame.out,
                "  {}: {} {FAINT}({}{before}{}){FAINT:#}",
                state.phrase,
                self.list
                    .all_or_each(self.job.model(), suspect.state, &alike.parts),
                figure(suspect.chance),
                suspect.missed.map_or_else(String::new, cost)
            )?;
            self.print_reasons(frame, alike.reasons())?;
        }
        Ok(())
    }

    fn print_suspect(&self, frame: &mut Frame, suspect: &Suspect) -> Result<(), Stopped> {
        let model = self.job.model();
        if suspect.opened {
            let yes = suspect.chance > 0.5;
            let words = words::state_words(model, suspect.state, yes, false);
            writeln!(frame.out, "  {STRONG}{words}{STRONG:#} (found so)")?;
            return Ok(());
        }
        let phrase = words::likely_phrase(model, "", suspect.state, suspect.chance);
        writeln!(
            frame.out,
            "  {STRONG}{}{STRONG:#}{FAINT}, {} before anything was found{}{FAINT:#}",
            phrase.trim(),
            figure(suspect.before),
            suspect.missed.map_or_else(String::new, cost)
        )?;
        if let Some(doubted) = moments::doubted(self.job, suspect.part, suspect.state) {
            writeln!(frame.out, "    {doubted}")?;
        }
        self.print_reasons(frame, suspect.reasons.iter())
    }

    fn print_reasons<'r>(
        &self,
        frame: &mut Frame,
        reasons: impl Iterator<Item = &'r Reason>,
    ) -> Result<(), Stopped> {
        for reason in reasons.take(REASONS) {
            let written = self.job.written(reason.from);
            let side = if reason.decibans > 0.0 {
                "for"
            } else {
                "against"
            };
            writeln!(
                frame.out,
                "    {side:7} {} {FAINT}({}; without it {}){FAINT:#}",
                written.text,
                written.place(),
                figure(reason.without)
            )?;
        }
        Ok(())
    }
}

/// "; found late it costs 3 h, risk 2 of 5".
fn cost(missed: Missed) -> String {
    format!(
        "; found late it costs {}, risk {} of 5",
        minutes(missed.minutes),
        missed.risk
    )
}

fn left(unseen: Unseen) -> String {
    match unseen.left() {
        0 => String::new(),
        left => format!(
            ", {} left here",
            some_of(u32::try_from(left).unwrap_or(u32::MAX), "check", "checks")
        ),
    }
}
