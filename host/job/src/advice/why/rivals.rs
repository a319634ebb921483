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
    let parts = case.inspection.piece().parts();
    let both = now.into_iter().zip(then);
    let rivals = both.map(|((now, at, state), (then, ..))| Rival {
        part: words::part_name(set_up.model, &part_ref(&set_up.built.places, parts, at)),
        state,
        now,
        then,
    });
    named(rivals.collect())
}

/// Those that fall furthest, and far enough.
pub(super) fn named(mut rivals: Vec<Rival>) -> Vec<Rival> {
    let fall = |rival: &Rival| rival.now - rival.then;
    rivals.retain(|rival| fall(rival) >= LEAST_FALL);
    rivals.sort_by(|a, b| fall(b).total_cmp(&fall(a)));
    rivals.truncate(RIVALS);
    rivals
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
