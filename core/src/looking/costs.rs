//! What a fault costs, missed or planned for nothing.

use crate::pack::{Pack, State};

/// What a risk is reckoned to cost beside the hours, in minutes: nothing, half
/// an hour, two hours, a day, a week. A choice of this project, for risks 1
/// (nuisance) to 5 (loss of the piece or injury).
const RISK: [u32; 6] = [0, 0, 30, 120, 480, 2_400];
/// What a job is reckoned to take when no job says that it mends the fault.
const NO_JOB: u32 = 60;

/// Minutes of bench time, in 4 096ths.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Minutes(u32);

impl Minutes {
    /// No time.
    pub const NOTHING: Self = Self(0);

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

/// What a fault costs, in minutes: missed, and planned for nothing. Both are
/// below 2¹⁷.
#[must_use]
pub fn costs(pack: &Pack<'_>, state: u16, record: &State) -> (u32, u32) {
    let risk = RISK.get(usize::from(record.risk)).copied().unwrap_or(0);
    let mending = (0..pack.pairs())
        .map(|row| pack.pair(row))
        .filter(|pair| pair.mends && pair.other == state)
        .map(|pair| u32::from(pack.job(usize::from(pair.job)).takes[1]))
        .filter(|&minutes| minutes > 0);
    (
        u32::from(record.missed) + risk,
        mending.min().unwrap_or(NO_JOB),
    )
}
