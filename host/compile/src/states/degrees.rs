//! Degrees: states that a judgement by eye decides, all from one question.

use tellmark_core::pack::Trial;
use tellmark_core::piece::{Answer, Eye, Judged, Than};

use super::{StateRow, States};
use tellmark_language::model::{Model, StateId};

impl StateRow {
    /// From which degree on it is so, if it is judged in degrees. (What counts as
    /// something by a measure can be asked for by itself as well.)
    #[must_use]
    pub fn degree(&self) -> Option<u8> {
        match (self.declared, self.whether, self.trial) {
            (Some(_), None, Trial::Within(from, i32::MAX)) => u8::try_from(from).ok(),
            _ => None,
        }
    }

    /// The ask and the answer with which somebody says that it is so, or is not.
    #[must_use]
    pub fn said(&self, yes: bool, eye: Eye) -> (u16, Answer) {
        if let Some(degree) = self.degree() {
            let than = if yes { Than::AtLeast } else { Than::LessThan };
            let judged = Judged { degree, than, eye };
            return (self.ask, Answer::Value(judged.value()));
        }
        let answer = match eye {
            Eye::Ordinary => Answer::Seen(yes),
            Eye::Looks => Answer::Looks(yes),
            Eye::Certain => Answer::Certain(yes),
        };
        (self.whether.unwrap_or(self.ask), answer)
    }
}

impl States {
    /// Of the highest degree of a judgement, if it is one: which that is. 0 of any other
    /// state, and of the lowest degree, which is said as a whole: "is lifted".
    #[must_use]
    pub fn highest(&self, row: &StateRow) -> i32 {
        let of = self.states.iter().filter(|of| of.ask == row.ask);
        let highest = of.filter_map(StateRow::degree).max();
        match row.degree() {
            Some(degree) if degree > 1 && Some(degree) == highest => degree.into(),
            _ => 0,
        }
    }

    /// What an ordinary yes to a state is: of the highest degree of a judgement the degree
    /// itself.
    #[must_use]
    pub fn yes(&self, row: &StateRow) -> (u16, Answer) {
        match u8::try_from(self.highest(row)) {
            Ok(degree) if degree > 0 => (row.ask, Answer::Value(degree)),
            _ => row.said(true, Eye::Ordinary),
        }
    }

    /// The states that are there only where this one can be: of the lowest degree, all
    /// the higher ones as well.
    #[must_use]
    pub fn with(&self, model: &Model, state: StateId) -> Vec<usize> {
        let row = self.declared(state);
        if model.degree_of(state).is_none() {
            return vec![row];
        }
        let ask = self.states[row].ask;
        let rows = self.states.iter().enumerate();
        let rows = rows.filter(|(_, of)| of.ask == ask && of.degree().is_some());
        rows.map(|(row, _)| row).collect()
    }
}
