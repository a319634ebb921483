//! Memory for one piece.

use crate::belief::Desk;
use crate::looking::{Candidate, Looking};
use crate::number::{Number as _, UFloat};
use crate::piece::{Answer, Part};
use crate::work;

/// Memory for one piece: so many parts, so many things that can be answered
/// about them, and so many numbers to work out chances from.
///
/// The usual sizes do for a chest of six drawers with all its parts under the
/// standard rules, and take 197 KB. What is too small is refused with
/// [`super::Error::Refused`], and nothing is cut.
#[derive(Clone, Debug)]
pub struct Memory<
    const PARTS: usize = 128,
    const ANSWERS: usize = 1_536,
    const NUMBERS: usize = 16_384,
> {
    parts: [Part; PARTS],
    desks: [Desk; PARTS],
    answers: [Answer; ANSWERS],
    candidates: [Candidate; ANSWERS],
    numbers: [UFloat; NUMBERS],
    /// To hold faults true; never takes more than all chances.
    held: [UFloat; NUMBERS],
}

impl<const PARTS: usize, const ANSWERS: usize, const NUMBERS: usize>
    Memory<PARTS, ANSWERS, NUMBERS>
{
    /// Empty.
    #[must_use]
    pub fn new() -> Self {
        Self {
            parts: [Part::default(); PARTS],
            desks: [Desk::default(); PARTS],
            answers: [Answer::NotLooked; ANSWERS],
            candidates: [Candidate::NONE; ANSWERS],
            numbers: [UFloat::ZERO; NUMBERS],
            held: [UFloat::ZERO; NUMBERS],
        }
    }

    /// Lends it for a piece, and for weighing what to look at next.
    pub fn lend(&mut self) -> (work::Memory<'_, UFloat>, Looking<'_, UFloat>) {
        let memory = work::Memory {
            parts: &mut self.parts,
            answers: &mut self.answers,
            numbers: &mut self.numbers,
            desks: &mut self.desks,
        };
        (memory, Looking::new(&mut self.candidates, &mut self.held))
    }
}

impl<const PARTS: usize, const ANSWERS: usize, const NUMBERS: usize> Default
    for Memory<PARTS, ANSWERS, NUMBERS>
{
    fn default() -> Self {
        Self::new()
    }
}
