//! What can be wrong with what a caller says, in plain words.

use core::fmt;

use crate::lookup::NotKnown;
use crate::words::{Dimension, Reading, Unit};
use crate::work::Refused;

/// Why something could not be done. Nothing has changed then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Error<'t> {
    /// The words name nothing that the rules, or the piece, know.
    NotKnown(NotKnown<'t>),
    /// The sign is answered otherwise.
    WrongKind {
        /// The words of the sign.
        sign: &'t str,
        /// How it is answered.
        wants: Wants,
    },
    /// A measure that cannot be read.
    NotAMeasure(&'t str),
    /// The choice has no such value.
    NoSuchChoice {
        /// The words of the sign.
        sign: &'t str,
        /// The value.
        value: &'t str,
    },
    /// A measure or number that cannot be.
    OutOfRange {
        /// The words of the sign.
        sign: &'t str,
        /// The least that can be, in ticks if it is a measure.
        least: i32,
        /// The most.
        most: i32,
        /// The unit of a measure.
        unit: Option<Unit>,
    },
    /// The piece has no such parts to count.
    NothingToCount(&'t str),
    /// There cannot be so many parts.
    Count {
        /// The words of the parts.
        what: &'t str,
        /// The fewest.
        least: u8,
        /// The most.
        most: u8,
    },
    /// The answers cannot all be true.
    Clash,
    /// It cannot be noted.
    Refused(Refused),
}

/// How a sign is answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wants {
    /// With yes or no, or what it looks like.
    YesOrNo,
    /// With one of some values.
    Choice,
    /// With a measure in such a unit.
    Measure(Unit),
    /// With a number of parts.
    Number,
}

impl fmt::Display for Error<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::NotKnown(not_known) => not_known.fmt(f),
            Self::WrongKind { sign, wants } => write!(f, "“{sign}” is answered with {wants}"),
            Self::NotAMeasure(text) => {
                write!(f, "“{text}” is no measure with its unit, such as 3.5 mm")
            }
            Self::NoSuchChoice { sign, value } => {
                write!(f, "“{sign}” has no value called “{value}”")
            }
            Self::OutOfRange {
                sign,
                least,
                most,
                unit: Some(unit),
            } => {
                let reading = |ticks| Reading { ticks, unit };
                write!(
                    f,
                    "“{sign}” is from {} to {}",
                    reading(least),
                    reading(most)
                )
            }
            Self::OutOfRange {
                sign, least, most, ..
            } => write!(f, "“{sign}” is from {least} to {most}"),
            Self::NothingToCount(what) => write!(f, "this piece has no “{what}” to count"),
            Self::Count { what, least, most } => {
                write!(f, "there can be {least} to {most} “{what}”")
            }
            Self::Clash => f.write_str("the answers cannot all be true under these rules"),
            Self::Refused(Refused::TooLarge) => {
                f.write_str("there is too little memory for so many parts")
            }
            Self::Refused(Refused::OtherPack) => f.write_str("it was noted under other rules"),
            Self::Refused(Refused::NoSuch) => f.write_str("there is no such part or question"),
            Self::Refused(Refused::OutOfTurn) => f.write_str("no piece is begun"),
        }
    }
}

impl core::error::Error for Error<'_> {}

impl fmt::Display for Wants {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::YesOrNo => "yes or no",
            Self::Choice => "one of its values",
            Self::Measure(Unit::PerCent) => "a measure in per cent, such as 12 %",
            Self::Measure(unit) if unit.dimension() == Dimension::Time => "a time, such as 3 weeks",
            Self::Measure(unit) if unit.dimension() == Dimension::Weight => {
                "a weight, such as 12 kg"
            }
            Self::Measure(_) => "a measure, such as 3.5 mm",
            Self::Number => "a number of parts",
        })
    }
}
