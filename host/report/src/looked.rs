//! How the piece was looked over, and what was not seen.

use super::mark::{Mark, Part};
use super::matter::Matter;
use super::when::{date, span};
use serde::Serialize;
use tellmark_job::advice::Triage;
use tellmark_language::model::{Fact, Found, Model, Nature, Sense, SignId};
use tellmark_language::words::{self, figure, list, sentence, sign_check};

/// One way of finding out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Way {
    /// "Seen", "Told by the owner".
    pub how: String,
    /// How many findings stand that came this way.
    pub findings: usize,
    /// The days on which.
    pub days: String,
}

/// Something that could not be seen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Hidden {
    /// What: "the lock of drawer 1".
    pub what: String,
    /// What it could hide, in words with figures; empty if nothing that the rules know
    /// of.
    pub could_hide: Vec<String>,
}

/// How the piece was looked over.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Looked {
    /// By each sense.
    pub ways: Vec<Way>,
    /// Checks that the rules ask for, in all.
    pub checks: usize,
    /// Made.
    pub made: usize,
    /// Tried, and it cannot be told.
    pub cannot: usize,
    /// Not made.
    pub left: usize,
    /// How many parts the piece has.
    pub parts: usize,
    /// Parts on which something was found.
    pub parts_found: usize,
    /// Parts that were looked at, with nothing wrong found.
    pub parts_in_order: usize,
    /// Parts not looked at.
    pub parts_not_looked: usize,
    /// Parts that cannot be seen.
    pub parts_hidden: usize,
    /// What could not be seen, and why it matters.
    pub hidden: Vec<Hidden>,
}

/// How a fact was found out; `None` for a hidden fault that was opened up.
pub(super) fn sense(model: &Model, fact: &Fact) -> Option<Sense> {
    let of = |sign: SignId| model.signs.get(sign.index()).map(|s| s.sense);
    match fact.found {
        Found::State { state, .. } | Found::NotOpened(state) => {
            match model.states.get(state.index())?.nature {
                Nature::Seen(sign) => of(sign),
                Nature::Hidden { .. } => None,
                Nature::CountsAs { .. } => Some(Sense::See),
            }
        }
        Found::Measure { .. } => Some(Sense::Measure),
        Found::Choice { sign, .. } | Found::SignCannotBeSeen(sign) | Found::NotLooked(sign) => {
            of(sign)
        }
        Found::Count { .. } => Some(Sense::Count),
        Found::PartCannotBeSeen => Some(Sense::See),
    }
}

/// "seen", "told by the owner", "opened up".
pub(super) fn sense_said(sense: Option<Sense>) -> &'static str {
    match sense {
        Some(Sense::See) => "seen",
        Some(Sense::Feel) => "felt",
        Some(Sense::Hear) => "heard",
        Some(Sense::Smell) => "smelt",
        Some(Sense::Ask) => "told by the owner",
        Some(Sense::Measure) => "measured",
        Some(Sense::Count) => "counted",
        None => "opened up",
    }
}

/// Whether a fact says that something could not be, or was not, found out.
pub(super) fn is_open(fact: &Fact) -> bool {
    matches!(
        fact.found,
        Found::PartCannotBeSeen
            | Found::SignCannotBeSeen(_)
            | Found::NotLooked(_)
            | Found::NotOpened(_)
    )
}

pub(super) fn looked(matter: &Matter<'_>, triage: &Triage, parts: &[Part]) -> Looked {
    let model = matter.model();
    let ways = [
        Some(Sense::See),
        Some(Sense::Feel),
        Some(Sense::Hear),
        Some(Sense::Smell),
        Some(Sense::Measure),
        Some(Sense::Count),
        Some(Sense::Ask),
        None,
    ];
    let ways = ways.into_iter().filter_map(|way| {
        let found = matter
            .view
            .open
            .findings
            .iter()
            .filter(|f| !is_open(&f.fact) && sense(model, &f.fact) == way);
        let findings = found.clone().count();
        (findings > 0).then(|| Way {
            how: words::capital(sense_said(way)),
            findings,
            days: span(found.filter_map(|f| date(f.when))),
        })
    });
    let marked = |mark| parts.iter().filter(|part| part.mark == mark).count();
    Looked {
        ways: ways.collect(),
        checks: triage.unseen.asked,
        made: triage.unseen.answered,
        cannot: triage.unseen.out_of_sight,
        left: triage.unseen.left(),
        parts: parts.len(),
        parts_found: marked(Mark::Found),
        parts_in_order: marked(Mark::InOrder),
        parts_not_looked: marked(Mark::NotLooked),
        parts_hidden: marked(Mark::OutOfSight),
        hidden: hidden(matter, triage, parts),
    }
}

/// Chances below this are not worth a word.
const WORTH_A_WORD: f64 = 0.05;

fn hidden(matter: &Matter<'_>, triage: &Triage, parts: &[Part]) -> Vec<Hidden> {
    let model = matter.model();
    let mut hidden = Vec::new();
    for (fact, finding) in matter.view.open.findings.iter().enumerate() {
        let name = words::part_name(model, &finding.fact.part);
        let what = match finding.fact.found {
            Found::PartCannotBeSeen => name,
            Found::SignCannotBeSeen(sign) => sign_check(model, sign, &name),
            _ => continue,
        };
        let meant = |part: usize| parts.get(part).is_some_and(|p| p.facts.contains(&fact));
        let mut could_hide: Vec<String> = Vec::new();
        for group in triage.groups.iter().filter(|group| meant(group.part)) {
            for suspect in &group.suspects {
                if suspect.opened || suspect.chance < WORTH_A_WORD {
                    continue;
                }
                could_hide.push(format!(
                    "{} ({})",
                    words::state_phrase(model, &group.name, suspect.state, true),
                    figure(suspect.chance)
                ));
            }
        }
        hidden.push(Hidden {
            what: sentence(&what),
            could_hide,
        });
    }
    hidden
}

impl Looked {
    /// "Seen on 24 November 2026 (20 findings)" and the like, in one sentence.
    #[must_use]
    pub fn in_words(&self) -> String {
        let ways = self.ways.iter().map(|way| {
            let findings = u32::try_from(way.findings).unwrap_or(u32::MAX);
            let some = words::some_of(findings, "finding", "findings");
            format!("{} ({some})", way.how.to_lowercase())
        });
        list(&ways.collect::<Vec<_>>())
    }
}
