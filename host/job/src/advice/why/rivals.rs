//! Faults that explain the same findings.

use tellmark_core::number::UFloat;
use tellmark_core::pack::Nature;
use tellmark_core::piece::Eye;

use tellmark_compile::set_up::{Case, SetUp, part_ref};
use tellmark_language::model::StateId;
use tellmark_language::words;

/// A fault that explains the same findings.
#[derive(Clone, Debug, PartialEq)]
pub struct Rival {
    /// The part.
    pub part: String,
    /// The fault.
    pub state: StateId,
    /// Its chance now.
    pub now: f64,
    /// Its chance if the fault asked about is there.
    pub then: f64,
}

/// How many rivals are named.
const RIVALS: usize = 3;
/// A rival falls by at least this.
const LEAST_FALL: f64 = 0.03;

/// The faults whose chance falls most when this one is held to be there.
pub(super) fn rivals(
    set_up: &SetUp<'_>,
    case: &mut Case<'_, UFloat>,
    part: usize,
    state: StateId,
) -> Vec<Rival> {
    let row = &set_up.built.states.states[set_up.built.states.declared(state)];
    let (ask, certainly) = row.said(true, Eye::Certain);
    let now = hidden(set_up, case);
    let before = case.inspection.answer(part, ask, certainly);
    let then = if case.inspection.settle().is_ok() {
        hidden(set_up, case)
    } else {
        now.clone()
    };
    let _ = case
        .inspection
        .answer(part, ask, before.unwrap_or_default());
    let mut found: Vec<(f64, Rival)> = now
        .into_iter()
        .zip(then)
        .filter(|((now, ..), (then, ..))| now - then >= LEAST_FALL)
        .map(|((now, at, state), (then, ..))| {
            let parts = case.inspection.piece().parts();
            let reference = part_ref(&set_up.built.places, parts, at);
            let rival = Rival {
                part: words::part_name(set_up.model, &reference),
                state,
                now,
                then,
            };
            (now - then, rival)
        })
        .collect();
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found
        .into_iter()
        .take(RIVALS)
        .map(|(_, rival)| rival)
        .collect()
}

/// The chance of every hidden fault, with its part.
fn hidden(set_up: &SetUp<'_>, case: &mut Case<'_, UFloat>) -> Vec<(f64, usize, StateId)> {
    let rows = &set_up.built.states.states;
    let pack = *case.inspection.pack();
    let mut found = Vec::new();
    for part in 0..case.inspection.piece().parts().len() {
        let Some(record) = case.inspection.piece().part(part) else {
            break;
        };
        for number in pack.states_of(usize::from(record.place)) {
            let row = &rows[usize::from(number)];
            if let (Nature::Hidden, Some(state)) = (row.nature, row.declared) {
                let chance = case.inspection.chance(part, number).unwrap_or_default();
                found.push((chance.as_f64(), part, state));
            }
        }
    }
    found
}
