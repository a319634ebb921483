//! What a finding says of several parts together: that not all of them are as old as what
//! they are built into.
//!
//! Castors that are unlike one another were not all made for one chest. That speaks of none
//! of them more than of the others, so it is no finding on a part: it weighs how the parts
//! may have been made with each other.

use core::ops::Range;

use super::evidence::{by_strength, thousandths};
use crate::number::Number;

/// A finding by which at least one of some parts is later than what they are built into.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Together {
    /// The parts: all that stand at one place of one owner.
    pub parts: Range<usize>,
    /// What was found, by a number; what one finding says counts once.
    pub finding: u32,
    /// 0 weak, 1 fair, 2 strong.
    pub strength: u8,
}

/// How likely the finding is if all the parts are as old as what they are built into, beside
/// where one of them at least is later, in thousandths: weak, fair, strong. The same as of a
/// fitting that fits no trace.
const ALL_AS_OLD: [u16; 3] = [250, 50, 2];

impl Together {
    /// How likely it is if all the parts are as old, in thousandths.
    #[must_use]
    pub fn all_as_old(&self) -> u16 {
        by_strength(ALL_AS_OLD, self.strength)
    }
}

/// The groups of parts that something is said of together, each once.
pub(super) fn groups(all: &[Together]) -> impl Iterator<Item = &Range<usize>> {
    let is_first = |at: usize, one: &Together| {
        let mut before = all.iter().take(at);
        !before.any(|other| other.parts == one.parts)
    };
    let groups = all.iter().enumerate();
    groups.filter_map(move |(at, one)| is_first(at, one).then_some(&one.parts))
}

/// What all findings on a group come to, if its parts are all as old as their owner.
pub(super) fn weight<N: Number>(all: &[Together], group: &Range<usize>) -> N {
    let mut weight = N::ONE;
    for (at, one) in all.iter().enumerate() {
        let same = |other: &&Together| other.parts == *group && other.finding == one.finding;
        if one.parts == *group && !all.iter().take(at).any(|other| same(&other)) {
            let least = all.iter().filter(same).map(Together::all_as_old).min();
            weight = weight.times(thousandths(least.unwrap_or(1000)));
        }
    }
    weight
}

/// How some parts may have been made: all of them as old as their owner, or not all.
#[derive(Clone, Copy, Debug)]
pub(super) struct Made<N> {
    pub all_as_old: N,
    pub some_later: N,
}

impl<N: Number> Made<N> {
    /// No parts yet.
    pub fn none() -> Self {
        Self {
            all_as_old: N::ONE,
            some_later: N::ZERO,
        }
    }

    /// With one more part, that may be as old, or later.
    pub fn with(self, as_old: N, later: N) -> Self {
        let of_later = self.all_as_old.times(later);
        Self {
            all_as_old: self.all_as_old.times(as_old),
            some_later: self.some_later.times(as_old.plus(later)).plus(of_later),
        }
    }

    /// Both, however they were made.
    pub fn any(self) -> N {
        self.all_as_old.plus(self.some_later)
    }

    /// Both, where "all as old" weighs so much.
    pub fn weighed(self, weight: N) -> N {
        self.all_as_old.times(weight).plus(self.some_later)
    }
}
