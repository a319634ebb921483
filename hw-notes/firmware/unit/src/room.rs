//! Memory for a piece, set aside once.
//!
//! A chest of six drawers under the standard rules takes 85 parts, 840 answers and
//! 9,224 numbers; while its parts are counted anew, twice as many of the first two.

use heapless::Vec;
use tellmark_core::belief::Desk;
use tellmark_core::bench::work::Memory;
use tellmark_core::number::{Number, UFloat};
use tellmark_core::piece::{Answer, Part};

/// Parts, counted twice.
const PARTS: usize = 240;
/// Answers, counted twice.
const ANSWERS: usize = 2_000;
/// Numbers.
const NUMBERS: usize = 10_000;
/// Parts, counted once.
const DESKS: usize = PARTS / 2;

const NO_PART: Part = Part {
    place: 0,
    kind: 0,
    owner: 0,
    number: 0,
    out_of_sight: false,
    first_child: 0,
    children: 0,
    first_answer: 0,
};

/// Memory for a piece. The numbers come first: the emulated unit is asked for them.
#[repr(C)]
pub struct Room {
    numbers: [UFloat; NUMBERS],
    parts: [Part; PARTS],
    answers: [Answer; ANSWERS],
    desks: Vec<Desk, DESKS>,
}

impl Room {
    /// Empty.
    pub const fn new() -> Self {
        Self {
            parts: [NO_PART; PARTS],
            answers: [Answer::NotLooked; ANSWERS],
            desks: Vec::new(),
            numbers: [UFloat::ZERO; NUMBERS],
        }
    }

    /// Lends it all.
    pub fn lend(&mut self) -> Memory<'_, UFloat> {
        // As many as there is room for.
        let _ = self.desks.resize_default(DESKS);
        Memory {
            parts: &mut self.parts,
            answers: &mut self.answers,
            numbers: &mut self.numbers,
            desks: &mut self.desks,
        }
    }
}
