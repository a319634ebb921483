//! Measures that are worked out from others.

use crate::model::{Handbook, KindId, SignId};

/// How a measure is worked out.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq, Eq)]
pub struct WorkedOut {
    /// In which way.
    pub working: Working,
    /// From what.
    pub of: Vec<Operand>,
    /// The sum, if it is worked out by one of the handbook.
    pub handbook: Option<Box<Handbook>>,
}

/// A way to work a measure out.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub enum Working {
    /// By how much the two readings differ.
    Difference,
    /// All readings together.
    Sum,
    /// The first reading as a share of the second.
    Share,
    /// The largest reading.
    Most,
    /// The smallest reading.
    Least,
    /// Which of its owner's parts of its kind it is, from 1.
    Number,
    /// The same, counted from the last.
    FromLast,
    /// By a sum of the handbook.
    Handbook,
}

impl Working {
    /// Whether it says where a part stands among its like. Such signs have no words: rules
    /// call the parts by their places.
    #[must_use]
    pub fn is_place(self) -> bool {
        matches!(self, Self::Number | Self::FromLast)
    }
}

/// What a measure is worked out from: a reading, or one of each of several parts; of a sum of
/// the handbook also the value of a choice, and what is found of an owner.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub struct Operand {
    /// Of which of its parts; `None`: of the part itself.
    pub part: Option<OwnPart>,
    /// Of its nearest owner of this kind; the piece itself for [`PIECE`](super::PIECE).
    pub owner: Option<KindId>,
    /// The measure or choice.
    pub sign: SignId,
}

/// Parts that something has.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub struct OwnPart {
    /// Their kind.
    pub kind: KindId,
    /// Index of its name; `None`: all of them, or the only one.
    pub named: Option<u8>,
    /// Whether there can be several.
    pub several: bool,
}
