//! What a fault costs, missed or planned for nothing, and what knowing more
//! takes off that.

use crate::number::Share;
use crate::pack::{Pack, State};

/// What a risk is reckoned to cost beside the hours, in minutes: nothing, half
/// an hour, two hours, a day, a week. A choice of this project, for risks 1
/// (nuisance) to 5 (loss of the piece or injury).
const RISK: [u32; 6] = [0, 0, 30, 120, 480, 2_400];
/// What a job is reckoned to take when no job says that it mends the fault.
const NO_JOB: u32 = 60;
/// Savings up to this (a thousandth of a minute) are nothing.
pub(super) const LEAST: Minutes = Minutes(4);

/// Minutes of bench time, in 4 096ths.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Minutes(u32);

impl Minutes {
    /// From minutes in 2⁻³²; the most there can be (two years) if there are more.
    pub(super) fn from_shares(units: u64) -> Self {
        Self(u32::try_from(units.saturating_add(1 << 19) >> 20).unwrap_or(u32::MAX))
    }

    pub(super) fn plus(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }

    pub(super) fn is_nothing(self) -> bool {
        self.0 == 0
    }

    /// In 4 096ths of a minute.
    #[must_use]
    pub fn units(self) -> u32 {
        self.0
    }

    /// In whole tenths of a minute, the nearest.
    #[must_use]
    pub fn tenths(self) -> u32 {
        let tenths = (u64::from(self.0) * 10 + 2_048) >> 12;
        u32::try_from(tenths).unwrap_or(u32::MAX)
    }
}

/// What a fault costs, in minutes; both together are below 2²⁰.
#[derive(Clone, Copy, Debug)]
pub(super) struct Costs {
    missed: u32,
    needless: u32,
}

impl Costs {
    pub(super) fn of(pack: &Pack<'_>, state: u16, record: &State) -> Self {
        let risk = RISK.get(usize::from(record.risk)).copied().unwrap_or(0);
        let mending = (0..pack.pairs())
            .map(|row| pack.pair(row))
            .filter(|pair| pair.mends && pair.other == state)
            .map(|pair| u32::from(pack.job(usize::from(pair.job)).takes[1]))
            .filter(|&minutes| minutes > 0);
        Self {
            missed: u32::from(record.missed) + risk,
            needless: mending.min().unwrap_or(NO_JOB),
        }
    }

    /// What a fault that is there with this chance costs if it is left out of the
    /// plan, and if it is planned for, both times the chance of `all`; in minutes
    /// of 2⁻³².
    fn both(self, with: u64, all: u64) -> (u64, u64) {
        (
            with.saturating_mul(u64::from(self.missed)),
            all.saturating_sub(with)
                .saturating_mul(u64::from(self.needless)),
        )
    }

    /// Whether leaving the fault out of the plan is the better choice.
    pub(super) fn leaves_out(self, chance: Share) -> bool {
        let (out, planned) = self.both(chance.units(), Share::WHOLE.units());
        out <= planned
    }

    /// What the better choice is expected to cost.
    pub(super) fn loss(self, chance: Share) -> Minutes {
        let (out, planned) = self.both(chance.units(), Share::WHOLE.units());
        Minutes::from_shares(out.min(planned))
    }

    /// What an answer takes off the loss: `all` is its chance, `with` that of the
    /// answer and the fault together. In minutes of 2⁻³².
    pub(super) fn gain(self, chance: Share, with: u64, all: u64) -> u64 {
        let (out, planned) = self.both(with, all);
        if self.leaves_out(chance) {
            out.saturating_sub(planned)
        } else {
            planned.saturating_sub(out)
        }
    }

    /// The chance at which both choices cost the same: a part, of a whole.
    pub(super) fn mark(self) -> (u32, u32) {
        (self.needless, self.needless + self.missed)
    }
}
