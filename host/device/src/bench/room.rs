//! Memory for the bench screen, on the host.

use tellmark_core::belief::Desk;
use tellmark_core::bench::Bench;
use tellmark_core::looking::{Candidate, Looking};
use tellmark_core::number::{Number as _, UFloat};
use tellmark_core::pack::Pack;
use tellmark_core::piece::{Answer, Part};
use tellmark_core::work::Memory;

/// Most parts of a piece, with as many again while they are counted anew.
const PARTS: usize = 2 * tellmark_core::limits::MAX_PARTS;
/// Most answers, likewise.
const ANSWERS: usize = 40 * PARTS;
/// Most numbers: far more than any piece of so many parts takes.
const NUMBERS: usize = 2_000_000;

/// Memory for one piece.
#[derive(Debug)]
pub struct Room {
    parts: Vec<Part>,
    answers: Vec<Answer>,
    desks: Vec<Desk>,
    numbers: Vec<UFloat>,
    candidates: Vec<Candidate>,
    beside: Vec<UFloat>,
}

impl Default for Room {
    fn default() -> Self {
        Self {
            parts: vec![Part::default(); PARTS],
            answers: vec![Answer::NotLooked; ANSWERS],
            desks: vec![Desk::default(); PARTS],
            numbers: vec![UFloat::ZERO; NUMBERS],
            candidates: vec![Candidate::NONE; ANSWERS],
            beside: vec![UFloat::ZERO; NUMBERS],
        }
    }
}

impl Room {
    /// Lends what a piece takes.
    pub fn memory(&mut self) -> Memory<'_, UFloat> {
        self.all().0
    }

    /// An empty bench in this memory.
    pub fn bench<'r>(&'r mut self, pack: Pack<'r>) -> Bench<'r, 'r, UFloat> {
        let (memory, looking) = self.all();
        let mut bench = Bench::new(pack, memory);
        bench.lend_looking(looking);
        bench
    }

    fn all(&mut self) -> (Memory<'_, UFloat>, Looking<'_, UFloat>) {
        let memory = Memory {
            parts: &mut self.parts,
            answers: &mut self.answers,
            numbers: &mut self.numbers,
            desks: &mut self.desks,
        };
        (memory, Looking::new(&mut self.candidates, &mut self.beside))
    }
}
