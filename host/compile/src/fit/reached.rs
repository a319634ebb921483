//! What `that means` sentences come to in the finished pack.

use tellmark_core::inspection::Inspection;
use tellmark_core::piece::Answer;

use super::reading::{Reading, fault_parts, part_at};
use crate::rules::Rules;

/// What a `that means` sentence comes to in the finished pack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reached {
    /// Which `that means` sentence.
    pub means: usize,
    /// At which place.
    pub place: usize,
    /// The figure that it comes to.
    pub reached: f64,
    /// The fault's chance before anything is known.
    pub before: f64,
}

/// What the sentences about one sign come to in the finished pack.
pub(super) fn reached(
    rules: Rules<'_>,
    inspection: &mut Inspection<'_, '_, f64>,
    reading: &Reading,
) -> Vec<Reached> {
    let Some(part) = part_at(inspection, reading.place) else {
        return Vec::new();
    };
    let row = &rules.states.states[rules.states.declared(reading.sign)];
    let (ask, yes) = rules.states.yes(row);
    let mut found = Vec::new();
    for &means in &reading.means {
        let sentence = &rules.model.means[means];
        let fault = rules.states.number(sentence.fault);
        let Some(&at) =
            fault_parts(inspection, (rules.model, rules.places), part, sentence).first()
        else {
            continue;
        };
        let before = inspection.chance(at, fault).unwrap_or_default().as_f64();
        let _ = inspection.answer(part, ask, yes);
        let reached = inspection.chance(at, fault).unwrap_or_default().as_f64();
        let _ = inspection.answer(part, ask, Answer::NotLooked);
        found.push(Reached {
            means,
            place: reading.place,
            reached,
            before,
        });
    }
    found
}
