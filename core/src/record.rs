//! What is noted at the bench, one thing at a time.
//!
//! The record of a piece is a row of [`Noted`]: it is begun, its parts are
//! counted, it is set up, and then answered about, part by part. Nothing is
//! ever rubbed out: an answer is put right by noting another one later. Played
//! back in order, a record brings a piece back to where it was.
//!
//! Each takes [`BODY`] bytes, whatever it says, in a layout that never changes:
//! what it is, a byte more, two numbers of 16 bits and one of 32, the low byte
//! first. What comes before and after them (a number, a check sum) is the
//! business of those who store or send them.

use crate::piece::Answer;

/// Bytes of one thing noted.
pub const BODY: usize = 10;

/// One thing noted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Noted {
    /// A new piece, which stands at this place of the pack.
    Begun {
        /// Its place in the pack's tree.
        root: u16,
        /// The pack's own check sum.
        pack: u32,
    },
    /// While a piece is begun: an owner has so many parts. What is not counted
    /// is as usual.
    Parts {
        /// Index of the owner.
        owner: u16,
        /// Place of the parts in the pack's tree.
        place: u16,
        /// How many.
        number: u8,
    },
    /// The piece begun stands as counted; answers can follow.
    SetUp {
        /// How many parts it has in all.
        parts: u16,
    },
    /// An answer.
    Answered {
        /// Index of the part.
        part: u16,
        /// Number of the ask in the pack.
        ask: u16,
        /// What was answered.
        answer: Answer,
    },
    /// A part cannot be seen at all, or can after all.
    OutOfSight {
        /// Index of the part.
        part: u16,
        /// It cannot.
        out_of_sight: bool,
    },
    /// A caution was read and heeded.
    Heeded {
        /// Number of the caution in the pack.
        caution: u16,
        /// Index of the part it is about.
        part: u16,
    },
    /// The inspection is finished.
    Finished,
    /// A remark of the house's own list was made.
    Remarked {
        /// Index of the part.
        part: u16,
        /// Number of the remark in the pack.
        remark: u16,
    },
}

impl Noted {
    /// Its bytes.
    #[must_use]
    pub fn to_bytes(self) -> [u8; BODY] {
        let (what, more, first, second, value) = match self {
            Self::Begun { root, pack } => (1, 0, root, 0, pack),
            Self::Parts {
                owner,
                place,
                number,
            } => (2, number, owner, place, 0),
            Self::SetUp { parts } => (3, 0, parts, 0, 0),
            Self::Answered { part, ask, answer } => {
                let (form, value) = match answer {
                    Answer::NotLooked => (0, 0),
                    Answer::CannotSee => (1, 0),
                    Answer::Seen(yes) => (2, u32::from(yes)),
                    Answer::Looks(yes) => (3, u32::from(yes)),
                    Answer::Certain(yes) => (4, u32::from(yes)),
                    Answer::Reading(ticks) | Answer::Tabled(ticks, _) => (5, ticks.cast_unsigned()),
                    Answer::Value(value) => (6, u32::from(value)),
                };
                (4, form, part, ask, value)
            }
            Self::OutOfSight { part, out_of_sight } => (5, u8::from(out_of_sight), part, 0, 0),
            Self::Heeded { caution, part } => (6, 0, caution, part, 0),
            Self::Finished => (7, 0, 0, 0, 0),
            Self::Remarked { part, remark } => (8, 0, part, remark, 0),
        };
        let ([a, b], [c, d], [e, f, g, h]) = (
            first.to_le_bytes(),
            second.to_le_bytes(),
            value.to_le_bytes(),
        );
        [what, more, a, b, c, d, e, f, g, h]
    }

    /// From its bytes; `None` for bytes that [`to_bytes`](Self::to_bytes) never
    /// makes.
    #[must_use]
    pub fn from_bytes(bytes: [u8; BODY]) -> Option<Self> {
        let [what, more, a, b, c, d, e, f, g, h] = bytes;
        let first = u16::from_le_bytes([a, b]);
        let second = u16::from_le_bytes([c, d]);
        let value = u32::from_le_bytes([e, f, g, h]);
        let noted = match what {
            1 => Self::Begun {
                root: first,
                pack: value,
            },
            2 => Self::Parts {
                owner: first,
                place: second,
                number: more,
            },
            3 => Self::SetUp { parts: first },
            4 => Self::Answered {
                part: first,
                ask: second,
                answer: match more {
                    0 => Answer::NotLooked,
                    1 => Answer::CannotSee,
                    2 => Answer::Seen(value == 1),
                    3 => Answer::Looks(value == 1),
                    4 => Answer::Certain(value == 1),
                    5 => Answer::Reading(value.cast_signed()),
                    6 => Answer::Value(low_byte(value)),
                    _ => return None,
                },
            },
            5 => Self::OutOfSight {
                part: first,
                out_of_sight: more == 1,
            },
            6 => Self::Heeded {
                caution: first,
                part: second,
            },
            7 => Self::Finished,
            8 => Self::Remarked {
                part: first,
                remark: second,
            },
            _ => return None,
        };
        (noted.to_bytes() == bytes).then_some(noted)
    }
}

/// The lowest byte; a larger value is refused afterwards.
fn low_byte(value: u32) -> u8 {
    let [low, ..] = value.to_le_bytes();
    low
}
