//! The chances of decades, and of being original.

use core::ops::Range;

use super::evidence::{all_on, part, thousandths};
use super::together::{Made, groups, weight};
use super::{Evidence, Together, decades, prior};
use crate::number::{Number, Share};
use crate::pack::NONE;
use crate::piece::Part;

/// How often a part is original to what it is built into, in thousandths, before
/// anything is found: five in six. A choice of this project.
const ORIGINAL: u16 = 833;

/// Too little memory was lent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooFew {
    /// How many numbers are needed.
    pub numbers: usize,
}

/// When a piece and its parts were made.
///
/// For every part six rows of numbers, one number for each decade (see `Row`).
#[derive(Debug)]
pub struct Dates<'m, N> {
    parts: &'m [Part],
    numbers: &'m mut [N],
    decades: usize,
}

/// The rows.
#[derive(Clone, Copy)]
enum Row {
    /// What was found on the part: the likelihood of each decade.
    Alone,
    /// The same with all that is built into it.
    WithParts,
    /// Its message to its owner, if it is as old.
    AsOld,
    /// Its message to its owner, if it is later than that.
    MadeAfter,
    /// Everything else, if it was made then and is original to the piece.
    Original,
    /// Everything else, if it was made then and is not.
    Later,
}

const ROWS: usize = 6;

impl<'m, N: Number> Dates<'m, N> {
    /// Numbers needed for so many parts.
    #[must_use]
    pub fn need(parts: usize, now: u16) -> usize {
        parts * ROWS * decades(now)
    }

    /// Works them out from what was found, on each part and on several `together`, up to
    /// this year.
    ///
    /// # Errors
    /// [`TooFew`] if too little memory was lent.
    pub fn new(
        parts: &'m [Part],
        evidence: &[Evidence],
        together: &[Together],
        now: u16,
        numbers: &'m mut [N],
    ) -> Result<Self, TooFew> {
        let need = Self::need(parts.len(), now);
        let numbers = numbers.get_mut(..need).ok_or(TooFew { numbers: need })?;
        let mut dates = Self {
            parts,
            numbers,
            decades: decades(now),
        };
        dates.upwards(evidence, together);
        dates.downwards(evidence, together);
        Ok(dates)
    }

    /// How many decades.
    #[must_use]
    pub fn decades(&self) -> usize {
        self.decades
    }

    /// The chance that a part was made in a decade (part 0: the piece); `None` if there
    /// is no such part, or no such decade.
    #[must_use]
    pub fn made_in(&self, part: usize, decade: usize) -> Option<Share> {
        if part >= self.parts.len() || decade >= self.decades {
            return None;
        }
        let weight = |d: usize| {
            let elsewhere = self
                .at(part, Row::Original, d)
                .plus(self.at(part, Row::Later, d));
            self.at(part, Row::WithParts, d).times(elsewhere)
        };
        let others = (0..self.decades)
            .filter(|&d| d != decade)
            .fold(N::ZERO, |sum, d| sum.plus(weight(d)));
        Some(N::share(weight(decade), others))
    }

    /// The chance that a part is original to the piece: as old as what it is
    /// built into, and that as old as what it is built into. `None` if there is no such
    /// part.
    #[must_use]
    pub fn original(&self, part: usize) -> Option<Share> {
        if part >= self.parts.len() {
            return None;
        }
        let sum = |row: Row| {
            (0..self.decades).fold(N::ZERO, |sum, d| {
                sum.plus(
                    self.at(part, Row::WithParts, d)
                        .times(self.at(part, row, d)),
                )
            })
        };
        Some(N::share(sum(Row::Original), sum(Row::Later)))
    }

    fn index(&self, part: usize, row: Row, decade: usize) -> usize {
        (part * ROWS + row as usize) * self.decades + decade
    }

    fn at(&self, part: usize, row: Row, decade: usize) -> N {
        let index = self.index(part, row, decade);
        self.numbers.get(index).copied().unwrap_or(N::ZERO)
    }

    fn set(&mut self, part: usize, row: Row, decade: usize, number: N) {
        let index = self.index(part, row, decade);
        if let Some(slot) = self.numbers.get_mut(index) {
            *slot = number;
        }
    }

    /// From the innermost parts to the piece.
    fn upwards(&mut self, evidence: &[Evidence], together: &[Together]) {
        for part in 0..self.parts.len() {
            for decade in 0..self.decades {
                let likelihood = all_on(evidence, part, |e| e.likelihood(decade));
                self.set(part, Row::Alone, decade, likelihood);
            }
        }
        // Owners stand before their parts.
        for part in (0..self.parts.len()).rev() {
            for decade in 0..self.decades {
                let with_parts = self.with_parts(part, together, decade);
                self.set(part, Row::WithParts, decade, with_parts);
            }
            self.report(part, evidence);
        }
    }

    /// What was found on a part and on all that is built into it.
    fn with_parts(&self, part: usize, together: &[Together], decade: usize) -> N {
        let alone = self.at(part, Row::Alone, decade);
        self.children(part).fold(alone, |all, child| {
            all.times(self.told_from(child, together, decade))
        })
    }

    fn children(&self, part: usize) -> Range<usize> {
        let record = self.parts.get(part).copied().unwrap_or_default();
        let first = usize::from(record.first_child);
        first..first + usize::from(record.children)
    }

    /// What a part tells its owner; the first of a group, what the whole group tells, and
    /// the others of it nothing.
    fn told_from(&self, part: usize, together: &[Together], decade: usize) -> N {
        let Some(group) = groups(together).find(|group| group.contains(&part)) else {
            return self.made(part, decade).any();
        };
        if part != group.start {
            return N::ONE;
        }
        let made = self.made_by(group.clone(), decade);
        made.weighed(weight(together, group))
    }

    /// How a part may have been made, beside an owner of this decade.
    fn made(&self, part: usize, decade: usize) -> Made<N> {
        self.made_by(part..part + 1, decade)
    }

    fn made_by(&self, parts: impl Iterator<Item = usize>, decade: usize) -> Made<N> {
        parts.fold(Made::none(), |made, part| {
            let as_old = self.at(part, Row::AsOld, decade);
            made.with(as_old, self.at(part, Row::MadeAfter, decade))
        })
    }

    fn owner(&self, part: usize) -> Option<usize> {
        let owner = self.parts.get(part)?.owner;
        (owner != NONE).then_some(usize::from(owner))
    }

    /// What a part tells its owner: made when the owner was, or any time after.
    fn report(&mut self, part: usize, evidence: &[Evidence]) {
        let as_old = as_old::<N>(part, evidence);
        let mut after = N::ZERO;
        for decade in (0..self.decades).rev() {
            let found = self.at(part, Row::WithParts, decade);
            after = after.plus(found);
            self.set(part, Row::AsOld, decade, found.times(as_old));
            let made_after = after.times(self.later_than(decade));
            self.set(part, Row::MadeAfter, decade, made_after);
        }
    }

    /// The chance of being later, for each decade from that of the owner.
    fn later_than(&self, decade: usize) -> N {
        let left = u64::try_from(self.decades.saturating_sub(decade)).unwrap_or(1);
        thousandths::<N>(1000 - ORIGINAL).times(part(1, left))
    }

    /// From the piece to the innermost parts.
    fn downwards(&mut self, evidence: &[Evidence], together: &[Together]) {
        for decade in 0..self.decades {
            self.set(0, Row::Original, decade, thousandths(prior(decade)));
            self.set(0, Row::Later, decade, N::ZERO);
        }
        for part in 1..self.parts.len() {
            let Some(owner) = self.owner(part) else {
                continue;
            };
            let as_old = as_old::<N>(part, evidence);
            let mut made_later = N::ZERO;
            for decade in 0..self.decades {
                let beside = self.beside(owner, part, together, decade);
                let owner_original = self.at(owner, Row::Original, decade);
                let owner_later = self.at(owner, Row::Later, decade);
                let of_later = owner_original.plus(owner_later).times(beside.if_later);
                made_later = made_later.plus(of_later.times(self.later_than(decade)));
                let if_as_old = beside.if_as_old.times(as_old);
                let original = owner_original.times(if_as_old);
                self.set(part, Row::Original, decade, original);
                let later = owner_later.times(if_as_old).plus(made_later);
                self.set(part, Row::Later, decade, later);
            }
        }
    }

    /// What was found on an owner and all its parts but this one.
    fn beside(&self, owner: usize, part: usize, together: &[Together], decade: usize) -> Beside<N> {
        let group = groups(together).find(|group| group.contains(&part));
        let group = group.cloned().unwrap_or(part..part + 1);
        let others = self.children(owner).filter(|child| !group.contains(child));
        let alone = self.at(owner, Row::Alone, decade);
        let all = others.fold(alone, |all, child| {
            all.times(self.told_from(child, together, decade))
        });
        let of_group = group.clone().filter(|&other| other != part);
        let of_group = self.made_by(of_group, decade);
        Beside {
            if_as_old: all.times(of_group.weighed(weight(together, &group))),
            if_later: all.times(of_group.any()),
        }
    }
}

/// Everything else on an owner, beside a part that is as old as it, and one that is later.
struct Beside<N> {
    if_as_old: N,
    if_later: N,
}

/// The chance of being as old as the owner, times how likely it is then that the
/// part fits no trace where it was found to fit none.
fn as_old<N: Number>(part: usize, evidence: &[Evidence]) -> N {
    thousandths::<N>(ORIGINAL).times(all_on(evidence, part, Evidence::as_old))
}
