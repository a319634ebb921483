//! Examples, and what they expect.

use crate::model::{Fact, HowOften, JobId, PartRef, PieceOrder, StateId};
use crate::span::Span;

/// `Example: …`.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Example {
    /// "a fall with nothing under it".
    pub title: String,
    /// The piece and its counts.
    pub piece: PieceOrder,
    /// What was found.
    pub given: Vec<Fact>,
    /// What must follow.
    pub expect: Vec<Expect>,
    /// The whole entry.
    pub at: Span,
}

/// What an example expects.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Expect {
    /// What.
    pub what: Expected,
    /// Where it was written.
    pub at: Span,
}

/// What an example expects.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Expected {
    /// "plan to …" or "no plan to …".
    Plan {
        /// The job.
        job: JobId,
        /// Expected, rather than expected not.
        yes: bool,
    },
    /// "take care" or "no take care".
    TakeCare(bool),
    /// "stop" or "no stop".
    Stop(bool),
    /// "no reason for drawer 2 is stiff": with every finding taken at its word,
    /// no likelier than before anything was found.
    NoReason(PartRef, StateId),
    /// "hinge 1 of fall 1 is usually under strain": within the band of the
    /// word, or of "in 7 of 10 cases" (within 5 in 100).
    Chance(PartRef, StateId, HowOften),
    /// "date not earlier than 1846" for the piece.
    NotEarlier(u16),
    /// "date not later than 1900" for the piece.
    NotLater(u16),
}
