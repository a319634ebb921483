//! The checks that would move a chance most.

use tellmark_core::looking::{self, Candidate, Looking, Move};
use tellmark_core::number::{Number, UFloat};

use tellmark_compile::Asked;
use tellmark_compile::set_up::{Case, SetUp, part_ref};
use tellmark_language::model::SignId;
use tellmark_language::words;

/// A check that has not been made, and what it could do.
#[derive(Clone, Debug, PartialEq)]
pub struct Look {
    /// The part.
    pub part: String,
    /// The sign.
    pub sign: SignId,
    /// "feel whether screw 1 of hinge 1 of fall 1 is loose".
    pub check: String,
    /// Minutes, if known.
    pub minutes: u16,
    /// The lowest and the highest that an answer would bring the chance to.
    pub from_to: (f64, f64),
    /// How far it is expected to move the chance.
    pub expected: f64,
}

/// How many checks are named.
pub(super) const LOOKS: usize = 4;
/// A check that moves the chance by less than this is not worth naming.
pub(super) const LEAST_MOVE: f64 = 0.005;

/// The checks that are expected to move the chance of a state (by its number) of a part
/// most, the furthest first.
pub(super) fn looks(
    set_up: &SetUp<'_>,
    case: &mut Case<'_, UFloat>,
    part: usize,
    number: u16,
) -> Vec<Look> {
    let inspection = &mut case.inspection;
    let pack = *inspection.pack();
    let place = inspection.piece().part(part).map(|p| usize::from(p.place));
    let Some(slot) = place.and_then(|place| pack.state_slot(place, number)) else {
        return Vec::new();
    };
    let need = looking::Need::of(&pack, inspection.piece());
    let mut candidates = vec![Candidate::default(); need.candidates];
    let mut numbers = vec![UFloat::ZERO; need.numbers];
    let mut found: Vec<(Candidate, Move)> = Vec::new();
    let mut looking = Looking::new(&mut candidates, &mut numbers);
    let told = looking.moves(inspection, (part, slot), |check, moves| {
        found.push((*check, moves));
    });
    if told.is_err() {
        return Vec::new();
    }
    found.retain(|(_, m)| m.highest.as_f64() - m.lowest.as_f64() >= LEAST_MOVE);
    found.sort_by_key(|(check, m)| (std::cmp::Reverse(m.expected), check.part, check.ask));
    let named = found.iter().filter_map(|(check, moves)| {
        let ask = usize::from(check.ask);
        let Asked::Sign(sign) = set_up.built.states.asks.get(ask)?.what else {
            return None;
        };
        let parts = case.inspection.piece().parts();
        let reference = part_ref(&set_up.built.places, parts, usize::from(check.part));
        let name = words::part_name(set_up.model, &reference);
        Some(Look {
            check: words::sign_check(set_up.model, sign, &name),
            part: name,
            sign,
            minutes: pack.ask(ask).minutes,
            from_to: (moves.lowest.as_f64(), moves.highest.as_f64()),
            expected: moves.expected.as_f64(),
        })
    });
    named.take(LOOKS).collect()
}
