//! Memory for one piece: set aside once, as large as the largest piece that the
//! unit takes.

use heapless::Vec;
use tellmark_core::belief::Desk;
use tellmark_core::inspection::Inspection;
use tellmark_core::number::{Number, UFloat};
use tellmark_core::pack::Pack;
use tellmark_core::piece::{Answer, Part, Piece};

/// Most parts.
pub const PARTS: usize = 200;
/// Most answers.
pub const ANSWERS: usize = 2_000;
/// Most numbers.
pub const NUMBERS: usize = 10_000;

/// Memory for one piece.
#[derive(Debug)]
pub struct Room {
    parts: [Part; PARTS],
    answers: [Answer; ANSWERS],
    desks: Vec<Desk, PARTS>,
    numbers: [UFloat; NUMBERS],
}

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

impl Room {
    /// Empty.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            parts: [NO_PART; PARTS],
            answers: [Answer::NotLooked; ANSWERS],
            desks: Vec::new(),
            numbers: [UFloat::ZERO; NUMBERS],
        }
    }

    /// Sets up a piece; `count` says how many parts of a place an owner has.
    /// `None` if there is too little memory, or if the pack does not allow it.
    pub fn piece<'m>(
        &'m mut self,
        pack: &Pack<'_>,
        root: usize,
        count: impl FnMut(&[Part], usize, usize) -> u8,
    ) -> Option<(Piece<'m>, Rest<'m>)> {
        let piece = Piece::set_up(pack, root, count, &mut self.parts, &mut self.answers).ok()?;
        self.desks.resize_default(piece.parts().len()).ok()?;
        Some((
            piece,
            Rest {
                desks: &mut self.desks,
                numbers: &mut self.numbers,
            },
        ))
    }
}

impl Default for Room {
    fn default() -> Self {
        Self::new()
    }
}

/// What is left of a [`Room`] for the chances.
#[derive(Debug)]
pub struct Rest<'m> {
    desks: &'m mut [Desk],
    numbers: &'m mut [UFloat],
}

impl<'m> Rest<'m> {
    /// Starts looking a piece over. `None` if there is too little memory.
    pub fn inspection<'a>(
        self,
        pack: Pack<'a>,
        piece: Piece<'m>,
    ) -> Option<Inspection<'m, 'a, UFloat>> {
        Inspection::new(pack, piece, self.numbers, self.desks).ok()
    }
}
