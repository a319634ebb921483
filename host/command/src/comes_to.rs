//! What sentences come to when their condition is answered, for `tellmark read --figures`.

use std::collections::HashMap;

use serde_json::{Value, json};
use tellmark_compile::{Obtained, Sentence};
use tellmark_language::span::Span;
use tellmark_language::words::{ReadBack, figure};

use super::exit::Stopped;
use super::frame::Frame;

/// What sentences come to, by where they are written. Of a sentence that speaks of several
/// places it is the one at which an ordinary yes comes to least.
#[derive(Default)]
pub struct ComesTo(HashMap<Span, Obtained>);

impl ComesTo {
    /// Works it out for these entries, as far as they are sentences with a strength; says on
    /// the error stream if there is no pack to work it out with.
    pub fn of(frame: &mut Frame, entries: &[ReadBack]) -> Result<Self, Stopped> {
        let checked = frame.ready()?;
        let Some(built) = &checked.built else {
            writeln!(
                frame.err,
                "There are no figures while the rules have errors."
            )?;
            return Ok(Self::default());
        };
        let model = &checked.reading.model;
        let shown: std::collections::HashSet<Span> = entries.iter().filter_map(|e| e.at).collect();
        let mut all = HashMap::new();
        for one in built.obtained(model, |_, at| shown.contains(&at)) {
            let at = match one.sentence {
                Sentence::Rule(rule) => model.rules[rule].at,
                Sentence::Means(means) => model.means[means].at,
            };
            let known = all.entry(at).or_insert(one);
            if one.yes.unwrap_or(1.0) < known.yes.unwrap_or(1.0) {
                *known = one;
            }
        }
        Ok(Self(all))
    }

    fn find(&self, entry: &ReadBack) -> Option<&Obtained> {
        self.0.get(&entry.at?)
    }

    /// For other programs; null for what is no sentence with a strength.
    pub fn record(&self, entry: &ReadBack) -> Value {
        self.find(entry).map_or(Value::Null, |one| {
            json!({
                "nothing_known": one.before,
                "yes": one.yes,
                "no": one.no,
                "certainly_yes": one.certainly,
                "reading_at_the_mark": one.at_mark,
                "reading_well_over": one.well_over,
            })
        })
    }

    /// In words; none for what is no sentence with a strength.
    pub fn lines(&self, entry: &ReadBack) -> Vec<String> {
        let Some(one) = self.find(entry) else {
            return Vec::new();
        };
        let said = |parts: &[(&str, Option<f64>)]| {
            let known = parts.iter();
            let known = known.filter_map(|(name, chance)| Some((name, (*chance)?)));
            let all: Vec<String> = known
                .map(|(name, chance)| format!("{name} {}", figure(chance)))
                .collect();
            all.join("; ")
        };
        let answered = said(&[
            ("with a yes", one.yes),
            ("certainly yes", one.certainly),
            ("with a no", one.no),
            ("nothing known", Some(one.before)),
        ]);
        let read = said(&[
            ("read just at the mark", one.at_mark),
            ("well over it", one.well_over),
        ]);
        let lines = [answered, read].into_iter();
        lines.filter(|line| !line.is_empty()).collect()
    }
}
