//! Memory for a piece, set aside once: for a chest of six drawers under the
//! standard rules, and a little more (`tests/device/cost.snap` has its figures).

use heapless::Vec;
use tellmark_core::belief::Desk;
use tellmark_core::bench::Bench;
use tellmark_core::looking::{Candidate, Looking};
use tellmark_core::number::{Number, UFloat};
use tellmark_core::pack::Pack;
use tellmark_core::piece::{Answer, Part};
use tellmark_core::work::Memory;

/// Most parts.
const PARTS: usize = 92;
/// Most answers.
const ANSWERS: usize = 880;
/// Numbers that the chances come from.
const NUMBERS: usize = 8_720;
/// Checks that are weighed against each other, and numbers to do so.
const CHECKS: usize = 640;
const BESIDE: usize = 2_570;

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
    desks: Vec<Desk, PARTS>,
    candidates: [Candidate; CHECKS],
    beside: [UFloat; BESIDE],
}

impl Room {
    /// Empty.
    pub const fn new() -> Self {
        Self {
            numbers: [UFloat::ZERO; NUMBERS],
            parts: [NO_PART; PARTS],
            answers: [Answer::NotLooked; ANSWERS],
            desks: Vec::new(),
            candidates: [Candidate::NONE; CHECKS],
            beside: [UFloat::ZERO; BESIDE],
        }
    }

    /// An empty bench in this memory.
    #[inline(never)]
    pub fn bench<'r>(&'r mut self, pack: Pack<'r>) -> Bench<'r, 'r, UFloat> {
        // As many as there is room for.
        let _ = self.desks.resize_default(PARTS);
        let memory = Memory {
            parts: &mut self.parts,
            answers: &mut self.answers,
            numbers: &mut self.numbers,
            desks: &mut self.desks,
        };
        let mut bench = Bench::new(pack, memory);
        bench.lend_looking(Looking::new(&mut self.candidates, &mut self.beside));
        bench
    }
}
