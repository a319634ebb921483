//! The signs that `that means` sentences read, and the parts that they speak of.

use std::collections::BTreeMap;

use tellmark_core::inspection::Inspection;

use crate::placed::stands;
use crate::places::Places;
use crate::rules::Rules;
use tellmark_language::model::{
    Condition, HowMany, Means, Model, Predicate, Reach, Rule, StateId, Test,
};

/// One sign at one place, with all sentences that read it.
#[derive(Clone, Debug)]
pub struct Reading {
    /// Where.
    pub place: usize,
    /// The sign.
    pub sign: StateId,
    /// The sentences.
    pub means: Vec<usize>,
}

/// All signs to be fitted.
#[must_use]
pub fn readings(rules: Rules<'_>) -> Vec<Reading> {
    let Rules {
        model,
        states,
        places,
    } = rules;
    let mut found: BTreeMap<(usize, u16), (StateId, Vec<usize>)> = BTreeMap::new();
    for (i, means) in model.means.iter().enumerate() {
        for place in places.of_subject(means.subject) {
            let reachable = match &means.whose {
                Reach::Own => true,
                Reach::Up(kind) => places.owner_of_kind(place, *kind).is_some(),
                Reach::Down { path, .. } => places.down(place, path).is_some(),
                Reach::Others { of, .. } => places.beside(place, *of).is_some(),
            };
            if reachable {
                let by_row = (place, states.number(means.sign));
                let (_, all) = found.entry(by_row).or_insert((means.sign, Vec::new()));
                all.push(i);
            }
        }
    }
    found
        .into_iter()
        .map(|((place, _), (sign, means))| Reading { place, sign, means })
        .collect()
}

/// Whether a rule already says how often this fault shows this sign.
pub(super) fn is_said(model: &Model, means: &Means) -> bool {
    model.rules.iter().any(|rule| {
        rule.state == means.sign
            && matches!(&rule.when, Condition::Test(test) if says(test, rule, means))
    })
}

fn says(test: &Test, rule: &Rule, means: &Means) -> bool {
    let positive =
        matches!(&test.what, Predicate::State { state, yes: true, .. } if *state == means.fault);
    let is_one = |many: &HowMany| matches!(many, HowMany::The | HowMany::Any);
    let same_part = match (&test.whose, &rule.result, &means.whose) {
        (Reach::Own, Reach::Own, Reach::Own) => true,
        (Reach::Up(a), Reach::Own, Reach::Up(b)) => a == b,
        (
            Reach::Down {
                path: a,
                many,
                only: some_a,
            },
            Reach::Own,
            Reach::Down {
                path: b,
                only: some_b,
                ..
            },
        ) => a == b && some_a == some_b && is_one(many),
        (Reach::Own, Reach::Down { only: None, .. }, Reach::Up(kind)) => rule.subject == *kind,
        (
            Reach::Own,
            Reach::Up(kind),
            Reach::Down {
                path, only: None, ..
            },
        ) => path.last() == Some(&rule.subject) && means.subject == *kind,
        _ => false,
    };
    positive && same_part
}

/// The parts on which a sentence's fault can be, seen from a part.
pub(super) fn fault_parts(
    inspection: &Inspection<'_, '_, f64>,
    (model, places): (&Model, &Places),
    part: usize,
    means: &Means,
) -> Vec<usize> {
    let piece = inspection.piece();
    let Some(record) = piece.part(part) else {
        return Vec::new();
    };
    let place = usize::from(record.place);
    match &means.whose {
        Reach::Own => vec![part],
        Reach::Up(kind) => {
            let Some(owner) = places.owner_of_kind(place, *kind) else {
                return Vec::new();
            };
            piece
                .owners(part)
                .filter(|&o| piece.part(o).is_some_and(|o| usize::from(o.place) == owner))
                .collect()
        }
        Reach::Down { path, only, .. } => {
            let mut parts = vec![part];
            for place in places.down(place, path).unwrap_or_default() {
                parts = parts
                    .into_iter()
                    .flat_map(|p| piece.children_at(p, place))
                    .collect();
            }
            parts.retain(|&part| {
                only.as_ref()
                    .is_none_or(|only| stands(model, piece, part, only))
            });
            parts
        }
        // The language does not let a sign mean something of the others.
        Reach::Others { .. } => Vec::new(),
    }
}

/// The first part that stands at a place.
pub(super) fn part_at(inspection: &Inspection<'_, '_, f64>, place: usize) -> Option<usize> {
    let mut parts = inspection.piece().parts().iter();
    parts.position(|part| usize::from(part.place) == place)
}
