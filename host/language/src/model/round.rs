//! The order in which a piece is looked over.

use crate::model::{Condition, KindId, SignId};
use crate::span::Span;

/// "To look over a …:".
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Round {
    /// The kind of piece.
    pub piece: KindId,
    /// The steps, in order.
    pub steps: Vec<Step>,
    /// The whole entry.
    pub at: Span,
}

/// One step of a round.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Step {
    /// What is looked at (on every part of its kind).
    pub sign: SignId,
    /// Only if this holds, read with the piece as subject.
    pub only_if: Option<Condition>,
    /// Set if `only_if` says that this is known.
    pub known: Option<Known>,
    /// Where it was written.
    pub at: Span,
}

/// `only once it is known whether …`: what a step waits for.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub struct Known {
    /// What must be known.
    pub sign: SignId,
    /// Whether it is so of any of the parts, rather than of each of them.
    pub any: bool,
}
