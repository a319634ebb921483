//! What is older than what, without a year.

use crate::model::{Condition, Evidence, KindId, SourceId};
use crate::span::Span;

/// "A door is usually earlier than its lock", "A base that shows odd castors has a later
/// castor".
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Relative {
    /// The kind of part that others are built into.
    pub subject: KindId,
    /// What it must be like for this to hold; `None`: any such part.
    pub when: Option<Condition>,
    /// What is built into it.
    pub part: KindId,
    /// What is said of these.
    pub says: Beside,
    /// `Evidence:`.
    pub evidence: Evidence,
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`.
    pub called: Option<String>,
    /// The sentence, without its particulars.
    pub said_at: Span,
    /// The whole entry.
    pub at: Span,
}

/// How parts are dated beside what they are built into.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beside {
    /// Each of them is usually later.
    EachLater,
    /// One of them at least is later.
    OneLater,
}
