//! What was found, part by part.

use super::mark::{Part, in_order};
use super::matter::Matter;
use super::sense::{is_open, sense, sense_said};
use super::when::noted;
use serde::Serialize;
use std::collections::BTreeSet;
use tellmark_job::record::Finding;
use tellmark_language::model::{Asks, Fact, Found as What, Model, Sense, Sure, Tense};
use tellmark_language::words::{self, capital, quantity};

/// One finding on a part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Found {
    /// "is scraping below".
    pub what: String,
    /// How far, as measured: "3 mm (about 1/8 in)"; empty if it was not measured.
    pub extent: String,
    /// "seen", "measured" …
    pub how: String,
    /// "certain", "looks like it" …; empty for an ordinary finding.
    pub sure: String,
    /// The day.
    pub day: String,
    /// The line of the record.
    pub line: usize,
    /// What became of it: "mended 22 Sep 2026", "not looked at since …"; empty if it is as
    /// it was found, as far as is known.
    pub since: String,
}

/// What was found on a part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PartFound {
    /// The part, with a capital.
    pub part: String,
    /// Oldest first.
    pub found: Vec<Found>,
    /// Checks that are left on it.
    pub left: usize,
}

pub(super) fn condition(matter: &Matter<'_>, parts: &[Part]) -> Vec<PartFound> {
    let model = matter.model();
    let since = Since::of_job(matter);
    let mut told = BTreeSet::new();
    let mut condition: Vec<PartFound> = Vec::new();
    for part in in_order(parts).into_iter().filter_map(|at| parts.get(at)) {
        for &fact in &part.facts {
            let Some(finding) = matter.found.findings.get(fact) else {
                continue;
            };
            let asked = sense(model, &finding.fact) == Some(Sense::Ask);
            if asked || !told.insert(fact) {
                continue;
            }
            // What was said of every drawer stands once, in those words.
            let several = parts.iter().filter(|p| p.facts.contains(&fact)).count() > 1;
            let name = if several {
                words::part_name(model, &finding.fact.part)
            } else {
                part.name.clone()
            };
            let name = capital(&name);
            let found = Found {
                line: finding.number,
                day: noted(finding.when),
                since: since.of(finding),
                ..found(model, &finding.fact)
            };
            match condition.iter_mut().find(|p| p.part == name) {
                Some(known) => known.found.push(found),
                None => condition.push(PartFound {
                    part: name,
                    found: vec![found],
                    left: if several { 0 } else { part.unseen.left() },
                }),
            }
        }
    }
    condition
}

/// What became of what was found.
struct Since<'m> {
    matter: &'m Matter<'m>,
    /// Lines that were noted before something was mended that bears on them.
    overtaken: BTreeSet<usize>,
}

impl<'m> Since<'m> {
    fn of_job(matter: &'m Matter<'m>) -> Self {
        let again = matter
            .view
            .later()
            .map_or_else(Vec::new, |now| now.look_again());
        Self {
            matter,
            overtaken: again.into_iter().map(|finding| finding.number).collect(),
        }
    }

    fn of(&self, finding: &Finding) -> String {
        let Some(now) = self.matter.view.later() else {
            return String::new();
        };
        let fact = &finding.fact;
        let is_not = matches!(fact.found, What::State { yes: false, .. });
        if is_not || words::nothing(self.matter.model(), &fact.found).is_some() {
            return String::new();
        }
        if let Some(tick) = now.mended_by(finding.number) {
            let mark = self
                .matter
                .progress
                .marks
                .iter()
                .find(|told| told.line == tick);
            let day = mark.map_or_else(String::new, |told| noted(told.when));
            return match now.is_again(finding.number) {
                true => "mended, and there again".to_owned(),
                false if day.is_empty() => "mended".to_owned(),
                false => format!("mended {day}"),
            };
        }
        match self.overtaken.contains(&finding.number) {
            true => "before the work; not looked at since".to_owned(),
            false => String::new(),
        }
    }
}

/// What was noted after something was mended that bears on it, part by part.
pub(super) fn since_then(matter: &Matter<'_>) -> Vec<PartFound> {
    let Some(now) = matter.view.later() else {
        return Vec::new();
    };
    let model = matter.model();
    let is_new = |number: usize| {
        let mut of_found = matter.found.findings.iter();
        !of_found.any(|f| f.number == number) && !now.is_tick(number)
    };
    let mut condition: Vec<PartFound> = Vec::new();
    let holding = now.findings.iter().take(now.holding);
    for finding in holding.filter(|f| is_new(f.number) && !is_open(&f.fact)) {
        let part = capital(&words::part_name(model, &finding.fact.part));
        let found = Found {
            line: finding.number,
            day: noted(finding.when),
            ..found(model, &finding.fact)
        };
        match condition.iter_mut().find(|p| p.part == part) {
            Some(known) => known.found.push(found),
            None => condition.push(PartFound {
                part,
                found: vec![found],
                left: 0,
            }),
        }
    }
    condition
}

fn found(model: &Model, fact: &Fact) -> Found {
    let asks =
        |sign: tellmark_language::model::SignId| model.signs.get(sign.index()).map(|s| &s.asks);
    let (what, extent) = match &fact.found {
        found if words::nothing(model, found).is_some() => {
            let phrase = words::nothing(model, found).unwrap_or_default();
            (format!("is not {phrase}"), String::new())
        }
        What::State { state, yes, .. } => (
            words::state_words(model, *state, *yes, false),
            String::new(),
        ),
        What::Measure { sign, ticks } => match asks(*sign) {
            Some(asks @ Asks::HowMuch { unit, .. }) if asks.tense() != Tense::Is => {
                let amount = quantity(*ticks, *unit);
                (words::measured_words(asks, &amount, false), String::new())
            }
            Some(Asks::HowMuch {
                word, phrase, unit, ..
            }) => (
                format!("is {phrase}"),
                format!("{}{}", quantity(*ticks, *unit), words::trailing(word)),
            ),
            _ => Default::default(),
        },
        What::Choice { sign, value } => match asks(*sign) {
            Some(Asks::Which { attribute, values }) => {
                let value = values.get(usize::from(*value)).map_or("?", String::as_str);
                (format!("{attribute}: {value}"), String::new())
            }
            _ => Default::default(),
        },
        What::Degree {
            sign, degree, than, ..
        } => match asks(*sign) {
            Some(asks) => (
                format!("is {}", words::degree_words(asks, *than, *degree)),
                String::new(),
            ),
            None => Default::default(),
        },
        What::Count { part, number } => {
            let kind = model.kinds.get(part.index());
            let some = kind.map(|k| words::some_of((*number).into(), &k.name, &k.plural));
            (format!("has {}", some.unwrap_or_default()), String::new())
        }
        What::PartCannotBeSeen => ("cannot be seen".to_owned(), String::new()),
        What::PartCanBeSeen => ("can be seen".to_owned(), String::new()),
        What::SignCannotBeSeen(_) | What::NotLooked(_) | What::NotOpened(_) => {
            (words::fact_sentence(model, fact), String::new())
        }
    };
    let sure = match fact.found {
        What::State { sure, .. } | What::Degree { sure, .. } => match sure {
            Sure::Looks => "looks like it",
            Sure::Certain => "certain",
            Sure::Ordinary if sense(model, fact).is_none() => "certain",
            Sure::Ordinary => "",
        },
        _ => "",
    };
    Found {
        what,
        extent,
        how: if is_open(fact) {
            String::new()
        } else {
            sense_said(sense(model, fact)).to_owned()
        },
        sure: sure.to_owned(),
        day: String::new(),
        line: 0,
        since: String::new(),
    }
}
