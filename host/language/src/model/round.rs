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
    /// Where it was written.
    pub at: Span,
}
