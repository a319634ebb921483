//! What is said with a label, once its parts are found: wishes, limits, decisions, ticks.

use crate::record::{Photo, When};
use tellmark_language::model::{Minutes, StateId, Thousandths};

/// Something that the record says with a label, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told<T> {
    /// What.
    pub what: T,
    /// The line of the record, from 1.
    pub line: usize,
    /// When it was written down.
    pub when: When,
}

/// Parts of the piece, as core counts them, and in words.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Parts {
    /// Indices in the piece. Everything built into one of them is meant too.
    pub indices: Vec<usize>,
    /// What they are called.
    pub names: Vec<String>,
}

impl Parts {
    /// Takes parts away; what is left goes by its own names.
    pub(super) fn take_away(
        &mut self,
        gone: impl Fn(usize) -> bool,
        name: &impl Fn(usize) -> String,
    ) {
        let before = self.indices.len();
        self.indices.retain(|&part| !gone(part));
        if self.indices.len() < before {
            self.names = self.indices.iter().map(|&part| name(part)).collect();
        }
    }
}

/// A part that must not be touched.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Left {
    /// Which.
    pub parts: Parts,
    /// Why; may be empty.
    pub because: String,
}

/// What was said of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// The owner agreed to it.
    Agreed,
    /// The owner will not have it.
    Refused,
    /// It is done.
    Done,
    /// It is not done after all.
    NotDone,
    /// What the owner had decided about it holds no more.
    Undecided,
}

impl Mark {
    /// Whether the owner decided something, or took it back, rather than that work was done.
    #[must_use]
    pub fn is_decision(self) -> bool {
        matches!(self, Mark::Agreed | Mark::Refused | Mark::Undecided)
    }
}

/// A job with what was said of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Marked {
    /// What was said.
    pub mark: Mark,
    /// The job as the record names it.
    pub job: String,
    /// Its index in the model; `None` if these rules have no such job.
    pub index: Option<usize>,
    /// The parts that it is said of; none: wherever it is called for.
    pub parts: Parts,
    /// What it took, if it says.
    pub took: Option<Minutes>,
    /// How and why; may be empty.
    pub words: String,
    /// Of a job that is done: the states that it mends, each with its part.
    pub mends: Vec<(usize, StateId)>,
    /// Of a job that is done: how often that fails.
    pub fails: Thousandths,
}

/// Work that no rule plans, as somebody wants it done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnWork {
    /// What, in their words.
    pub job: String,
    /// Where.
    pub parts: Parts,
    /// What it takes on each part.
    pub takes: Minutes,
}

/// A photograph, and the part it shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pictured {
    /// The photograph.
    pub photo: Photo,
    /// What it shows.
    pub parts: Parts,
}

/// A caution that was heeded, and about what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Heeded {
    /// The part.
    pub parts: Parts,
    /// The caution's words.
    pub caution: String,
}
