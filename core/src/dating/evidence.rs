//! What a finding says of each decade, and of whether a part is as old as what
//! it is built into.

use super::first_year;
use crate::number::Number;
use crate::pack::{Bound, Dating, NONE, Pack};
use crate::piece::Part;

/// A finding on one part that speaks of when it was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Evidence {
    /// Index of the part.
    pub part: usize,
    /// What was found, by a number. All that one finding says of a part counts
    /// once, by what fits worst: "not earlier than 1780" and "usually from 1795 to
    /// 1830" of one lion mask are not two lion masks.
    pub finding: u32,
    /// What it says.
    pub bound: Bound,
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

/// How likely a part that is as old as what it is built into fits no trace on it,
/// beside a later one, in thousandths: weak, fair, strong. A choice of this
/// project: a plate that was moved, or a face that was cleaned, leaves none.
const NO_TRACE: [u16; 3] = [250, 50, 2];

impl Evidence {
    /// What a dating that holds for a part says of its age; `None` if it says
    /// nothing of that: it speaks of something lost, or of parts that are built
    /// into something else.
    #[must_use]
    pub fn of(pack: &Pack<'_>, parts: &[Part], dating: &Dating, part: usize) -> Option<Self> {
        let speaks = match dating.bound {
            Bound::NotEarlier(_) | Bound::NotLater(_) | Bound::Usually(..) => true,
            Bound::Later(kind) => {
                let owner = parts.get(part).map_or(NONE, |p| p.owner);
                parts.get(usize::from(owner)).is_some_and(|owner| {
                    pack.place(usize::from(owner.place)).kind == kind
                        || (kind == 0 && owner.owner == NONE)
                })
            }
            Bound::Lost(_) => false,
        };
        speaks.then_some(Self {
            part,
            finding: dating.condition,
            bound: dating.bound,
            strength: dating.strength,
        })
    }

    /// How likely the finding is on a part that is as old as what it is built
    /// into, in thousandths of the likelihood on a later one.
    #[must_use]
    pub fn as_old(&self) -> u16 {
        match self.bound {
            Bound::Later(_) => by_strength(NO_TRACE, self.strength),
            _ => 1000,
        }
    }

    /// How likely the finding is on a part made in this decade, in thousandths
    /// of the likelihood in the years that fit it. A decade that fits in part
    /// counts in part.
    #[must_use]
    pub fn likelihood(&self, decade: usize) -> u16 {
        let outside = match self.bound {
            Bound::Usually(..) => UNUSUAL,
            _ => OUTSIDE,
        };
        let outside = by_strength(outside, self.strength);
        let fits = self.fitting_years(decade);
        // Ten years in a decade; never over a thousand.
        (fits * 1000 + (10 - fits) * outside) / 10
    }

    /// Whether any year of the decade fits, if this is a bound to be held to:
    /// weak evidence and what is only usual never binds.
    #[must_use]
    pub fn allows(&self, decade: usize) -> bool {
        self.strength == 0
            || matches!(self.bound, Bound::Usually(..))
            || self.fitting_years(decade) > 0
    }

    /// How many of the ten years of a decade fit.
    fn fitting_years(&self, decade: usize) -> u16 {
        let first = first_year(decade);
        let (from, to) = match self.bound {
            Bound::NotEarlier(year) => (year, u16::MAX),
            Bound::NotLater(year) => (0, year),
            Bound::Usually(from, to) => (from, to),
            Bound::Later(_) | Bound::Lost(_) => (0, u16::MAX),
        };
        let from = from.max(first);
        let past = to.saturating_add(1).min(first + 10);
        past.saturating_sub(from).min(10)
    }
}

/// What all findings on a part come to: of what one finding says the least, of
/// different ones the product.
pub(super) fn all_on<N: Number>(
    evidence: &[Evidence],
    part: usize,
    says: impl Fn(&Evidence) -> u16,
) -> N {
    let mut all = N::ONE;
    for (i, one) in evidence.iter().enumerate() {
        let same = |e: &&Evidence| e.part == part && e.finding == one.finding;
        if one.part == part && !evidence.iter().take(i).any(|e| same(&e)) {
            let least = evidence.iter().filter(same).map(&says).min();
            all = all.times(thousandths(least.unwrap_or(1000)));
        }
    }
    all
}

pub(super) fn by_strength(shares: [u16; 3], strength: u8) -> u16 {
    let [_, fair, _] = shares;
    shares.get(usize::from(strength)).copied().unwrap_or(fair)
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
