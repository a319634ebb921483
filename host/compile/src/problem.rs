//! Why rules cannot be made into a pack. The compiler hands these back; `check` puts
//! them into words.

use tellmark_language::span::Span;

use crate::numbers::Overflow;

/// Why rules cannot be made into a pack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Problem {
    /// The rules of one place hang together too much for the bench unit.
    Tangled(Tangled),
    /// More of something than a pack, or the unit, has room for.
    TooMuch(TooMuch),
}

/// A place whose rules hang together too much.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tangled {
    /// The place.
    pub place: usize,
    /// States of its owners that it would have to read or feed at once.
    pub interface: usize,
    /// Sums and products, if they were counted.
    pub nodes: Option<usize>,
}

/// More of something than there is room for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TooMuch {
    /// Of what.
    pub what: Capacity,
    /// How many there are, or how much.
    pub found: usize,
    /// How many, or how much, there is room for.
    pub most: usize,
    /// The sentence that goes past it; `None` if no one sentence does.
    pub at: Option<Span>,
}

/// Something of which there is only so much room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Capacity {
    /// Marks on one measure or count that the rules read.
    Marks,
    /// Values of one choice.
    Values,
    /// Steps of one round.
    Steps,
    /// Minutes of a job, a check, or a wait.
    Minutes,
    /// How far a gauge may be out, in ticks.
    Gauge,
    /// Parts built into one another.
    Depth,
    /// Kinds of part where they stand in a piece.
    Places,
    /// Things that may be true of parts.
    States,
    /// Things that can be asked.
    Asks,
    /// Sentences of one sort.
    Sentences,
    /// Clauses of one condition.
    Condition,
    /// Sentences with "instead of" that stand one behind the other.
    Behind,
    /// The pack as a whole.
    Pack,
}

impl From<TooMuch> for Problem {
    fn from(too_much: TooMuch) -> Self {
        Self::TooMuch(too_much)
    }
}

impl From<Tangled> for Problem {
    fn from(tangled: Tangled) -> Self {
        Self::Tangled(tangled)
    }
}

/// What a limit of its own was not seen to beforehand.
impl From<Overflow> for Problem {
    fn from(Overflow: Overflow) -> Self {
        Self::TooMuch(TooMuch {
            what: Capacity::Pack,
            found: 0,
            most: 0,
            at: None,
        })
    }
}
