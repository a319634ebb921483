//! What a finding says of each decade.

use super::first_year;
use crate::number::Number;
use crate::pack::Bound;

/// A finding on one part that speaks of when it was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Evidence {
    /// Index of the part.
    pub part: usize,
    /// Which way it binds.
    pub bound: Bound,
    /// The year, or the first and last of the usual years.
    pub years: [u16; 2],
    /// 0 weak, 1 fair, 2 strong.
    pub strength: u8,
}

/// How likely the finding is outside its years, beside inside them, in
/// thousandths: weak, fair, strong. A choice of this project: one finding in
/// four, in twenty, in five hundred is out of its time.
const OUTSIDE: [u16; 3] = [250, 50, 2];
/// The same of what is only usual: two in five, one in seven, one in twenty.
/// Country work lags, and everything has been made again since.
const UNUSUAL: [u16; 3] = [400, 150, 50];

impl Evidence {
    /// How likely the finding is on a part made in this decade, in thousandths
    /// of the likelihood in the years that fit it. A decade that fits in part
    /// counts in part.
    #[must_use]
    pub fn likelihood(&self, decade: usize) -> u16 {
        let outside = match self.bound {
            Bound::Usually => UNUSUAL,
            Bound::NotEarlier | Bound::NotLater => OUTSIDE,
        };
        let outside = outside
            .get(usize::from(self.strength))
            .copied()
            .unwrap_or(outside[1]);
        let fits = self.fitting_years(decade);
        // Ten years in a decade; never over a thousand.
        (fits * 1000 + (10 - fits) * outside) / 10
    }

    /// Whether any year of the decade fits, if this is a bound to be held to:
    /// weak evidence and what is only usual never binds.
    #[must_use]
    pub fn allows(&self, decade: usize) -> bool {
        self.strength == 0 || self.bound == Bound::Usually || self.fitting_years(decade) > 0
    }

    /// How many of the ten years of a decade fit.
    fn fitting_years(&self, decade: usize) -> u16 {
        let first = first_year(decade);
        let [from, to] = match self.bound {
            Bound::NotEarlier => [self.years[0], u16::MAX],
            Bound::NotLater => [0, self.years[0]],
            Bound::Usually => self.years,
        };
        let from = from.max(first);
        let past = to.saturating_add(1).min(first + 10);
        past.saturating_sub(from).min(10)
    }
}

/// So many thousandths as a number.
pub(super) fn thousandths<N: Number>(n: u16) -> N {
    part::<N>(u64::from(n), 1000)
}

/// `some / all`, for small whole numbers.
#[allow(clippy::float_arithmetic, clippy::cast_precision_loss)]
pub(super) fn part<N: Number>(some: u64, all: u64) -> N {
    // One division of small whole numbers: the same on every machine.
    N::from_f64_bits((some as f64 / all.max(1) as f64).to_bits())
}
