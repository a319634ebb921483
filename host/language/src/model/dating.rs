//! When things were made.

use crate::model::{Condition, KindId, SourceId};
use crate::span::Span;

/// A region whose word or date is meant.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Region {
    /// Written (UK) or British.
    British,
    /// Written (US) or American.
    American,
}

/// "A gimlet-point screw is not earlier than 1846."
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Dating {
    /// The kind of part it dates.
    pub subject: KindId,
    /// What the part must be like for it to hold; `None`: any such part.
    pub when: Option<Condition>,
    /// What it says.
    pub bound: DateBound,
    /// Where it holds.
    pub region: Option<Region>,
    /// `Evidence:`.
    pub evidence: Evidence,
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`.
    pub called: Option<String>,
    /// The whole entry.
    pub at: Span,
}

/// What a dating says.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq, Eq)]
pub enum DateBound {
    /// Made in this year or later.
    NotEarlier(u16),
    /// Made in this year or earlier.
    NotLater(u16),
    /// Mostly made in these years.
    Usually(u16, u16),
    /// Fits no trace, so made after what it is built into, which is of this kind.
    LaterThan(KindId),
    /// Shows the trace of something that is gone: "handle".
    Lost(String),
}

/// How far a dating can be trusted.
#[derive(
    serde::Serialize,
    serde::Deserialize,
    Clone,
    Copy,
    Debug,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Default,
)]
pub enum Evidence {
    /// A hint.
    Weak,
    /// Worth having.
    #[default]
    Fair,
    /// Hardly ever wrong.
    Strong,
}
