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

#[cfg(test)]
mod tests {
    use super::*;
    use Truth::{False, NotKnown, True};

    fn verdict(parts: &[Truth], many: Many) -> Truth {
        let mut tally = Tally::default();
        parts.iter().for_each(|&truth| tally.add(truth));
        tally.verdict(many)
    }

    #[test]
    fn a_number_is_known_only_when_no_part_left_can_change_it() {
        let parts = [True, NotKnown, False];
        assert_eq!(verdict(&parts, Many::AtLeast(1)), True);
        assert_eq!(verdict(&parts, Many::AtLeast(2)), NotKnown);
        assert_eq!(verdict(&parts, Many::AtLeast(3)), False);
        assert_eq!(verdict(&parts, Many::FewerThan(1)), False);
        assert_eq!(verdict(&parts, Many::FewerThan(2)), NotKnown);
        assert_eq!(verdict(&parts, Many::FewerThan(3)), True);
        assert_eq!(verdict(&parts, Many::Exactly(1)), NotKnown);
        assert_eq!(verdict(&parts, Many::Exactly(0)), False);
        assert_eq!(verdict(&[True, False], Many::Exactly(1)), True);
    }

    #[test]
    fn it_is_so_of_every_part_of_none() {
        assert_eq!(verdict(&[], Many::Every), True);
        assert_eq!(verdict(&[], Many::AtLeast(1)), False);
        assert_eq!(verdict(&[True, NotKnown], Many::Every), NotKnown);
    }
}
