//! What was found of a sign that no rule reads: it has no chance, and moves none.

use tellmark_core::number::UFloat;
use tellmark_core::pack::Pack;
use tellmark_core::piece::SetUpError;
use tellmark_core::truth::Truth;

use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Origin, SetUp, part_ref};
use tellmark_language::model::StateId;
use tellmark_language::words;

/// A sign of a part that no rule reads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    /// The part.
    pub part: String,
    /// What was found.
    pub so: Truth,
    /// What says so, oldest first.
    pub from: Vec<Origin>,
}

/// What was found of a state of a part, if no rule reads it; `None` if one does, so that it
/// has a chance ([`super::why`]).
///
/// # Errors
/// If the piece cannot be set up.
pub fn unread(
    set_up: &SetUp<'_>,
    pack: Pack<'_>,
    part: usize,
    state: StateId,
) -> Result<Option<Unread>, SetUpError> {
    let states = &set_up.built.states;
    let row = &states.states[states.declared(state)];
    if row.in_use {
        return Ok(None);
    }
    let mut room = Room::<UFloat>::default();
    let case = set_up.case(pack, &mut room)?;
    let piece = case.inspection.piece();
    let record = pack.state(states.number(state).into());
    let is_about_it = |ask: u16| ask == row.ask || row.whether == Some(ask);
    let behind = case.evidence.iter().filter(|evidence| {
        let given = evidence.given;
        given.part == part && is_about_it(given.ask)
    });
    let mut from: Vec<Origin> = behind.map(|evidence| evidence.from).collect();
    from.sort_unstable();
    from.dedup();
    let reference = part_ref(&set_up.built.places, piece.parts(), part);
    Ok(Some(Unread {
        part: words::part_name(set_up.model, &reference),
        so: piece.truth(&pack, part, &record),
        from,
    }))
}
