//! Kinds of piece and of part, and what is built into what.

use crate::model::KindId;
use crate::span::Span;

/// A kind of piece or part.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, Default)]
pub struct Kind {
    /// The house's own word, singular, lower case.
    pub name: String,
    /// Its plural.
    pub plural: String,
    /// Other words for it, singular.
    pub also: Vec<String>,
    /// Whether it comes in whole, as a job of its own.
    pub is_piece: bool,
    /// The kind that it is a kind of: a bureau is a kind of desk.
    pub general: Option<KindId>,
    /// Where that is said.
    pub general_at: Span,
    /// What it is made of, in the order written; what the kind that it is a kind of has
    /// comes first.
    pub members: Vec<Member>,
    /// What it has none of, though the kind that it is a kind of has.
    pub left_out: Vec<KindId>,
    /// Where it was declared.
    pub at: Span,
}

/// "2 to 3 hinges (usually 2; left, right)" in a makeup sentence.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Member {
    /// The kind of the parts.
    pub kind: KindId,
    /// Fewest.
    pub least: u8,
    /// Most.
    pub most: u8,
    /// The number taken for granted until somebody counts: what "usually"
    /// says, else `most`.
    pub usual: u8,
    /// Names of the single parts, if they have any: "left", "right".
    pub names: Vec<String>,
    /// From where they are counted, if the house says so.
    pub from: Option<CountedFrom>,
    /// Where it was written.
    pub at: Span,
}

/// From where parts are counted: "from the top".
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub enum CountedFrom {
    /// From the top.
    Top,
    /// From the bottom.
    Bottom,
    /// From the left.
    Left,
    /// From the right.
    Right,
    /// From the front.
    Front,
    /// From the back.
    Back,
}
