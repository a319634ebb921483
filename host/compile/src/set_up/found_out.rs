//! What need not be done since it would find out what is known: old paint is not tested twice.

use std::collections::BTreeSet;

use tellmark_core::number::UFloat;
use tellmark_core::truth::Truth;
use tellmark_language::model::PIECE;

use super::{Case, SetUp};

/// The jobs that would find out what is known already, each with the part.
#[must_use]
pub fn found_out(set_up: &SetUp<'_>, case: &Case<'_, UFloat>) -> BTreeSet<(usize, usize)> {
    let (pack, piece) = (case.inspection.pack(), case.inspection.piece());
    let jobs = set_up.model.jobs.iter().enumerate();
    let asks = jobs.flat_map(|(job, record)| record.until.iter().map(move |&state| (job, state)));
    let known = asks.flat_map(|(job, state)| {
        let kind = set_up.model.states[state.index()].kind;
        let state = pack.state(usize::from(set_up.built.states.number(state)));
        let of_kind =
            move |&part: &usize| piece.parts()[part].kind == kind.0 || (kind == PIECE && part == 0);
        let parts = (0..piece.parts().len()).filter(of_kind);
        let known = parts.filter(move |&part| piece.truth(pack, part, &state) != Truth::NotKnown);
        known.map(move |part| (job, part))
    });
    known.collect()
}
