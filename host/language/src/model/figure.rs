//! Chances, quantities, and the words for how often and how sure.

use tellmark_core::sureness;

/// A chance in whole thousandths, so that a pack is the same on every machine.
#[derive(
    serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord,
)]
pub struct Thousandths(pub u16);

/// A quantity as a whole number of ticks: 25 nm for a length (1 mm = 40 000,
/// 1/64 in = 15 875, both exact), a hundredth of one per cent for a share, a sixteenth of a day for a
/// time (a month is 487, a twelfth of 365 1/4 days).
pub type Ticks = i32;

/// A time in whole minutes.
pub type Minutes = u32;

/// The words for how often, strongest first.
#[derive(
    serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash,
)]
pub enum Strength {
    /// Nothing but the truth by the meaning of the words; exactly 1.
    ByDefinition,
    /// 99 in 100; also what no strength word means.
    Always,
    /// 19 in 20.
    NearlyAlways,
    /// 8 in 10.
    Usually,
    /// 6 in 10.
    Often,
    /// 3 in 10.
    Sometimes,
    /// 1 in 10; only for what is there on its own.
    Rarely,
    /// 3 in 100; only for what is there on its own.
    HardlyEver,
}

/// A chance as the house wrote it: a word, or "in 7 of 10 cases".
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq)]
pub struct HowOften {
    /// The word, unless the cases were counted.
    pub word: Option<Strength>,
    /// The cases, if they were counted: 7 of 10.
    pub cases: Option<(u32, u32)>,
    /// The figure, with this house's scale.
    pub chance: Thousandths,
}

/// A unit that the house may write.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Metres.
    M,
    /// Inches.
    In,
    /// Feet.
    Ft,
    /// Per cent.
    Percent,
    /// Days.
    Day,
    /// Weeks.
    Week,
    /// Months: a twelfth of a year.
    Month,
    /// Years of 365 1/4 days.
    Year,
    /// Kilograms.
    Kg,
    /// Pounds, of 453.6 grams.
    Lb,
}

impl Unit {
    /// Whether it is one of time.
    #[must_use]
    pub fn is_time(self) -> bool {
        matches!(self, Self::Day | Self::Week | Self::Month | Self::Year)
    }

    /// Whether it is one of weight.
    #[must_use]
    pub fn is_weight(self) -> bool {
        matches!(self, Self::Kg | Self::Lb)
    }

    /// Whole ticks in one of it.
    #[must_use]
    pub fn ticks(self) -> i64 {
        match self {
            Self::Mm => 40_000,
            Self::Cm => 400_000,
            Self::M => 40_000_000,
            Self::In => 1_016_000,
            Self::Ft => 12_192_000,
            Self::Percent => 100,
            Self::Day => 16,
            Self::Week => 112,
            Self::Month => 487,
            Self::Year => 5_844,
            Self::Kg => 10_000,
            Self::Lb => 4_536,
        }
    }
}

/// A mark on a measure or a count: true from `at_least` up (every comparison
/// is one of these or its opposite, since quantities are whole ticks).
#[derive(
    serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord,
)]
pub struct Mark {
    /// The smallest quantity for which it holds.
    pub at_least: Ticks,
    /// The largest for which it holds, if it has an upper end.
    pub at_most: Option<Ticks>,
}

/// How sure one must be of a hidden fault before a plan or caution follows.
#[derive(
    serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash,
)]
pub enum Sureness {
    /// 15 in 100 or more.
    Possibly,
    /// 60 in 100 or more.
    Probably,
    /// 95 in 100 or more.
    Surely,
}

impl Sureness {
    /// The word of the rule language: "surely".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Sureness::Possibly => "possibly",
            Sureness::Probably => "probably",
            Sureness::Surely => "surely",
        }
    }

    /// The chance, in 100, from which the word holds.
    #[must_use]
    pub const fn percent(self) -> u8 {
        sureness::percent(match self {
            Sureness::Possibly => sureness::POSSIBLY,
            Sureness::Probably => sureness::PROBABLY,
            Sureness::Surely => sureness::SURELY,
        })
    }
}
