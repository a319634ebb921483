//! How far something is so, as it was judged by eye: one of some degrees in order, from
//! "not at all" up.
//!
//! A judgement is kept as a [`Value`](super::Answer::Value). Its lowest four bits are the
//! degree, so that a plain judgement is the number of its value as in a choice; the next
//! two say whether it names the degree itself or an end, and the top two how sure it is.

use crate::limits::MAX_DEGREE;
use crate::pack::Trial;
use crate::truth::Truth;

/// How a judgement speaks of its degree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Than {
    /// It is of this degree.
    Just,
    /// It is of this degree or a higher one.
    AtLeast,
    /// It is of a lower degree.
    LessThan,
}

/// How sure a judgement is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Eye {
    /// Looked at, with a slip of the eye allowed for.
    Ordinary,
    /// It looks like it.
    Looks,
    /// For certain.
    Certain,
}

/// How far something is so, as it was judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Judged {
    /// The degree: 0 is not at all.
    pub degree: u8,
    /// How it speaks of the degree.
    pub than: Than,
    /// How sure it is.
    pub eye: Eye,
}

impl Judged {
    /// From the number it is kept as; `None` for one that no judgement has.
    #[must_use]
    pub fn of(value: u8) -> Option<Self> {
        let than = match (value >> 4) & 3 {
            0 => Than::Just,
            1 => Than::AtLeast,
            2 => Than::LessThan,
            _ => return None,
        };
        let eye = match value >> 6 {
            0 => Eye::Ordinary,
            1 => Eye::Looks,
            2 => Eye::Certain,
            _ => return None,
        };
        let degree = value & MAX_DEGREE;
        if degree == 0 && than != Than::Just {
            return None;
        }
        Some(Self { degree, than, eye })
    }

    /// The number it is kept as.
    #[must_use]
    pub fn value(self) -> u8 {
        let than = match self.than {
            Than::Just => 0,
            Than::AtLeast => 1,
            Than::LessThan => 2,
        };
        let eye = match self.eye {
            Eye::Ordinary => 0,
            Eye::Looks => 1,
            Eye::Certain => 2,
        };
        (self.degree & MAX_DEGREE) | (than << 4) | (eye << 6)
    }

    /// Whether it says that it is of a degree or a higher one: what it says of the marks
    /// between the degrees. `None` of one that it leaves open.
    #[must_use]
    pub fn reaches(self, degree: u8) -> Option<bool> {
        match self.than {
            Than::Just => Some(degree <= self.degree),
            Than::AtLeast => (degree == self.degree).then_some(true),
            Than::LessThan => (degree == self.degree).then_some(false),
        }
    }

    /// The lowest and the highest degree that it leaves, of so many above "not at all".
    #[must_use]
    pub fn leaves(self, highest: i32) -> (i32, i32) {
        let degree = i32::from(self.degree);
        match (self.eye, self.than) {
            (Eye::Looks, _) => (0, highest),
            (_, Than::Just) => (degree, degree),
            (_, Than::AtLeast) => (degree, highest),
            (_, Than::LessThan) => (0, degree.saturating_sub(1)),
        }
    }

    /// What it says of a state that is tried like this.
    #[must_use]
    pub fn truth(self, trial: Trial) -> Truth {
        let (Trial::Within(from, to), Eye::Ordinary | Eye::Certain) = (trial, self.eye) else {
            return Truth::NotKnown;
        };
        let (least, most) = self.leaves(i32::MAX);
        let is_open_below = from <= 0;
        match () {
            () if most < from || to < least => Truth::False,
            () if (is_open_below || from <= least) && most <= to => Truth::True,
            () => Truth::NotKnown,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plain_judgement_is_the_number_of_its_degree() {
        let plain = Judged {
            degree: 3,
            than: Than::Just,
            eye: Eye::Ordinary,
        };
        assert_eq!(plain.value(), 3);
        for value in 0..=u8::MAX {
            if let Some(judged) = Judged::of(value) {
                assert_eq!(judged.value(), value);
            }
        }
    }

    #[test]
    fn what_a_judgement_leaves_open_is_not_known() {
        let said = |than, eye, from, to| {
            let judged = Judged {
                degree: 2,
                than,
                eye,
            };
            judged.truth(Trial::Within(from, to))
        };
        let plain = |than, from, to| said(than, Eye::Ordinary, from, to);
        assert_eq!(plain(Than::Just, 1, i32::MAX), Truth::True);
        assert_eq!(plain(Than::Just, 3, i32::MAX), Truth::False);
        assert_eq!(plain(Than::Just, 2, 2), Truth::True);
        assert_eq!(plain(Than::AtLeast, 1, i32::MAX), Truth::True);
        assert_eq!(plain(Than::AtLeast, 3, i32::MAX), Truth::NotKnown);
        assert_eq!(plain(Than::AtLeast, 1, 1), Truth::False);
        assert_eq!(plain(Than::LessThan, 2, i32::MAX), Truth::False);
        assert_eq!(plain(Than::LessThan, 1, 1), Truth::NotKnown);
        assert_eq!(plain(Than::LessThan, i32::MIN, 1), Truth::True);
        let looks = said(Than::Just, Eye::Looks, 1, i32::MAX);
        assert_eq!(looks, Truth::NotKnown);
    }
}
