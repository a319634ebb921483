//! What of a plan hangs on something: jobs in the place of others, and jobs that are not
//! planned together where something is so.

use super::super::exit::Stopped;
use super::super::frame::Frame;
use super::{Printed, STRONG};
use serde_json::{Value, json};
use tellmark_job::advice::{Step, Turned};
use tellmark_language::span::Span;
use tellmark_language::{line_of, text_of, words};

impl Printed<'_> {
    /// "instead of “renew the webbing” (line 12 of house.rules.txt)".
    pub(super) fn turned(&self, step: &Step, turned: &Turned) -> String {
        let other = words::quoted(self.name(turned.other));
        let at = self.model.stand_ins[turned.stand_in].said_at;
        // Where it goes for some of the parts only, which.
        let is_of_all = turned.parts.len() == step.certain.len() + step.perhaps.len();
        let on = if is_of_all {
            String::new()
        } else {
            format!(", for {}", words::list(&turned.parts))
        };
        if turned.is_known {
            return format!("instead of {other}{on} ({})", self.line(at));
        }
        let or = if turned.stands_in {
            format!("or else {other}")
        } else {
            format!("or {other} instead")
        };
        format!("{or}{on}, which is not known yet: {}", self.quote(at))
    }

    pub(super) fn turned_json(&self, turned: &Turned) -> Value {
        let at = self.model.stand_ins[turned.stand_in].said_at;
        let (file, line) = line_of(&self.reading.files, at);
        json!({
            "other": self.name(turned.other),
            "stands_in": turned.stands_in,
            "known": turned.is_known,
            "parts": turned.parts,
            "sentence": text_of(&self.reading.files, at),
            "file": file,
            "line": line,
        })
    }

    /// The sentences with "instead of" that a job owes its place to, or may.
    pub(super) fn print_turns(&self, frame: &mut Frame, turns: &[Turned]) -> Result<(), Stopped> {
        for turned in turns {
            let other = words::quoted(self.name(turned.other));
            let at = self.model.stand_ins[turned.stand_in].said_at;
            let what = match (turned.stands_in, turned.is_known) {
                (true, true) => format!("stands in the place of {other}"),
                (true, false) => format!("stands in the place of {other}, if it is so"),
                (false, _) => format!("gives its place to {other}, if it is so"),
            };
            let on = self.on(&turned.parts);
            writeln!(frame.out, "  {what}{on}\n    {}", self.quote(at))?;
        }
        Ok(())
    }

    pub(super) fn print_at_odds(&self, frame: &mut Frame) -> Result<(), Stopped> {
        for odds in &self.plan.at_odds {
            let hangs = odds.hangs.as_ref();
            let of = hangs.map_or(String::new(), |hangs| self.on(&hangs.parts));
            let (head, said) = odds.in_words(self.model, &of);
            writeln!(frame.out, "\n{STRONG}{head}{STRONG:#} {said}")?;
            if let Some(hangs) = hangs {
                let at = self.model.exclusions[hangs.exclusion].said_at;
                writeln!(frame.out, "  {}", self.quote(at))?;
            }
        }
        Ok(())
    }

    /// The jobs that are never planned together, wherever they are.
    pub(super) fn not_both_json(&self) -> Vec<[&str; 2]> {
        let always = self.plan.at_odds.iter().filter(|odds| odds.hangs.is_none());
        let names = always.map(|odds| [self.name(odds.one), self.name(odds.other)]);
        names.collect()
    }

    /// Those that are not planned together where something is so.
    pub(super) fn not_both_where_json(&self) -> Vec<Value> {
        let odds = self.plan.at_odds.iter();
        let hanging = odds.filter_map(|odds| Some((odds, odds.hangs.as_ref()?)));
        let all = hanging.map(|(odds, hangs)| {
            let at = self.model.exclusions[hangs.exclusion].said_at;
            let (file, line) = line_of(&self.reading.files, at);
            json!({
                "jobs": [self.name(odds.one), self.name(odds.other)],
                "parts": hangs.parts,
                "known": hangs.is_known,
                "sentence": text_of(&self.reading.files, at),
                "file": file,
                "line": line,
            })
        });
        all.collect()
    }

    /// "“When a top is veneered, …” (line 12 of house.rules.txt)".
    fn quote(&self, at: Span) -> String {
        let words = text_of(&self.reading.files, at);
        format!(
            "{} ({})",
            words::quoted(words.trim_end_matches('.')),
            self.line(at)
        )
    }

    /// "line 12 of house.rules.txt".
    fn line(&self, at: Span) -> String {
        let (file, line) = line_of(&self.reading.files, at);
        format!("line {line} of {file}")
    }
}
