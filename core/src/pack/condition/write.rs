//! Instructions as words.

use heapless::Vec;

use super::opcode::{ALWAYS, OWN, PIECE, TEST};
use super::{Among, END, Go, Look, Many, OF_SOME, Test, What, Whose};

impl Go {
    fn half(self) -> u32 {
        match self {
            Self::To(at) => u32::from(at),
            Self::Holds => 0xffff,
            Self::Fails => 0xfffe,
        }
    }
}

impl Look {
    /// How many words its instruction takes.
    #[must_use]
    pub fn length(&self) -> usize {
        match self {
            Self::Always | Self::Own(..) | Self::Piece(..) => 2,
            Self::Test(test) => test.words().len() + 1,
        }
    }

    /// Its instruction: what to look at, and where to go on if it is so and if
    /// it is not.
    #[must_use]
    pub fn words(&self, so: Go, not: Go) -> Vec<u32, 16> {
        let mut words = Vec::new();
        // Sixteen words hold the longest test: head, jumps, eight kinds, which of the
        // parts, three operands.
        let mut put = |word: u32| {
            let _ = words.push(word);
        };
        let jumps = so.half() | (not.half() << 16);
        let asked =
            |op: u32, slot: u16, yes: bool| op | (u32::from(yes) << 15) | (u32::from(slot) << 16);
        match self {
            Self::Always => put(ALWAYS),
            Self::Own(slot, yes) => put(asked(OWN, *slot, *yes)),
            Self::Piece(slot, yes) => put(asked(PIECE, *slot, *yes)),
            Self::Test(test) => {
                let test = test.words();
                let (head, operands) = test.split_first().unwrap_or((&END, &[]));
                put(*head);
                put(jumps);
                operands.iter().for_each(|&word| put(word));
                return words;
            }
        }
        put(jumps);
        words
    }
}

impl Test {
    /// Its head and its operands.
    fn words(&self) -> Vec<u32, 16> {
        let (reach, many, steps) = match self.whose {
            Whose::Own => (0, Many::AtLeast(0), 0),
            Whose::Owner(_) => (1, Many::AtLeast(0), 0),
            Whose::Parts {
                steps, many, among, ..
            } => {
                let some = if among == Among::ALL { 0 } else { OF_SOME };
                (2, many, u32::from(steps) | some)
            }
            Whose::Others { many, .. } => (3, many, 0),
        };
        let (many, n) = match many {
            Many::AtLeast(n) => (0, n),
            Many::Every => (1, 0),
            Many::FewerThan(n) => (2, n),
            Many::Exactly(n) => (3, n),
        };
        let what = match self.what {
            What::State(_) => 0,
            What::Sure(..) => 1,
            What::Within(..) => 2,
            What::Values(..) => 3,
            What::Has(..) => 4,
            What::OutOfSight => 5,
        };
        let head = TEST
            | (reach << 8)
            | (many << 10)
            | (what << 12)
            | (u32::from(self.yes) << 15)
            | (u32::from(n) << 16)
            | (steps << 24);
        let mut words = Vec::new();
        let mut put = |word: u32| {
            let _ = words.push(word);
        };
        put(head);
        match &self.whose {
            Whose::Own => {}
            Whose::Owner(kind) => put(u32::from(*kind)),
            Whose::Parts {
                path, steps, among, ..
            } => {
                for kind in path.iter().take(usize::from(*steps)) {
                    put(u32::from(*kind));
                }
                if *among != Among::ALL {
                    put(among.word());
                }
            }
            Whose::Others { kind, .. } => put(u32::from(*kind)),
        }
        match self.what {
            What::State(state) => put(u32::from(state)),
            What::Sure(state, least) => put(u32::from(state) | (u32::from(least) << 16)),
            What::Within(ask, from, to) | What::Has(ask, from, to) => {
                put(u32::from(ask));
                put(from.cast_unsigned());
                put(to.cast_unsigned());
            }
            What::Values(ask, values) => {
                put(u32::from(ask));
                put(values);
            }
            What::OutOfSight => {}
        }
        words
    }
}
