//! How the piece was looked over, and what was not seen.

use super::mark::{Mark, Part};
use super::matter::Matter;
use super::sense::{is_open, sense_said};
use super::when::{date, span};
use serde::Serialize;
use std::collections::BTreeMap;
use tellmark_job::advice::Triage;
use tellmark_job::worries::sense;
use tellmark_language::model::{Found, Sense};
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
    /// The same for an owner: "The lock of drawer 1 could not be seen."
    pub plain: String,
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

/// `found` has what was looked at as the piece was found, `triage` what is likely now.
pub(super) fn looked(
    matter: &Matter<'_>,
    found: &Triage,
    triage: &Triage,
    parts: &[Part],
) -> Looked {
    let model = matter.model();
    let findings = matter.found.findings.iter();
    let looked = findings.filter(|finding| !is_open(&finding.fact));
    let ways: BTreeMap<usize, Option<Sense>> = looked
        .map(|finding| sense(model, &finding.fact))
        .map(|way| (rank(way), way))
        .collect();
    let ways = ways.into_values().map(|way| {
        let found = matter
            .found
            .findings
            .iter()
            .filter(|f| !is_open(&f.fact) && sense(model, &f.fact) == way);
        Way {
            how: words::capital(sense_said(way)),
            findings: found.clone().count(),
            days: span(found.filter_map(|f| date(f.when))),
        }
    });
    let marked = |mark| parts.iter().filter(|part| part.mark == mark).count();
    Looked {
        ways: ways.collect(),
        checks: found.unseen.asked,
        made: found.unseen.answered,
        cannot: found.unseen.out_of_sight,
        left: found.unseen.left(),
        parts: parts.len(),
        parts_found: marked(Mark::Found),
        parts_in_order: marked(Mark::InOrder),
        parts_not_looked: marked(Mark::NotLooked),
        parts_hidden: marked(Mark::OutOfSight),
        hidden: hidden(matter, triage, parts),
    }
}

/// In which order the ways are told: the eye first, the owner and opening up last.
fn rank(way: Option<Sense>) -> usize {
    match way {
        Some(Sense::See) => 0,
        Some(Sense::Feel) => 1,
        Some(Sense::Hear) => 2,
        Some(Sense::Smell) => 3,
        Some(Sense::Measure) => 4,
        Some(Sense::Count) => 5,
        Some(Sense::Ask) => 6,
        None => 7,
    }
}

/// Chances below this are not worth a word.
const WORTH_A_WORD: f64 = 0.05;

fn hidden(matter: &Matter<'_>, triage: &Triage, parts: &[Part]) -> Vec<Hidden> {
    let model = matter.model();
    let mut hidden = Vec::new();
    for (fact, finding) in matter.found.findings.iter().enumerate() {
        let name = words::part_name(model, &finding.fact.part);
        let (what, plain) = match finding.fact.found {
            Found::PartCannotBeSeen => {
                let part = words::capital(&words::the_part(&name));
                (name, format!("{part} could not be seen."))
            }
            Found::SignCannotBeSeen(sign) => {
                let check = sign_check(model, sign, &name);
                let plain = format!("We could not {check}.");
                (check, plain)
            }
            _ => continue,
        };
        // What cannot be seen of a part covers what is built into it, but for the piece.
        let is_whole = finding.fact.found == Found::PartCannotBeSeen;
        let says_so = |part: usize| parts.get(part).is_some_and(|p| p.facts.contains(&fact));
        let owner = |part: usize| parts.get(part).and_then(|p| p.owner);
        let meant = |part: usize| {
            let mut owners = std::iter::successors(owner(part), |&at| owner(at));
            says_so(part) || (is_whole && owners.any(|at| at != 0 && says_so(at)))
        };
        let is_open = |part: &usize| parts.get(*part).is_some_and(|p| p.unseen.out_of_sight > 0);
        if is_whole
            && !(0..parts.len())
                .filter(|&part| meant(part))
                .any(|part| is_open(&part))
        {
            continue;
        }
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
            plain,
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
