//! What follows where a condition holds for parts of one kind: jobs, cautions, dates.

use crate::pack::layout::{Field, layout};

layout! {
    /// What triggers a job: a condition on parts of one kind.
    #[derive(Default)]
    Plan: 3 words {
        /// The kind it is about.
        subject: u16, at 0;
        /// The job.
        job: u16, at 2;
        /// First word of the condition.
        condition: u32, at 4;
        /// Text: the source.
        source: u16, at 8;
    }
}

layout! {
    /// A caution: a condition on parts of one kind, and what to say.
    #[derive(Default)]
    Caution: 3 words {
        /// The kind it is about.
        subject: u16, at 0;
        /// Text: what the screen says.
        text: u16, at 2;
        /// First word of the condition.
        condition: u32, at 4;
        /// Text: the source.
        source: u16, at 8;
        /// Stop, rather than take care.
        stop: bool, at 10;
    }
}

/// What a dating says of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// Made in this year or later.
    NotEarlier(u16),
    /// Made in this year or earlier.
    NotLater(u16),
    /// Mostly made from the first of these years to the second.
    Usually(u16, u16),
    /// Fits no trace, so made after what it is built into, where that is of this
    /// kind.
    Later(u16),
    /// Shows the trace of something that is gone; the text says of what. Nothing
    /// follows for when it was made.
    Lost(u16),
}

impl Default for Bound {
    fn default() -> Self {
        Self::NotEarlier(0)
    }
}

/// Two numbers, and then a byte that says what they are.
impl Field for Bound {
    #[inline(always)]
    fn read(words: &[u32], at: usize) -> Self {
        let [first, second] = <[u16; 2]>::read(words, at);
        match u8::read(words, at + 4) {
            0 => Self::NotEarlier(first),
            1 => Self::NotLater(first),
            2 => Self::Usually(first, second),
            3 => Self::Later(first),
            _ => Self::Lost(first),
        }
    }

    fn write(&self, words: &mut [u32], at: usize) {
        let (which, numbers): (u8, [u16; 2]) = match *self {
            Self::NotEarlier(year) => (0, [year, 0]),
            Self::NotLater(year) => (1, [year, 0]),
            Self::Usually(from, to) => (2, [from, to]),
            Self::Later(kind) => (3, [kind, 0]),
            Self::Lost(what) => (4, [what, 0]),
        };
        numbers.write(words, at);
        which.write(words, at + 4);
    }
}

layout! {
    /// A dating: a condition on parts of one kind, and what it says of when they were
    /// made.
    #[derive(Default)]
    Dating: 4 words {
        /// The kind it dates.
        subject: u16, at 0;
        /// Text: the source.
        source: u16, at 2;
        /// First word of the condition.
        condition: u32, at 4;
        /// What it says.
        bound: Bound, at 8;
        /// 0 weak, 1 fair, 2 strong.
        strength: u8, at 13;
        /// 0 anywhere, 1 Britain, 2 America.
        region: u8, at 14;
    }
}
