//! The directory of belief fragments, and how parts report to their owner.

use crate::pack::layout::{Row, layout};

layout! {
    /// The directory entry of a belief fragment: how the states of one place
    /// depend on each other, on the states of its owners that it reads and on its
    /// own parts.
    #[derive(Default)]
    Fragment: 4 words {
        /// First word of its program in the code section.
        code: u32, at 0;
        /// States of owners that it reads.
        reads: u8, at 4;
        /// States of its owner that it feeds.
        feeds: u8, at 5;
        /// Kinds of part that are built into it.
        groups: u8, at 6;
        /// Constants.
        constants: u16, at 8;
        /// States.
        states: u16, at 10;
        /// Entries of its parts' tables, all groups together.
        table: u16, at 12;
        /// Sums and products.
        steps: u16, at 14;
    }
}

/// Words of one group description in a fragment's program.
pub const GROUP_WORDS: usize = <Group as Row>::WORDS;

impl Fragment {
    /// Entries of its message: two to the power of reads and feeds.
    #[must_use]
    pub fn entries(&self) -> usize {
        1 << (u32::from(self.reads) + u32::from(self.feeds)).min(24)
    }

    /// Numbers that running it needs, of each of two kinds.
    #[must_use]
    pub fn nodes(&self) -> usize {
        usize::from(self.constants)
            + 2 * usize::from(self.states)
            + usize::from(self.table)
            + usize::from(self.steps)
    }

    /// Words of its program.
    #[must_use]
    pub fn code_words(&self) -> usize {
        2 * usize::from(self.constants)
            + self.entries().div_ceil(2)
            + GROUP_WORDS * usize::from(self.groups)
            + usize::from(self.steps)
    }
}

layout! {
    /// How the parts of one kind report to their owner.
    #[derive(Default, Hash)]
    Group: 9 words {
        /// States that they read.
        reads: u8, at 0;
        /// States that they feed.
        feeds: u8, at 1;
        /// First entry in the owner's table.
        table: u16, at 2;
        /// For each feed, how far the owner counts (1: some or none).
        caps: [u8; 12], at 4;
        /// For each read, where the owner has the state: one of its own (its
        /// number), one it reads itself (number + [`Group::READ`]), or neither
        /// ([`NONE`](crate::pack::NONE): a helper state).
        sources: [u16; 10], at 16;
    }
}

impl Group {
    /// Added to a source that the owner only passes on.
    pub const READ: u16 = 0x8000;

    /// Ways in which the feeds can have come out, counted up to their caps.
    #[must_use]
    pub fn outcomes(&self) -> usize {
        self.caps
            .iter()
            .take(usize::from(self.feeds))
            .fold(1, |n: usize, &cap| n.saturating_mul(usize::from(cap) + 1))
    }

    /// Entries in the owner's table; the largest number there is if there would be
    /// more of them than that.
    #[must_use]
    pub fn entries(&self) -> usize {
        let (outcomes, reads) = (self.outcomes(), u32::from(self.reads).min(16));
        if outcomes > usize::MAX >> reads {
            usize::MAX
        } else {
            outcomes << reads
        }
    }
}
