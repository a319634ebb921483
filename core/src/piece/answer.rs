//! What can be answered, and what an answer says of a state.

use core::fmt;

use super::judged::{Eye, Judged};
use crate::pack::{Form, Pack, State, Trial};
use crate::truth::Truth;

/// One standard deviation of what is worked out, in ticks: three bytes, so that an answer is
/// no larger for it. What is more is taken for the most, which is 419 mm.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Deviation([u8; 3]);

impl Deviation {
    /// From ticks.
    #[must_use]
    pub fn of(ticks: u64) -> Self {
        let [a, b, c, ..] = ticks.min(0x00ff_ffff).to_le_bytes();
        Self([a, b, c])
    }

    /// In ticks.
    #[must_use]
    pub fn ticks(self) -> u32 {
        let [a, b, c] = self.0;
        u32::from_le_bytes([a, b, c, 0])
    }
}

/// An answer to one ask about one part.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Answer {
    /// Nobody has looked.
    #[default]
    NotLooked,
    /// Looked, and it cannot be told.
    CannotSee,
    /// Yes or no, with a slip of the eye allowed for.
    Seen(bool),
    /// It looks like it, or looks unlikely.
    Looks(bool),
    /// Yes or no for certain: measured, or opened up.
    Certain(bool),
    /// A reading in ticks, or a count.
    Reading(i32),
    /// What the table of a sum comes to, in ticks, and one standard deviation of it. Nobody
    /// gives it: it follows from other answers.
    Tabled(i32, Deviation),
    /// One of the values of a choice, from 0; of degrees, a [`Judged`].
    Value(u8),
}

/// Why something was not noted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotNoted {
    /// The piece has no such part.
    NoSuchPart,
    /// That is not asked of this part.
    NoSuchAsk,
    /// It is asked, but not answered like this: a reading where yes or no is asked, or
    /// a value that the choice does not have.
    WrongKind,
}

impl fmt::Display for NotNoted {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoSuchPart => "the piece has no such part",
            Self::NoSuchAsk => "that is not asked of this part",
            Self::WrongKind => "what is asked cannot be answered like this",
        })
    }
}

impl core::error::Error for NotNoted {}

impl Answer {
    /// Whether what is asked in this form can be answered like this.
    #[must_use]
    pub fn fits(self, form: Form) -> bool {
        match self {
            Self::NotLooked | Self::CannotSee => true,
            Self::Seen(_) | Self::Looks(_) | Self::Certain(_) => form == Form::Whether,
            Self::Reading(_) => matches!(form, Form::HowMuch { .. } | Form::HowMany { .. }),
            Self::Tabled(..) => matches!(form, Form::HowMuch { .. }),
            Self::Value(value) => match form {
                Form::Which { values, .. } => u16::from(value) < values,
                Form::Degrees { values, .. } => {
                    Judged::of(value).is_some_and(|judged| u16::from(judged.degree) < values)
                }
                _ => false,
            },
        }
    }

    /// The reading or count, measured or worked out.
    #[must_use]
    pub fn reading(self) -> Option<i32> {
        match self {
            Self::Reading(reading) | Self::Tabled(reading, _) => Some(reading),
            _ => None,
        }
    }

    /// By how much a reading of what is asked in this form may be out: one standard deviation,
    /// in ticks. A count is never out.
    #[must_use]
    pub fn out_by(self, form: Form) -> u32 {
        match (self, form) {
            (Self::Tabled(_, deviation), _) => deviation.ticks(),
            (_, Form::HowMuch { gauge, .. }) => gauge.into(),
            _ => 0,
        }
    }

    /// Whether this answer says anything.
    #[must_use]
    pub fn says_something(self) -> bool {
        !matches!(self, Self::NotLooked | Self::CannotSee)
    }

    /// Whether it may rule something out for certain, where an ordinary answer is a slip
    /// so often (in thousandths). What a reading rules out depends on its gauge.
    #[must_use]
    pub fn is_firm(self, slip: u16) -> bool {
        match self {
            Self::NotLooked | Self::CannotSee | Self::Looks(_) => false,
            Self::Certain(_) | Self::Reading(_) | Self::Tabled(..) => true,
            Self::Seen(_) => slip == 0,
            Self::Value(value) => match Judged::of(value).map(|judged| judged.eye) {
                Some(Eye::Looks) => false,
                Some(Eye::Certain) => true,
                _ => slip == 0,
            },
        }
    }

    /// What it says of a state that is tried like this.
    #[must_use]
    pub fn truth(self, trial: Trial) -> Truth {
        match (self, trial) {
            (Self::Seen(yes) | Self::Certain(yes), Trial::Yes) => yes.into(),
            (Self::Reading(reading) | Self::Tabled(reading, _), Trial::Within(from, to)) => {
                (from <= reading && reading <= to).into()
            }
            (Self::Value(value), Trial::Value(meant)) => (value == meant).into(),
            (Self::Value(value), trial) => {
                Judged::of(value).map_or(Truth::NotKnown, |judged| judged.truth(trial))
            }
            _ => Truth::NotKnown,
        }
    }
}

impl super::Piece<'_> {
    /// What has been answered about a state of a part: not known, of a state that is not
    /// asked of it.
    #[must_use]
    pub fn truth(&self, pack: &Pack<'_>, part: usize, state: &State) -> Truth {
        let answer = |ask: u16| self.answer(pack, part, ask).unwrap_or_default();
        match answer(state.ask).truth(state.trial) {
            Truth::NotKnown => answer(state.whether).truth(Trial::Yes),
            known => known,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_clear_answer_decides_a_state() {
        assert_eq!(Answer::Seen(true).truth(Trial::Yes), Truth::True);
        assert_eq!(Answer::Certain(false).truth(Trial::Yes), Truth::False);
        for unclear in [Answer::NotLooked, Answer::CannotSee, Answer::Looks(true)] {
            assert_eq!(unclear.truth(Trial::Yes), Truth::NotKnown);
        }
    }

    #[test]
    fn both_bounds_of_a_reading_are_within_it() {
        let within = |reading| Answer::Reading(reading).truth(Trial::Within(2, 4));
        let truths = [1, 2, 4, 5].map(within);
        assert_eq!(truths, [false, true, true, false].map(Truth::from));
    }

    #[test]
    fn an_answer_of_another_kind_says_nothing_of_a_state() {
        assert_eq!(Answer::Reading(1).truth(Trial::Yes), Truth::NotKnown);
        assert_eq!(Answer::Seen(true).truth(Trial::Value(1)), Truth::NotKnown);
    }

    #[test]
    fn an_answer_fits_the_form_of_what_is_asked() {
        let which = Form::Which {
            first: 1,
            values: 3,
        };
        let how_much = Form::HowMuch {
            least: 0,
            most: 10,
            gauge: 1,
            unit: 0,
        };
        let how_many = Form::HowMany { part: 1 };
        let yes_or_no = [
            Answer::Seen(true),
            Answer::Looks(false),
            Answer::Certain(true),
        ];
        for form in [Form::Whether, which, how_much, how_many] {
            assert!(Answer::NotLooked.fits(form) && Answer::CannotSee.fits(form));
            let is_yes_or_no = form == Form::Whether;
            assert!(
                yes_or_no
                    .iter()
                    .all(|answer| answer.fits(form) == is_yes_or_no)
            );
            let is_number = form == how_much || form == how_many;
            assert_eq!(Answer::Reading(-7).fits(form), is_number);
            assert_eq!(Answer::Value(2).fits(form), form == which);
            assert!(!Answer::Value(3).fits(form), "there are three values");
        }
    }
}
