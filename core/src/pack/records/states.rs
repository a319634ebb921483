//! What may be true of a part.

use crate::pack::layout::{Field, layout, variants};

variants! {
    /// How a state is put into a sentence.
    #[derive(Default)]
    Verb: u8 {
        /// It is so.
        #[default]
        Is = 0,
        /// It shows it.
        Shows = 1,
        ..
        /// It has it (a mark on a count).
        Has = 2
    }
}

variants! {
    /// How a state can be known.
    #[derive(Default)]
    Nature: u8 {
        /// It can be looked at.
        #[default]
        Seen = 0,
        /// Only when the piece is apart.
        Hidden = 1,
        /// By a measure on which no rule concludes it: a mark that only divides a
        /// stretch between two that rules conclude.
        Divides = 3,
        ..
        /// By a measure, a count or a choice.
        Mark = 2
    }
}

/// How an answer decides a state.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trial {
    /// Yes.
    Yes,
    /// A reading or count within these bounds, both included.
    Within(i32, i32),
    /// This choice.
    Value(u8),
}

/// A byte that says which, and then two words.
impl Field for Trial {
    #[inline(always)]
    fn read(words: &[u32], at: usize) -> Self {
        match u8::read(words, at) {
            0 => Self::Yes,
            1 => Self::Within(i32::read(words, at + 1), i32::read(words, at + 5)),
            _ => Self::Value(u8::read(words, at + 1)),
        }
    }

    fn write(&self, words: &mut [u32], at: usize) {
        let which: u8 = match self {
            Self::Yes => 0,
            Self::Within(from, to) => {
                from.write(words, at + 1);
                to.write(words, at + 5);
                1
            }
            Self::Value(value) => {
                value.write(words, at + 1);
                2
            }
        };
        which.write(words, at);
    }
}

layout! {
    /// Something that may be true of a part.
    State: 6 words {
        /// Text: "sagging".
        phrase: u16, at 0;
        /// The kind it is said of.
        kind: u16, at 2;
        /// The ask that decides it.
        ask: u16, at 4;
        /// A yes/no ask that decides it when `ask` has no answer;
        /// [`NONE`](crate::pack::NONE) if none.
        whether: u16, at 6;
        /// How it is put into a sentence.
        verb: Verb, at 8;
        /// How it can be known.
        nature: Nature, at 9;
        /// What finding it late risks, 1 to 5; 0 if the house does not say.
        risk: u8, at 10;
        /// How an answer decides it.
        trial: Trial, at 11;
        /// Extra minutes when it is found late.
        missed: u16, at 20;
        /// Its chance when nothing gives a reason for it, in thousandths. Of a mark that
        /// divides a stretch: how much of the stretch lies above it, if `whether` says
        /// that it has a name; if not, how much of the lowest stretch does not stand at
        /// the smallest reading.
        own: u16, at 22;
    }
}
