//! What is not as it should be, in plain words, part by part: before the work what was found,
//! and later what is known and not mended.

use super::super::kind::Kind;
use super::super::mark::Part;
use super::Gathering;
use super::album::At;
use serde::Serialize;
use std::collections::BTreeSet;
use tellmark_job::record::Stage;
use tellmark_language::model::{Fact, Found, StateId, Sure};
use tellmark_language::words::{Plainly, capital, fact_line, list, plain_fault, the_part};

/// What is not as it should be on a part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FoundPlain {
    /// "Drawer 2".
    pub part: String,
    /// "Drawer 2 is sitting low and scraping below."
    pub says: Vec<String>,
    /// A photograph of it, if the letter shows none of it elsewhere.
    pub picture: Option<At>,
}

/// More parts than these are left to the record.
const MOST: usize = 12;

/// What is not as it should be, and how many more parts there are with such things.
pub(super) fn found(g: &Gathering<'_>, repairs: usize) -> (Vec<FoundPlain>, usize) {
    let mut found: Vec<FoundPlain> = Vec::new();
    for at in super::super::mark::in_order(g.parts) {
        let Some(part) = g.parts.get(at) else {
            continue;
        };
        let mut says = faults(g, at);
        // What was seen before the work may be so no more, and nobody looked again.
        if g.kind == Kind::Estimate {
            says.extend(signs(g, at, part));
        }
        if !says.is_empty() {
            found.push(FoundPlain {
                part: capital(&the_part(g.name_of(at))),
                says,
                picture: match at {
                    0 => None,
                    at => g
                        .album
                        .of_parts(Stage::Before, &[at])
                        .filter(|_| repairs == 0),
                },
            });
        }
    }
    let more = found.len().saturating_sub(MOST);
    found.truncate(MOST);
    (found, more)
}

/// Faults of a part that opening it up has shown, and that are not mended.
fn faults(g: &Gathering<'_>, part: usize) -> Vec<String> {
    let suspects = g.triage.groups.iter().flat_map(|group| &group.suspects);
    let known = suspects.filter(|s| s.part == part && s.opened && s.chance > 0.5);
    let known = known.map(|suspect| {
        plain_fault(
            g.matter.model(),
            suspect.state,
            Plainly::Is,
            g.name_of(part),
            g.kind_of(part),
        )
    });
    known.collect()
}

/// What was found on a part, in a sentence for everything that it is and one for each thing
/// that the house says plainly.
fn signs(g: &Gathering<'_>, at: usize, part: &Part) -> Vec<String> {
    let name = g.name_of(at);
    let model = g.matter.model();
    let facts = part
        .wrong
        .iter()
        .filter_map(|&at| g.matter.found.findings.get(at));
    let mut plain = Vec::new();
    let mut seen: BTreeSet<String> = BTreeSet::new();
    let (mut is, mut other): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
    for finding in facts {
        let fact = &finding.fact;
        if let Some(state) = plainly(model, fact) {
            let kind = part.kind_id;
            plain.push(plain_fault(model, state, Plainly::Is, name, kind));
            continue;
        }
        // Of every drawer at once, it is said of this one.
        let own = Fact {
            part: part.reference.clone(),
            ..fact.clone()
        };
        let said = fact_line(model, &own);
        let Some(said) = said.strip_prefix(&part.name).map(str::trim) else {
            continue;
        };
        let said = match said.strip_prefix("looks ") {
            Some(said) => format!("seems to be {said}"),
            None => said.to_owned(),
        };
        if !seen.insert(said.clone()) {
            continue;
        }
        match said.strip_prefix("is ") {
            Some(said) => is.push(said.to_owned()),
            None => other.push(said),
        }
    }
    let mut says = Vec::new();
    if !is.is_empty() {
        says.push(format!("{} is {}.", capital(&the_part(name)), list(&is)));
    }
    for (at, said) in other.iter().enumerate() {
        let whose = match at == 0 && is.is_empty() {
            true => capital(&the_part(name)),
            false => "It".to_owned(),
        };
        says.push(format!("{whose} {said}."));
    }
    says.extend(plain);
    says
}

/// The state that a finding says is so, if the house says it plainly.
fn plainly(model: &tellmark_language::model::Model, fact: &Fact) -> Option<StateId> {
    match fact.found {
        Found::State {
            state,
            yes: true,
            sure: Sure::Ordinary | Sure::Certain,
            ..
        } => model.plain_fault(state).map(|_| state),
        _ => None,
    }
}
