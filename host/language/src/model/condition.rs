//! What must hold for a rule, plan, caution or step.

use crate::model::{KindId, Mark, SignId, StateId, Sureness};
use crate::span::Span;

/// What must hold for a rule, plan, caution or step.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Condition {
    /// Every one of these.
    All(Vec<Condition>),
    /// At least one of these.
    Any(Vec<Condition>),
    /// At least so many of these.
    AtLeast(u8, Vec<Condition>),
    /// One thing about one part or group of parts.
    Test(Test),
}

/// One clause: whose state, and which.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub struct Test {
    /// Which part is meant, seen from the subject.
    pub whose: Reach,
    /// What is said of it.
    pub what: Predicate,
    /// Where it was written.
    pub at: Span,
}

/// Which part is meant, seen from the subject of the sentence.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Reach {
    /// The subject itself.
    Own,
    /// What the subject is built into: its nearest owner of this kind.
    Up(KindId),
    /// Parts of the subject.
    Down {
        /// The kinds on the way down, the last one being meant:
        /// `[hinge, screw]` for "the screws of its hinges".
        path: Vec<KindId>,
        /// How many of them.
        many: HowMany,
        /// Which parts of the last kind, if not all of them: "its left runner".
        only: Option<Placing>,
    },
    /// The other parts of this kind that the subject's owner has: "any other drawer".
    Others {
        /// Their kind.
        of: KindId,
        /// How many of them.
        many: HowMany,
    },
}

impl Reach {
    /// All parts down some kinds.
    #[must_use]
    pub fn down(path: Vec<KindId>, many: HowMany) -> Self {
        Self::Down {
            path,
            many,
            only: None,
        }
    }

    /// The kind of what is meant, seen from a subject of this kind.
    #[must_use]
    pub fn kind(&self, subject: KindId) -> KindId {
        match self {
            Self::Own => subject,
            Self::Up(kind) | Self::Others { of: kind, .. } => *kind,
            Self::Down { path, .. } => path.last().copied().unwrap_or(subject),
        }
    }
}

/// Some of the parts that an owner has of one kind, by where they stand among them: the
/// left ones, the lowest.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub struct Placing {
    /// Each by the sign that says its number, from the first or from the last, and the
    /// number. Of none, there is no such part.
    pub at: Vec<(SignId, u8)>,
    /// All but these: "no other drawer", after the lowest was spoken of.
    pub except: bool,
    /// How it is said: "left", "lowest".
    pub words: String,
}

/// How many of a group of parts.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub enum HowMany {
    /// The only one there can be.
    The,
    /// At least one.
    Any,
    /// All (true of none; in a result: each one, separately).
    Every,
    /// Not one.
    No,
    /// This many or more.
    AtLeast(u8),
    /// Not this many.
    FewerThan(u8),
    /// This many, no more and no fewer.
    Exactly(u8),
}

/// What is said of a part.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Predicate {
    /// It is (or is not) so.
    State {
        /// The state.
        state: StateId,
        /// "is", not "is not".
        yes: bool,
        /// How sure one must be, for a hidden fault in a plan or caution.
        sureness: Option<Sureness>,
    },
    /// A measure passes a mark.
    Measure {
        /// The measure.
        sign: SignId,
        /// The mark.
        mark: Mark,
        /// "is", not "is not".
        yes: bool,
    },
    /// A choice is one of these values.
    Choice {
        /// The choice.
        sign: SignId,
        /// Indices of the values.
        values: Vec<u8>,
        /// "is", not "is not".
        yes: bool,
    },
    /// It has at least this many parts of a kind ("has no bracket": at least
    /// 1, `yes` false).
    Has {
        /// The kind counted, a direct member of the part.
        part: KindId,
        /// At least (and, for "exactly", at most) so many.
        mark: Mark,
        /// "has", not "has no".
        yes: bool,
    },
    /// It stands there among its like: "is the left runner". Never unknown.
    Placed {
        /// Where.
        place: Placing,
        /// "is", not "is not".
        yes: bool,
    },
    /// It cannot be seen: boxed in, or missing. Never unknown.
    CannotBeSeen,
}
