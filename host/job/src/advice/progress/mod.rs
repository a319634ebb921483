//! What the owner wishes and decided, and what was done, put to the rules and the
//! parts of the piece.

mod decided;
mod done;
mod own;
mod reading;
mod said;
mod taken_back;

pub use said::{Heeded, Left, Mark, Marked, OwnWork, Parts, Pictured, Told};

use crate::limit::Limit;
use std::collections::BTreeSet;

/// Something that a tick mended, and that is there after it, or may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Again {
    /// The line of the tick.
    line: usize,
    part: usize,
    /// Whether it was there before, so that the mend has failed.
    was_there: bool,
}

/// Everything that the record says with a label.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// What the piece is for, in the owner's own words.
    pub wishes: Vec<Told<String>>,
    /// How far the work may go.
    pub limits: Vec<Told<Limit>>,
    /// What must not be touched.
    pub left: Vec<Told<Left>>,
    /// What was decided and done, oldest first.
    pub marks: Vec<Told<Marked>>,
    /// Work to be done that no rule plans, oldest first; done or not.
    pub own: Vec<Told<OwnWork>>,
    /// Photographs, oldest first.
    pub photos: Vec<Told<Pictured>>,
    /// Cautions that were heeded at the bench, oldest first.
    pub heeded: Vec<Told<Heeded>>,
    /// The line that says last that the piece is looked over.
    pub finished: Option<usize>,
    /// Lines that the rules do not understand, and why.
    pub not_understood: Vec<Told<String>>,
    /// What may be touched after all: the line that says so, and the parts.
    freed: Vec<(usize, Parts)>,
    owners: Vec<Vec<usize>>,
    /// Jobs that would find out what is known already, each with the part.
    pub(super) found_out: BTreeSet<(usize, usize)>,
    /// Jobs that must be followed by another, by their indices: which, and by which.
    pub(super) ties: Vec<(usize, usize)>,
    /// The parts that each job works on besides the one that it is done for, wherever they are,
    /// kind by kind.
    touched: Vec<Vec<Vec<usize>>>,
    /// What was mended and is there now, or may be.
    again: Vec<Again>,
    /// Where something was found that is not as it should be: the line, and the part.
    found: Vec<(usize, usize)>,
}

impl Progress {
    fn last(&self, job: usize, part: usize, marks: &[Mark]) -> Option<&Told<Marked>> {
        self.marks.iter().rev().find(|told| {
            let marked = &told.what;
            marks.contains(&marked.mark)
                && marked.index == Some(job)
                && (marked.parts.indices.is_empty() || self.is_among(&marked.parts, part))
        })
    }

    /// Whether a part is another, or built into it.
    #[must_use]
    pub fn is_within(&self, inner: usize, outer: usize) -> bool {
        let owners = self.owners.get(inner).map_or(&[][..], Vec::as_slice);
        inner == outer || owners.contains(&outer)
    }

    fn is_among(&self, parts: &Parts, part: usize) -> bool {
        is_among(&self.owners, parts, part)
    }
}

/// Whether a part is one of these, or built into one of them.
fn is_among(owners: &[Vec<usize>], parts: &Parts, part: usize) -> bool {
    let owners = owners.get(part).map_or(&[][..], Vec::as_slice);
    let mut own_and_owners = std::iter::once(&part).chain(owners);
    own_and_owners.any(|at| parts.indices.contains(at))
}

/// Whether words of the owner are these, however they are set out.
fn is_said(words: &str, asked: &str) -> bool {
    let plain = |words: &str| words.split_whitespace().collect::<Vec<_>>().join(" ");
    plain(words).to_lowercase() == plain(asked).to_lowercase()
}
