//! Pieces, their parts, and what was found on them.

use crate::model::{KindId, SignId, StateId, Ticks};
use crate::span::Span;

/// "a chest of drawers with 3 drawers": a piece to be set up.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub struct PieceOrder {
    /// The kind of piece.
    pub kind: KindId,
    /// How many of some kinds of part, each for every owner of that kind.
    /// What is not said is as usual.
    pub counts: Vec<(KindId, u8)>,
}

/// A part of a piece, named from the inside out: "runner 1 of drawer 2".
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub struct PartRef {
    /// The part first, then what it is built into, as far as was said.
    pub steps: Vec<PartStep>,
    /// Where it was written.
    pub at: Span,
}

/// One step of a [`PartRef`].
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub struct PartStep {
    /// The kind.
    pub kind: KindId,
    /// Which one.
    pub which: Which,
}

/// Which of several parts of a kind.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Which {
    /// There is only one: "the top".
    Only,
    /// Number, from 1.
    Number(u8),
    /// By its name in the makeup: index into [`Member::names`](super::Member::names).
    Named(u8),
    /// Every one.
    Every,
}

/// One thing that was found.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub struct Fact {
    /// On which part.
    pub part: PartRef,
    /// What.
    pub found: Found,
    /// Where it was written.
    pub at: Span,
}

/// What was found on a part.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Found {
    /// A state, or that it is not so.
    State {
        /// The state.
        state: StateId,
        /// "is" rather than "is not".
        yes: bool,
        /// How it is known.
        sure: Sure,
    },
    /// A measure.
    Measure {
        /// The measure.
        sign: SignId,
        /// The reading.
        ticks: Ticks,
    },
    /// A choice.
    Choice {
        /// The choice.
        sign: SignId,
        /// Index of the value.
        value: u8,
    },
    /// How far it is so, judged in degrees.
    Degree {
        /// The judgement.
        sign: SignId,
        /// Which degree; 0 is "not".
        degree: u8,
        /// Whether it is just that, or only an end.
        than: Than,
        /// How it is known.
        sure: Sure,
    },
    /// How many parts of a kind it has.
    Count {
        /// The kind, a direct member of the part.
        part: KindId,
        /// How many.
        number: u8,
    },
    /// The whole part cannot be seen, with everything that is built into it.
    PartCannotBeSeen,
    /// It can be seen after all.
    PartCanBeSeen,
    /// "cannot see whether drawer 2 is stiff".
    SignCannotBeSeen(SignId),
    /// "have not looked whether drawer 2 is stiff": takes an answer back.
    NotLooked(SignId),
    /// As `NotLooked`, for a fault found when a part was opened.
    NotOpened(StateId),
}

/// How a judgement speaks of its degree.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub enum Than {
    /// "is slightly lifted".
    Just,
    /// "is at least noticeably lifted".
    AtLeast,
    /// "is less than badly lifted".
    LessThan,
}

/// How well something is known.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sure {
    /// "is stiff": looked, with a slip of the eye allowed for. (Of a hidden
    /// fault: found when the part was opened, so certain.)
    Ordinary,
    /// "looks stiff" / "does not look stiff".
    Looks,
    /// "is certainly stiff": measured or opened up.
    Certain,
}
