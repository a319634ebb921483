//! What became of a note, in words and for programs.

use super::super::exit::{Exit, Stopped};
use super::super::frame::Frame;
use super::super::shape::Shape;
use super::super::{moments, together};
use super::{arguments, key};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::ops::Range;
use std::path::Path;
use tellmark_job::noting::{Changed, Left, Noted, Refused};
use tellmark_job::open_job::OpenJob;
use tellmark_job::record::{Finding, Findings, Job, Says};
use tellmark_language::AnswerReader;
use tellmark_language::ink::Ink;
use tellmark_language::model::{Model, Sense, WorkStage};
use tellmark_language::words::{self, list};
use tellmark_notes::{Sayable, Why};

const FAINT: Ink = Ink::FAINT;
const STRONG: Ink = Ink::STRONG;
/// What is shown of what can be said, where nothing was understood.
const NEAREST: usize = 8;

/// What became of a note.
pub(super) struct Told {
    typed: String,
    understood: Vec<String>,
    puts_right: BTreeSet<usize>,
    says_again: BTreeSet<usize>,
    /// Of each remark that is left, what it could mean.
    choices: Vec<Vec<String>>,
    /// Parts that were said to be as they should be: the part, how many findings that is, and
    /// "is not stiff, not creaking".
    in_order: Vec<(String, usize, String)>,
    pub(super) noted: Noted,
}

/// What each part that is as it should be is, in short: "is not stiff, not creaking".
fn in_order(model: &Model, noted: &Noted) -> Vec<(String, usize, String)> {
    let each = noted.in_order.iter().map(|(part, facts)| {
        let name = words::part_name(model, part);
        let mut all: Vec<String> = facts
            .iter()
            .map(|fact| {
                let line = words::fact_line(model, fact);
                line.strip_prefix(&name).unwrap_or(&line).trim().to_owned()
            })
            .collect();
        for said in all.iter_mut().skip(1) {
            if let Some(short) = said.strip_prefix("is ") {
                *said = short.to_owned();
            }
        }
        (name, facts.len(), all.join(", "))
    });
    each.collect()
}

impl Told {
    /// Puts it into words.
    pub(super) fn of(model: &Model, job: &Job, typed: &str, noted: Noted) -> Told {
        let found = noted.found.as_ref();
        let understood = found.map_or_else(Vec::new, |(_, facts)| {
            facts
                .iter()
                .map(|fact| words::fact_sentence(model, fact))
                .collect()
        });
        let (says_again, puts_right) =
            found.map_or_else(Default::default, |(lines, _)| put_right(model, job, lines));
        let choices = noted.left.iter().map(|(_, left)| {
            let readings = left.readings.iter();
            readings.map(|one| key::said(model, one)).collect()
        });
        let choices = choices.collect();
        Told {
            typed: typed.to_owned(),
            understood,
            puts_right,
            says_again,
            choices,
            in_order: in_order(model, &noted),
            noted,
        }
    }

    /// What was noted before something was mended is put right by nothing since.
    pub(super) fn leave_what_was_mended(&mut self, open: &OpenJob) {
        let stays = |line: &usize| open.findings.iter().any(|f| f.number == *line);
        self.puts_right.retain(|line| !stays(line));
        self.says_again.retain(|line| !stays(line));
    }

    /// What was typed.
    pub(super) fn typed(&self) -> &str {
        &self.typed
    }

    /// 0 if all of it is a finding, 1 if something was kept as a remark.
    pub(super) fn exit(&self) -> Exit {
        match self.noted.left.is_empty() {
            true => Exit::Fine,
            false => Exit::No,
        }
    }

    pub(super) fn print(
        &self,
        frame: &mut Frame,
        folder: &Path,
        open: Option<&OpenJob>,
    ) -> Result<(), Stopped> {
        let lines = self
            .noted
            .found
            .as_ref()
            .map_or(0..0, |(lines, _)| lines.clone());
        let noted_lines = lines.clone();
        let view = open.and_then(|open| open.view().ok());
        let clash = view.as_ref().and_then(|view| view.clash().ok()).flatten();
        let odd = view.as_ref().and_then(|view| view.odd_beside(lines).ok());
        let odd = odd.unwrap_or_default();
        if frame.global.json {
            let clash = view.as_ref().zip(clash.as_ref());
            let odd = view
                .as_ref()
                .map(|view| json!(together::odd_json(view, &odd)));
            let mut value = self.as_json(odd);
            value["clash"] = json!(clash.map(|(view, clash)| together::clash_json(view, clash)));
            return frame.print_json(Shape::NOTE, value);
        }
        self.print_found(frame)?;
        if open.is_some_and(|open| self.puts_right_after_work(open)) {
            writeln!(
                frame.out,
                "It is taken for a slip: the piece as found no longer has it. If your work has changed \
                 it instead, note it again as it was found, and tick what was done with --mends."
            )?;
        }
        self.print_dropped(frame)?;
        self.print_left(frame, folder)?;
        let Some(view) = view else { return Ok(()) };
        moments::print_noted(frame, &view, &noted_lines)?;
        if let Some(clash) = &clash {
            together::print_clash(frame, &view, clash)?;
        }
        together::print_odd(frame, &view, &odd)
    }

    /// Whether it puts right what was noted before something was worked on: it may be no slip, but
    /// what the work has changed.
    fn puts_right_after_work(&self, open: &OpenJob) -> bool {
        let Some(&first) = self.puts_right.iter().min() else {
            return false;
        };
        let jobs = &open.rules.reading.model.jobs;
        let is_work = |name: &str| {
            let known = jobs.iter().find(|job| job.name == name);
            known.is_none_or(|job| job.stage > WorkStage::MakeSafe)
        };
        open.job.entries().iter().any(|entry| match &entry.says {
            Says::Done { job, .. } => entry.number > first && is_work(job),
            _ => false,
        })
    }

    fn print_found(&self, frame: &mut Frame) -> Result<(), Stopped> {
        let Some((lines, _)) = &self.noted.found else {
            return Ok(());
        };
        let first = lines.start;
        let line = match lines.len() {
            1 => format!("Line {first}"),
            _ => format!("Lines {first} to {}", lines.end - 1),
        };
        let said = words::sentence(&self.said());
        writeln!(frame.out, "{line}: {said}")?;
        if self.noted.is_typed_kept && self.noted.left.is_empty() {
            writeln!(frame.out, "  {FAINT}typed: {}{FAINT:#}", self.typed)?;
        }
        if !self.puts_right.is_empty() {
            let lines = lines_in_words(&self.puts_right);
            writeln!(frame.out, "This puts right {lines}.")?;
        }
        if !self.says_again.is_empty() {
            let lines = lines_in_words(&self.says_again);
            writeln!(frame.out, "It was noted before: {lines}.")?;
        }
        Ok(())
    }

    /// What was understood; what a part was said to be in, in all that it is, is put together.
    fn said(&self) -> String {
        if self.in_order.is_empty() {
            return list(&self.understood);
        }
        let rest = self.understood.len() - self.in_order.iter().map(|(_, n, _)| n).sum::<usize>();
        let mut said: Vec<String> = self.understood[..rest].to_vec();
        said.extend(
            self.in_order
                .iter()
                .map(|(part, _, all)| format!("{part} {all}")),
        );
        said.join("; ")
    }

    fn print_dropped(&self, frame: &mut Frame) -> Result<(), Stopped> {
        for (words, why) in &self.noted.dropped {
            let why = match why {
                Why::NoRule => continue,
                Why::HowMuch => "is not in the finding: no rule has more or less of it",
                Why::About => {
                    "is noted without its \"about\": how far a reading may be out stands in the rules"
                }
                Why::Range => "is noted as the middle of it",
            };
            writeln!(frame.out, "  \"{words}\" {why}.")?;
        }
        Ok(())
    }

    /// What is left as remarks, each with what it could mean.
    fn print_left(&self, frame: &mut Frame, folder: &Path) -> Result<(), Stopped> {
        match &self.noted.refused {
            Some(Refused::NoPart(none)) => writeln!(frame.out, "{none}")?,
            Some(Refused::AtOdds(one, other)) => writeln!(
                frame.out,
                "\"{one}\" and \"{other}\" say different things of the same, and only one of \
                 them can count."
            )?,
            None => {}
        }
        for Changed { line, said } in &self.noted.changed {
            let (job, rules) = arguments(frame, folder);
            writeln!(
                frame.out,
                "Line {line} says \"{said}\". If that was a slip, the reading below puts it right. \
                 If it has changed since, tick what was done about it, so that it stays as it was \
                 found: tellmark done {job} \"...\" --mends \"{said}\"{rules}"
            )?;
        }
        if self.noted.is_past {
            writeln!(
                frame.out,
                "\"Was\" may be over: a finding says how the piece is. If it is so still, take the \
                 reading below; else it stays a remark."
            )?;
        }
        for ((line, left), choices) in self.noted.left.iter().zip(&self.choices) {
            self.print_remark(frame, (*line, left), choices)?;
        }
        if let Some(said) = &self.noted.elsewhere {
            writeln!(frame.out, "{said}")?;
        }
        let asked = self.noted.left.iter().zip(&self.choices);
        let asked = asked.filter(|(_, choices)| !choices.is_empty());
        let lines: Vec<usize> = asked.map(|((line, _), _)| *line).collect();
        let (job, rules) = arguments(frame, folder);
        let take =
            |line: usize| format!("tellmark note {job} --settle --line {line} --as 1{rules}");
        match lines.as_slice() {
            [] => {}
            [line] => writeln!(frame.out, "To take one: {}", take(*line))?,
            several => {
                writeln!(frame.out, "To take one:")?;
                for line in several {
                    writeln!(frame.out, "  {}", take(*line))?;
                }
            }
        }
        Ok(())
    }

    fn print_remark(
        &self,
        frame: &mut Frame,
        (line, left): (usize, &Left),
        choices: &[String],
    ) -> Result<(), Stopped> {
        let part = &left.remark.part;
        let words = &left.remark.words;
        writeln!(frame.out, "Line {line}, a remark on {part}: {words}")?;
        if !left.unread.is_empty() && !self.understood.is_empty() {
            let unread = left.unread.iter().map(|words| format!("\"{words}\""));
            let unread: Vec<String> = unread.collect();
            writeln!(frame.out, "  No rule reads {}.", list(&unread))?;
        }
        if !choices.is_empty() {
            let ways = match choices.len() {
                1 => "It may mean this".to_owned(),
                ways => format!("It may mean one of {ways} things"),
            };
            writeln!(frame.out, "{ways}, and nothing is guessed:")?;
            for (number, choice) in (1..).zip(choices) {
                writeln!(frame.out, "  {STRONG}{number}{STRONG:#}  {choice}")?;
            }
        } else if !left.sayables.is_empty() && self.noted.refused.is_none() {
            let near = left.sayables.iter().filter(|one| one.near > 0.2);
            let near: Vec<&str> = near.take(NEAREST).map(|one| one.words.as_str()).collect();
            match near.is_empty() {
                true => writeln!(frame.out, "  No rule reads it.")?,
                false => writeln!(
                    frame.out,
                    "  No rule reads it. Nearest that can be said of {part}: {}.",
                    near.join("; ")
                )?,
            }
        } else if left.unread.is_empty() && self.noted.refused.is_none() {
            writeln!(frame.out, "  No rule reads it.")?;
        }
        Ok(())
    }

    pub(super) fn as_json(&self, odd: Option<Value>) -> Value {
        let noted = &self.noted;
        let dropped = noted.dropped.iter().map(|(words, why)| {
            let why = match why {
                Why::NoRule => "no rule reads it",
                Why::HowMuch => "more or less of it",
                Why::About => "about",
                Why::Range => "a range, noted as its middle",
            };
            json!({ "words": words, "why": why })
        });
        let remarks = noted.left.iter().zip(&self.choices);
        let remarks = remarks.map(|((line, left), choices)| {
            json!({
                "line": line,
                "part": left.remark.part,
                "words": left.remark.words,
                "choices": choices,
            })
        });
        json!({
            "typed": self.typed,
            "line": noted.found.as_ref().map(|(lines, _)| lines.start),
            "lines": noted.found.as_ref().map_or(0, |(lines, _)| lines.len()),
            "understood": self.understood,
            "puts_right": self.puts_right,
            "says_again": self.says_again,
            "remarks": remarks.collect::<Vec<_>>(),
            "dropped": dropped.collect::<Vec<_>>(),
            "no_such_part_here": noted.elsewhere,
            "clash": null,
            "sit_oddly": odd,
        })
    }
}

/// The earlier lines about the same parts and signs: those that say the same, and the others.
pub(super) fn put_right(
    model: &Model,
    job: &Job,
    by: &Range<usize>,
) -> (BTreeSet<usize>, BTreeSet<usize>) {
    let reader = AnswerReader::new(model);
    let reader = match reader.piece(&job.header().piece) {
        Ok(order) => reader.about(order.kind),
        Err(_) => reader,
    };
    let findings = Findings::read(model, job.lines(), |text| reader.facts(text));
    let put_right = findings.all.iter();
    let put_right = put_right.filter(|f| f.put_right_by.is_some_and(|line| by.contains(&line)));
    let (same, other): (Vec<_>, Vec<_>) = put_right.partition(|f| f.is_said_again);
    let lines = |all: Vec<&Finding>| all.iter().map(|f| f.number).collect();
    (lines(same), lines(other))
}

/// Everything that can be said of a part, sense by sense.
pub(in super::super) fn print_sayables(
    frame: &mut Frame,
    sayables: &[Sayable],
) -> Result<(), Stopped> {
    const SENSES: [(Option<Sense>, &str); 8] = [
        (Some(Sense::See), "By eye"),
        (Some(Sense::Feel), "By hand"),
        (Some(Sense::Hear), "By ear"),
        (Some(Sense::Smell), "By nose"),
        (Some(Sense::Ask), "By asking"),
        (Some(Sense::Measure), "By measuring"),
        (Some(Sense::Count), "By counting"),
        (None, "Once it is apart"),
    ];
    for (sense, heading) in SENSES {
        let of: Vec<&str> = sayables
            .iter()
            .filter(|one| one.sense == sense)
            .map(|one| one.words.as_str())
            .collect();
        if !of.is_empty() {
            writeln!(frame.out, "{STRONG}{heading}{STRONG:#}: {}", of.join("; "))?;
        }
    }
    Ok(())
}

/// "line 4", "lines 4 and 7".
pub(super) fn lines_in_words(lines: &BTreeSet<usize>) -> String {
    let line = if lines.len() == 1 { "line" } else { "lines" };
    let lines: Vec<String> = lines.iter().map(ToString::to_string).collect();
    format!("{line} {}", list(&lines))
}
