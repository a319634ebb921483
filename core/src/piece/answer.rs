//! What can be answered, and what an answer says of a state.

use crate::pack::{Pack, State, Trial};
use crate::truth::Truth;

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
    /// One of the values of a choice, from 0.
    Value(u8),
}

impl Answer {
    /// Whether this answer says anything.
    #[must_use]
    pub fn says_something(self) -> bool {
        !matches!(self, Self::NotLooked | Self::CannotSee)
    }

    /// What it says of a state that is tried like this.
    #[must_use]
    pub fn truth(self, trial: Trial) -> Truth {
        match (self, trial) {
            (Self::Seen(yes) | Self::Certain(yes), Trial::Yes) => yes.into(),
            (Self::Reading(reading), Trial::Within(from, to)) => {
                (from <= reading && reading <= to).into()
            }
            (Self::Value(value), Trial::Value(meant)) => (value == meant).into(),
            _ => Truth::NotKnown,
        }
    }
}

impl super::Piece<'_> {
    /// What has been answered about a state of a part.
    #[must_use]
    pub fn truth(&self, pack: &Pack<'_>, part: usize, state: &State) -> Truth {
        match self.answer(pack, part, state.ask).truth(state.trial) {
            Truth::NotKnown => self.answer(pack, part, state.whether).truth(Trial::Yes),
            known => known,
        }
    }
}
