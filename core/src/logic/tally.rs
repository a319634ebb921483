//! How many of some parts a test holds for, as far as that is known.

use crate::pack::condition::Many;
use crate::truth::Truth;

/// How many parts were looked at, and how many it is so of.
#[derive(Default)]
pub(super) struct Tally {
    yes: usize,
    unknown: usize,
    all: usize,
}

impl Tally {
    /// With one part more.
    pub(super) fn add(&mut self, truth: Truth) {
        self.all += 1;
        match truth {
            Truth::True => self.yes += 1,
            Truth::NotKnown => self.unknown += 1,
            Truth::False => {}
        }
    }

    fn at_least(&self, n: usize) -> Truth {
        if self.yes >= n {
            Truth::True
        } else if self.yes + self.unknown >= n {
            Truth::NotKnown
        } else {
            Truth::False
        }
    }

    /// Whether it is so of as many as are wanted.
    pub(super) fn verdict(&self, many: Many) -> Truth {
        match many {
            Many::AtLeast(n) => self.at_least(usize::from(n)),
            Many::Every => self.at_least(self.all),
            Many::FewerThan(n) => !self.at_least(usize::from(n)),
            Many::Exactly(n) => {
                let n = usize::from(n);
                self.at_least(n).and(!self.at_least(n + 1))
            }
        }
    }
}
