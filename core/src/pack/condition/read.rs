//! Words as instructions.

use super::opcode::{ALWAYS, OWN, PIECE, TEST};
use super::{Among, Go, Look, Many, OF_SOME, Test, What, Whose};
use crate::limits::MAX_DEPTH;
use crate::pack::NONE;

impl Go {
    /// What the low half of a word says.
    pub(crate) fn of(half: u32) -> Self {
        match half & 0xffff {
            0xffff => Self::Holds,
            0xfffe => Self::Fails,
            #[allow(clippy::cast_possible_truncation)]
            at => Self::To(at as u16),
        }
    }
}

/// An instruction as it is read.
pub(super) struct Instruction {
    pub(super) look: Look,
    pub(super) so: Go,
    pub(super) not: Go,
}

/// Reads a program instruction by instruction; `None` where it is broken.
pub(crate) struct Reader<'a> {
    pub(crate) words: &'a [u32],
    pub(crate) at: usize,
}

impl Reader<'_> {
    pub(super) fn word(&mut self) -> Option<u32> {
        let word = self.words.get(self.at).copied()?;
        self.at += 1;
        Some(word)
    }

    #[allow(clippy::cast_possible_truncation)]
    fn half(&mut self) -> Option<u16> {
        Some(self.word()? as u16)
    }

    pub(super) fn next(&mut self) -> Option<Instruction> {
        let head = self.word()?;
        let jumps = self.word()?;
        let yes = (head >> 15) & 1 == 1;
        #[allow(clippy::cast_possible_truncation)]
        let slot = (head >> 16) as u16;
        let look = match head & 0xff {
            ALWAYS => Look::Always,
            OWN => Look::Own(slot, yes),
            PIECE => Look::Piece(slot, yes),
            TEST => Look::Test(self.test(head)?),
            _ => return None,
        };
        Some(Instruction {
            look,
            so: Go::of(jumps),
            not: Go::of(jumps >> 16),
        })
    }

    /// The operands of a test, after its head and its jumps.
    pub(crate) fn test(&mut self, head: u32) -> Option<Test> {
        let n = ((head >> 16) & 0xff).to_le_bytes()[0];
        let many = match (head >> 10) & 3 {
            0 => Many::AtLeast(n),
            1 => Many::Every,
            2 => Many::FewerThan(n),
            _ => Many::Exactly(n),
        };
        let whose = match (head >> 8) & 3 {
            0 => Whose::Own,
            1 => Whose::Owner(self.half()?),
            2 => {
                let steps = head >> 24;
                let of_some = steps & OF_SOME != 0;
                let steps = (steps & !OF_SOME).to_le_bytes()[0];
                let mut path = [NONE; MAX_DEPTH];
                if steps == 0 {
                    return None;
                }
                for step in 0..usize::from(steps) {
                    *path.get_mut(step)? = self.half()?;
                }
                let among = match of_some {
                    true => Among::of_word(self.word()?),
                    false => Among::ALL,
                };
                Whose::Parts {
                    path,
                    steps,
                    many,
                    among,
                }
            }
            _ => Whose::Others {
                kind: self.half()?,
                many,
            },
        };
        #[allow(clippy::cast_possible_truncation)]
        let what = match (head >> 12) & 7 {
            0 => What::State(self.half()?),
            1 => {
                let word = self.word()?;
                What::Sure(word as u16, (word >> 16) as u16)
            }
            2 => What::Within(
                self.half()?,
                self.word()?.cast_signed(),
                self.word()?.cast_signed(),
            ),
            3 => What::Values(self.half()?, self.word()?),
            4 => What::Has(
                self.half()?,
                self.word()?.cast_signed(),
                self.word()?.cast_signed(),
            ),
            5 => What::OutOfSight,
            _ => return None,
        };
        let yes = (head >> 15) & 1 == 1;
        Some(Test { whose, what, yes })
    }
}
