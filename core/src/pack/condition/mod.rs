//! Conditions as programs of a pack.
//!
//! A program is a row of instructions. Each tests something and says where to go on
//! if it is so and where if it is not; two targets stand for "the condition holds"
//! and "it does not". Jumps only ever go forwards. The word layout is given in
//! `core/src/pack/FORMAT.md`; the module `logic` runs the programs over a piece.
//!
//! - `write`: instructions as words;
//! - `read`: words as instructions;
//! - `check`: whether a program can be run at all.

mod check;
mod read;
mod write;

pub(super) use check::is_sound;
pub(crate) use read::Reader;

use super::Pack;
use crate::limits::MAX_DEPTH;

/// Beside the number of steps down: only some of the parts are meant, and a word says which.
const OF_SOME: u32 = 0x80;

/// Ends a program.
pub const END: u32 = 0;
/// The low byte of an instruction's first word: what it looks at.
pub(crate) mod opcode {
    /// Anything that the others do not say.
    pub(crate) const TEST: u32 = 1;
    /// A yes/no ask of the subject.
    pub(crate) const OWN: u32 = 2;
    /// A yes/no ask of the piece.
    pub(crate) const PIECE: u32 = 3;
    /// Nothing: it is always so.
    pub(crate) const ALWAYS: u32 = 4;
}

/// Where to go on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Go {
    /// The instruction that starts this many words into the program.
    To(u16),
    /// Nowhere: the condition holds.
    Holds,
    /// Nowhere: it does not.
    Fails,
}

/// One look of a condition at what is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// Always so.
    Always,
    /// The answer to one of the subject's yes/no asks, by its number among the
    /// asks of its kind, is yes (or is no).
    Own(u16, bool),
    /// The same of one of the asks that any piece has, about the piece.
    Piece(u16, bool),
    /// Anything else.
    Test(Test),
}

/// Which parts a test is about, seen from the subject.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// The subject.
    Own,
    /// Its nearest owner of this kind (0: the piece).
    Owner(u16),
    /// Its parts, down these kinds.
    Parts {
        /// The kinds on the way, in order; the first `steps` count.
        path: [u16; MAX_DEPTH],
        /// How many steps.
        steps: u8,
        /// How many of the parts it must be true of.
        many: Many,
        /// Which parts of the last step are meant.
        among: Among,
    },
    /// Its owner's parts of this kind, but not the subject.
    Others {
        /// Their kind.
        kind: u16,
        /// How many of them it must be true of.
        many: Many,
    },
}

/// Some of the parts that an owner has of one kind, by their numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Among(u32);

impl Among {
    /// All of them.
    pub const ALL: Self = Self(0);
    /// The last one.
    pub const LAST: Self = Self(1 << 31);
    /// All but those that are named.
    const EXCEPT: u32 = 1 << 30;
    /// The highest number that a part can be named by.
    pub const MOST: u8 = 30;

    /// The part with this number, from 1; none, of a number over [`Self::MOST`].
    #[must_use]
    pub fn number(number: u8) -> Option<Self> {
        let bit = number.checked_sub(1).filter(|&bit| bit < Self::MOST)?;
        1_u32.checked_shl(bit.into()).map(Self)
    }

    /// These and the others.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// All but these.
    #[must_use]
    pub fn others(self) -> Self {
        Self(self.0 ^ Self::EXCEPT)
    }

    /// From the word that stands in a pack.
    #[must_use]
    pub fn of_word(word: u32) -> Self {
        Self(word)
    }

    /// As a word of a pack.
    #[must_use]
    pub fn word(self) -> u32 {
        self.0
    }

    /// Whether a part with this number is among them; `last` says that it is the last.
    #[must_use]
    pub fn has(self, number: u8, last: bool) -> bool {
        let is_named = Self::number(number).is_some_and(|one| self.0 & one.0 != 0);
        let is_there = is_named || (last && self.0 & Self::LAST.0 != 0);
        self == Self::ALL || is_there != (self.0 & Self::EXCEPT != 0)
    }
}

/// How many of the parts a test must be true of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Many {
    /// At least so many.
    AtLeast(u8),
    /// Every one.
    Every,
    /// Fewer than so many.
    FewerThan(u8),
    /// So many, no more and no fewer.
    Exactly(u8),
}

/// What a test asks of each of those parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// A state holds.
    State(u16),
    /// A hidden state is at least this sure, in thousandths.
    Sure(u16, u16),
    /// A reading lies within bounds, both included: ask, from, to.
    Within(u16, i32, i32),
    /// A choice is one of these values (a bit each).
    Values(u16, u32),
    /// It has so many parts of a kind: kind, from, to.
    Has(u16, i32, i32),
    /// It cannot be seen.
    OutOfSight,
}

/// One test of a condition.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Test {
    /// Which parts.
    pub whose: Whose,
    /// What is asked of them.
    pub what: What,
    /// Whether it must be so, or must not.
    pub yes: bool,
}

/// What a condition looks at, if it looks at one thing only.
pub(crate) fn only_look(pack: &Pack<'_>, at: u32) -> Option<Look> {
    let words = pack.condition(at);
    let mut reader = Reader { words, at: 0 };
    let only = reader.next()?;
    let is_plain = only.so == Go::Holds && only.not == Go::Fails;
    (is_plain && reader.word() == Some(END)).then_some(only.look)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pack::NONE;

    #[test]
    fn parts_are_named_by_their_numbers() {
        let third = Among(1 << 2);
        assert_eq!(Among::number(3), Some(third));
        assert!(third.has(3, false) && !third.has(2, false) && !third.has(4, true));
        assert_eq!(Among::number(0), None);
        assert!(Among::number(30).is_some_and(|one| one.has(30, false)));
        assert_eq!(Among::number(31), None);
        let both = third.and(Among::LAST);
        assert!(both.has(3, false) && both.has(9, true) && !both.has(9, false));
        let rest = both.others();
        assert!(!rest.has(3, false) && !rest.has(9, true) && rest.has(9, false));
        assert_eq!(rest.others(), both);
        assert!(Among::ALL.has(1, false) && Among::ALL.has(31, true));
    }

    /// One look of every shape.
    fn looks() -> impl Iterator<Item = Look> {
        let mut path = [NONE; MAX_DEPTH];
        for (step, kind) in path.iter_mut().zip(3..) {
            *step = kind;
        }
        let of_some = |many, among| Whose::Parts {
            path,
            steps: 8,
            many,
            among,
        };
        let parts = |many| of_some(many, Among::ALL);
        let whose = [
            of_some(Many::AtLeast(1), Among::LAST),
            Whose::Others {
                kind: 0x1234,
                many: Many::FewerThan(2),
            },
            Whose::Own,
            Whose::Owner(0x1234),
            parts(Many::AtLeast(200)),
            parts(Many::Every),
            parts(Many::FewerThan(1)),
            parts(Many::Exactly(255)),
        ];
        let what = [
            What::State(0xfffe),
            What::Sure(7, 999),
            What::Within(8, i32::MIN, -1),
            What::Values(9, u32::MAX),
            What::Has(10, 2, i32::MAX),
            What::OutOfSight,
        ];
        let tests = whose.into_iter().flat_map(move |whose| {
            what.into_iter().flat_map(move |what| {
                [true, false].map(|yes| Look::Test(Test { whose, what, yes }))
            })
        });
        [
            Look::Always,
            Look::Own(0xffff, true),
            Look::Own(0, false),
            Look::Piece(0x1234, false),
        ]
        .into_iter()
        .chain(tests)
    }

    #[test]
    fn an_instruction_is_read_as_it_was_written() {
        for look in looks() {
            for (so, not) in [(Go::Holds, Go::To(9)), (Go::To(0xfffd), Go::Fails)] {
                // The path beyond its steps is not kept: here it has none.
                let words = look.words(so, not);
                assert_eq!(words.len(), look.length(), "{look:?}");
                let mut reader = Reader {
                    words: &words,
                    at: 0,
                };
                let read = reader.next().map(|read| (read.look, read.so, read.not));
                assert_eq!(read, Some((look, so, not)));
                assert_eq!(reader.at, words.len(), "all of it was read");
            }
        }
    }

    #[test]
    fn an_instruction_that_is_cut_off_is_not_read() {
        for look in looks() {
            let words = look.words(Go::Holds, Go::Fails);
            for length in 0..words.len() {
                let mut reader = Reader {
                    words: words.get(..length).unwrap_or(&[]),
                    at: 0,
                };
                assert!(reader.next().is_none(), "{length} words of {look:?}");
            }
        }
    }
}
