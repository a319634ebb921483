//! What was found, part by part.

use super::letter::{Album, At};
use super::mark::{Part, in_order};
use super::matter::Matter;
use super::photographs::Photographs;
use super::sense::{is_open, sense_said};
use super::when::noted;
use serde::Serialize;
use std::collections::BTreeSet;
use tellmark_job::advice::may_treat;
use tellmark_job::moments::Now;
use tellmark_job::record::Finding;
use tellmark_job::worries::{Worries, sense};
use tellmark_language::model::{Asks, Fact, Found as What, Model, Sense, StateId, Sure, Tense};
use tellmark_language::words::{self, capital, list_some, quantity};

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
    /// How it is now: "mended 22 Sep 2026", "not looked at since", "as found"; empty
    /// before any work.
    pub since: String,
}

impl Found {
    /// "is worn 3 mm".
    fn in_short(&self) -> String {
        match self.extent.as_str() {
            "" => self.what.clone(),
            extent => format!("{} {extent}", self.what),
        }
    }
}

/// What was found on a part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PartFound {
    /// Its number in the record, by which the letter refers to it: "A3"; empty where it has
    /// none.
    pub number: String,
    /// The part; `None` for several at once.
    #[serde(skip)]
    pub(super) index: Option<usize>,
    /// The part, with a capital.
    pub part: String,
    /// Photographs of it that the letter does not show.
    pub pictures: Vec<At>,
    /// Oldest first.
    pub found: Vec<Found>,
    /// Checks that are left on it.
    pub left: usize,
}

pub(super) fn condition(matter: &Matter<'_>, parts: &[Part]) -> Vec<PartFound> {
    let model = matter.model();
    let since = Since::of_job(matter, parts);
    let worries = Worries::of(model);
    let mut told = BTreeSet::new();
    let mut condition: Vec<PartFound> = Vec::new();
    for at in in_order(parts) {
        let Some(part) = parts.get(at) else {
            continue;
        };
        for &fact in &part.facts {
            let Some(finding) = matter.found.findings.get(fact) else {
                continue;
            };
            let asked = sense(model, &finding.fact) == Some(Sense::Ask)
                && !worries.is_one(model, &finding.fact);
            if asked || !told.insert(fact) {
                continue;
            }
            // What was said of every drawer stands once, in those words.
            let all = (0..parts.len()).filter(|&at| parts[at].facts.contains(&fact));
            let all: Vec<usize> = all.collect();
            let several = all.len() > 1;
            let name = if several {
                words::part_name(model, &finding.fact.part)
            } else {
                part.name.clone()
            };
            let name = capital(&name);
            let found = Found {
                line: finding.number,
                day: noted(finding.when),
                since: since.of_each(finding, &all),
                ..found(model, &finding.fact)
            };
            match condition.iter_mut().find(|p| p.part == name) {
                Some(known) => known.found.push(found),
                None => condition.push(PartFound {
                    number: format!("A{}", condition.len() + 1),
                    index: (!several).then_some(at),
                    part: name,
                    pictures: Vec::new(),
                    found: vec![found],
                    left: if several { 0 } else { part.unseen.left() },
                }),
            }
        }
    }
    condition
}

/// Puts the photographs of each part beside what was found on it, but for those that the
/// letter shows.
pub(super) fn with_photographs(
    condition: &mut [PartFound],
    matter: &Matter<'_>,
    photographs: &mut Photographs,
) {
    let album = Album::of(matter, photographs);
    for part in condition {
        let Some(index) = part.index else {
            continue;
        };
        for at in album.all_of(index) {
            let Some(shot) = photographs.shot_mut(at.of, at.shot) else {
                continue;
            };
            if !shot.in_letter && !shot.beside_finding {
                shot.beside_finding = true;
                part.pictures.push(at);
            }
        }
    }
}

/// Of what was noted before the work on it.
const NOT_LOOKED_AT: &str = "not looked at since";
/// Of what nothing was done to.
const AS_FOUND: &str = "as found";

/// Whether something was done that may have put right what was found.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Worked {
    /// Nothing.
    Not,
    /// Work of one's own on the part, of which nobody said what it was about.
    Perhaps,
    /// A job that is planned from that.
    Treated,
}

/// What became of what was found.
pub(super) struct Since<'m> {
    matter: &'m Matter<'m>,
    parts: &'m [Part],
    /// Lines that were noted before something was mended that bears on them.
    overtaken: BTreeSet<usize>,
}

impl<'m> Since<'m> {
    pub(super) fn of_job(matter: &'m Matter<'m>, parts: &'m [Part]) -> Self {
        let again = matter
            .view
            .later()
            .map_or_else(Vec::new, |now| now.look_again());
        Self {
            matter,
            parts,
            overtaken: again.into_iter().map(|finding| finding.number).collect(),
        }
    }

    /// How what was found on some parts is now: in one word, or part by part where they are no
    /// longer alike.
    fn of_each(&self, finding: &Finding, parts: &[usize]) -> String {
        let mut alike: Vec<(String, Vec<String>)> = Vec::new();
        for &part in parts {
            let said = self.of(finding, part);
            let name = self.parts[part].name.clone();
            match alike.iter_mut().find(|(known, _)| *known == said) {
                Some((_, names)) => names.push(name),
                None => alike.push((said, vec![name])),
            }
        }
        match alike.as_slice() {
            [(said, _)] => said.clone(),
            _ => {
                let each = alike.iter().filter(|(said, _)| !said.is_empty());
                let each = each.map(|(said, names)| format!("{}: {said}", list_some(names, 3)));
                each.collect::<Vec<_>>().join("; ")
            }
        }
    }

    /// How what was found on a part is now.
    fn of(&self, finding: &Finding, part: usize) -> String {
        if self.matter.progress.done().next().is_none() || is_open(&finding.fact) {
            return String::new();
        }
        if let Some(said) = self.noted_since(finding, part) {
            return said;
        }
        let of_now = self
            .matter
            .view
            .later()
            .map(|now| self.mended(now, finding, part));
        match of_now {
            Some(said) if !said.is_empty() => said,
            _ if self.worked_on(finding, part) == Worked::Not => AS_FOUND.to_owned(),
            _ => NOT_LOOKED_AT.to_owned(),
        }
    }

    /// Whether work of one's own was done on a part since, and nobody said what it was about nor
    /// looked again.
    pub(super) fn is_unsaid(&self, finding: &Finding, part: usize) -> bool {
        self.of(finding, part) == NOT_LOOKED_AT
            && !self.overtaken.contains(&finding.number)
            && self.worked_on(finding, part) == Worked::Perhaps
    }

    /// Whether nothing was done or noted since that bears on a finding.
    pub(super) fn is_as_found(&self, finding: &Finding, part: usize) -> bool {
        let since = self.of(finding, part);
        since.is_empty() || since == AS_FOUND
    }

    /// What somebody noted of the same since, if anybody did.
    fn noted_since(&self, finding: &Finding, part: usize) -> Option<String> {
        let now = self.matter.view.later()?;
        let model = self.matter.model();
        let since = now.noted_since(model, finding)?;
        if now.is_tick(since.number) {
            return None;
        }
        let day = match noted(since.when) {
            day if day.is_empty() => String::new(),
            day => format!(", {day}"),
        };
        let said = match since.fact.found == finding.fact.found {
            true if now.mended_on(finding, part).is_some() => "mended, and there again".to_owned(),
            true => "noted again since".to_owned(),
            false => format!("since then: {}", found(model, &since.fact).in_short()),
        };
        Some(format!("{said}{day}"))
    }

    /// What was done since it was looked at that may have put it right.
    fn worked_on(&self, finding: &Finding, part: usize) -> Worked {
        let model = self.matter.model();
        let is_made = matches!(finding.fact.found, What::Choice { .. } | What::Count { .. });
        let is_told = sense(model, &finding.fact) == Some(Sense::Ask);
        if is_made || is_told {
            return Worked::Not;
        }
        let owner = |part: &usize| self.parts.get(*part).and_then(|part| part.owner);
        let is_on = |on: &[usize]| {
            let mut within = std::iter::successors(Some(part), owner);
            on.contains(&part) || within.any(|at| at != 0 && on.contains(&at))
        };
        let since = self.matter.progress.done();
        let since = since.filter(|told| told.line > finding.number);
        let mut worked = Worked::Not;
        for told in since.filter(|told| is_on(&told.what.parts.indices)) {
            match told.what.index {
                Some(job) if may_treat(model, job, &finding.fact.found) => return Worked::Treated,
                // Work of one's own says by what it mends what it was about, if it says anything.
                None if told.what.mends.is_empty() => worked = Worked::Perhaps,
                Some(_) | None => {}
            }
        }
        worked
    }

    /// Whether it was mended, or noted before something was that bears on it; empty if not.
    fn mended(&self, now: &Now, finding: &Finding, part: usize) -> String {
        let fact = &finding.fact;
        let is_not = matches!(fact.found, What::State { yes: false, .. });
        if is_not || words::nothing(self.matter.model(), &fact.found).is_some() {
            return String::new();
        }
        if let Some(tick) = now.mended_on(finding, part) {
            let mark = self
                .matter
                .progress
                .marks
                .iter()
                .find(|told| told.line == tick);
            let day = mark.map_or_else(String::new, |told| noted(told.when));
            return match now.is_again(finding, part) {
                true => "mended, and there again".to_owned(),
                false if is_in_doubt(now, tick, part, &fact.found) => {
                    "mended, and now in doubt".to_owned()
                }
                false if day.is_empty() => "mended".to_owned(),
                false => format!("mended {day}"),
            };
        }
        match self.overtaken.contains(&finding.number) {
            true => NOT_LOOKED_AT.to_owned(),
            false => String::new(),
        }
    }
}

/// Whether something that was noted since puts what was mended there in doubt.
fn is_in_doubt(now: &Now, tick: usize, part: usize, found: &What) -> bool {
    let mut mended = now.later.mended.iter();
    let is_it = |of: StateId| match *found {
        What::State { state, .. } => state == of,
        _ => true,
    };
    mended.any(|one| {
        (one.line, one.part) == (tick, part)
            && is_it(one.state)
            && one.was_there
            && one.is_in_doubt()
    })
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
                number: String::new(),
                index: None,
                part,
                pictures: Vec::new(),
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
