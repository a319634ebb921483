//! What may be true of a part, and how it can be known.

use crate::model::{HowOften, KindId, Mark, Minutes, SignId, SourceId};
use crate::span::Span;

/// Something that may be true of a part.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct State {
    /// Of which kind of part.
    pub kind: KindId,
    /// "is sagging" or "shows fresh dust".
    pub verb: Verb,
    /// "sagging", "fresh dust".
    pub phrase: String,
    /// Other words for it.
    pub also: Vec<String>,
    /// How it can be known.
    pub nature: Nature,
    /// Its chance when no rule gives a reason for it. `None` only where no
    /// rule concludes or reads it.
    pub on_its_own: Option<HowOften>,
    /// Where "for what" it came from: `From:`, if given.
    pub source: Option<SourceId>,
    /// Where it was declared.
    pub at: Span,
}

/// How a state is put into a sentence.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verb {
    /// A drawer *is* stiff.
    Is,
    /// A runner *shows* fresh dust.
    Shows,
}

/// How a state can be known.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Nature {
    /// By looking, feeling, asking …: this sign asks for it.
    Seen(SignId),
    /// Only when the piece is apart.
    Hidden {
        /// What it costs to find it late, if the house says.
        missed: Option<Missed>,
    },
    /// By a measure that passes a mark: "counts as cracked when it is split
    /// at least 1 mm wide".
    CountsAs {
        /// The measure.
        sign: SignId,
        /// The mark.
        mark: Mark,
    },
}

impl Nature {
    /// Whether it is a stretch of a measure with an end above, which follows from the
    /// marks at its ends.
    #[must_use]
    pub fn is_between(&self) -> bool {
        matches!(self, Self::CountsAs { mark, .. } if mark.at_most.is_some())
    }
}

/// `Missed: 4 hours, risk 3`.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub struct Missed {
    /// Extra bench time if it is found only after work has begun.
    pub minutes: Minutes,
    /// 1 a nuisance … 5 loss of the piece or injury.
    pub risk: u8,
}
