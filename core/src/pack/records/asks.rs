//! What can be asked of a part.

use crate::pack::layout::{Field, layout, variants};

variants! {
    /// How something is found out.
    #[derive(Default)]
    Way: u8 {
        /// With the eye.
        #[default]
        See = 0,
        /// With the hand.
        Feel = 1,
        /// With the ear.
        Hear = 2,
        /// With the nose.
        Smell = 3,
        /// From the owner.
        Ask = 4,
        /// With a gauge.
        Measure = 5,
        /// By counting.
        Count = 6,
        /// Not asked: worked out from other measures.
        WorkOut = 8,
        ..
        /// By taking it apart.
        Open = 7
    }
}

variants! {
    /// How far a check interferes with the piece.
    #[derive(Default, PartialOrd, Ord)]
    Touch: u8 {
        /// Looking, asking.
        #[default]
        Nothing = 0,
        /// Pressing, pulling.
        ALittle = 1,
        ..
        /// Opening, taking off.
        ALot = 2
    }
}

/// What an answer looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Yes or no.
    Whether,
    /// One of some values.
    Which {
        /// Text: the first value; they stand together.
        first: u16,
        /// How many.
        values: u16,
    },
    /// A reading.
    HowMuch {
        /// Smallest reading, in ticks.
        least: i32,
        /// Largest reading, in ticks.
        most: i32,
        /// One standard deviation of hand and gauge, in ticks.
        gauge: u16,
        /// The unit it is asked in (see `FORMAT.md`).
        unit: u8,
    },
    /// How many parts.
    HowMany {
        /// The kind of the parts.
        part: u16,
    },
    /// How far something is so, in degrees that go up from "not at all".
    Degrees {
        /// Text: the lowest degree; they stand together.
        first: u16,
        /// How many, with "not at all".
        values: u16,
    },
}

impl Form {
    /// The texts that an answer is chosen from: the first, and how many.
    #[must_use]
    pub fn choices(self) -> Option<(u16, u16)> {
        match self {
            Self::Which { first, values } | Self::Degrees { first, values } => {
                Some((first, values))
            }
            _ => None,
        }
    }
}

/// From a form's first byte to its unit, its gauge and its two words. (The slip stands
/// between unit and gauge.)
const UNIT: usize = 1;
const GAUGE: usize = 4;
const FIRST: usize = 6;
const SECOND: usize = 10;

impl Field for Form {
    #[inline(always)]
    fn read(words: &[u32], at: usize) -> Self {
        match u8::read(words, at) {
            0 => Self::Whether,
            1 => Self::Which {
                first: u16::read(words, at + FIRST),
                values: u16::read(words, at + FIRST + 2),
            },
            2 => Self::HowMuch {
                least: i32::read(words, at + FIRST),
                most: i32::read(words, at + SECOND),
                gauge: u16::read(words, at + GAUGE),
                unit: u8::read(words, at + UNIT),
            },
            4 => Self::Degrees {
                first: u16::read(words, at + FIRST),
                values: u16::read(words, at + FIRST + 2),
            },
            _ => Self::HowMany {
                part: u16::read(words, at + FIRST),
            },
        }
    }

    fn write(&self, words: &mut [u32], at: usize) {
        let which: u8 = match self {
            Self::Whether => 0,
            Self::Which { first, values } => {
                first.write(words, at + FIRST);
                values.write(words, at + FIRST + 2);
                1
            }
            Self::HowMuch {
                least,
                most,
                gauge,
                unit,
            } => {
                least.write(words, at + FIRST);
                most.write(words, at + SECOND);
                gauge.write(words, at + GAUGE);
                unit.write(words, at + UNIT);
                2
            }
            Self::HowMany { part } => {
                part.write(words, at + FIRST);
                3
            }
            Self::Degrees { first, values } => {
                first.write(words, at + FIRST);
                values.write(words, at + FIRST + 2);
                4
            }
        };
        which.write(words, at);
    }
}

layout! {
    /// Something that can be asked of a part.
    Ask: 7 words {
        /// The kind it is asked of.
        kind: u16, at 0;
        /// Text: the question on the screen; empty if no round asks it.
        question: u16, at 2;
        /// Text: how to check.
        how: u16, at 4;
        /// Text: "worn", "point": the words of a measure or choice.
        phrase: u16, at 6;
        /// Text: "wide", "much": how it is measured.
        word: u16, at 8;
        /// How it is found out.
        way: Way, at 12;
        /// How far that interferes.
        touch: Touch, at 13;
        /// Minutes it takes.
        minutes: u16, at 10;
        /// How often an ordinary answer is a slip, in thousandths.
        slip: u16, at 16;
        /// What an answer looks like.
        form: Form, at 14;
    }
}
