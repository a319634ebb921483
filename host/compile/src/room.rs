//! Memory for a piece and its chances, on the host: the core borrows it.

use tellmark_core::belief::{Desk, Need};
use tellmark_core::inspection::Inspection;
use tellmark_core::number::Number;
use tellmark_core::pack::{OpenError, Pack};
use tellmark_core::piece::{Answer, Part, Piece, SetUpError};

/// The bytes of a pack, on a boundary that the core can read them from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PackBytes {
    words: Vec<u32>,
    length: usize,
}

impl PackBytes {
    /// Copies bytes.
    #[must_use]
    pub fn new(bytes: &[u8]) -> Self {
        let words = bytes.chunks(4).map(|chunk| {
            let mut word = [0; 4];
            word[..chunk.len()].copy_from_slice(chunk);
            u32::from_le_bytes(word)
        });
        Self {
            words: words.collect(),
            length: bytes.len(),
        }
    }

    /// The bytes.
    #[must_use]
    pub fn bytes(&self) -> &[u8] {
        let all: &[u8] = bytemuck::cast_slice(&self.words);
        all.get(..self.length).unwrap_or(all)
    }

    /// The pack.
    ///
    /// # Errors
    /// What is wrong with the bytes.
    pub fn open(&self) -> Result<Pack<'_>, OpenError> {
        Pack::open(self.bytes())
    }
}

/// Memory for one piece.
#[derive(Debug)]
pub struct Room<N> {
    parts: Vec<Part>,
    answers: Vec<Answer>,
    desks: Vec<Desk>,
    numbers: Vec<N>,
    /// Chances that were worked out elsewhere.
    weights: Vec<N>,
}

impl<N> Default for Room<N> {
    fn default() -> Self {
        Self {
            parts: Vec::new(),
            answers: Vec::new(),
            desks: Vec::new(),
            numbers: Vec::new(),
            weights: Vec::new(),
        }
    }
}

/// Most parts of one piece on the host, and room for the first try.
const PARTS: (usize, usize) = (20_000, 200);
/// Most answers of one piece on the host, and room for the first try.
const ANSWERS: (usize, usize) = (60_000, 2_000);

impl<N: Number> Room<N> {
    /// Every piece that is set up from now on goes by these chances of its states, whatever
    /// is answered; a state of which the rules say nothing has none. Of no chances at all,
    /// by its answers again.
    pub fn go_by(&mut self, chances: &[Option<f64>]) {
        let weights = chances.iter().flat_map(|yes| {
            let pair = yes.map_or([0.0, 0.0], |yes| [1.0 - yes, yes]);
            pair.map(|share: f64| N::from_f64_bits(share.clamp(0.0, 1.0).to_bits()))
        });
        self.weights = weights.collect();
    }

    /// Sets up a piece; `count` says how many parts of the given place an owner
    /// has.
    ///
    /// # Errors
    /// See [`SetUpError`].
    pub fn inspection<'m>(
        &'m mut self,
        pack: Pack<'m>,
        root: usize,
        mut count: impl FnMut(&[Part], usize, usize) -> u8,
    ) -> Result<Inspection<'m, 'm, N>, SetUpError> {
        let (mut parts, mut answers) = (PARTS.1, ANSWERS.1);
        loop {
            self.parts.resize(parts, Part::default());
            self.answers.resize(answers, Answer::NotLooked);
            match Piece::set_up(&pack, root, &mut count, &mut self.parts, &mut self.answers) {
                Ok(_) => break,
                Err(SetUpError::TooManyParts) if parts < PARTS.0 => parts *= 10,
                Err(SetUpError::TooManyAnswers) if answers < ANSWERS.0 => answers *= 10,
                Err(error) => return Err(error),
            }
        }
        let piece = Piece::set_up(&pack, root, count, &mut self.parts, &mut self.answers)?;
        let need = Need::of(&pack, &piece);
        self.desks.resize(piece.parts().len(), Desk::default());
        self.numbers.clear();
        self.numbers.resize(need.numbers(), N::ZERO);
        let inspection = Inspection::new(pack, piece, &mut self.numbers, &mut self.desks);
        let mut inspection = inspection.map_err(|_| SetUpError::TooManyParts)?;
        if !self.weights.is_empty() {
            inspection.go_by(&self.weights);
        }
        Ok(inspection)
    }
}
