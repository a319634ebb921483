//! The rules as every stage of the compiler takes them: the model, with its places and
//! states listed.

use tellmark_language::model::Model;

use crate::places::Places;
use crate::problem::TooMuch;
use crate::states::{Asked, States};

/// The places and states of a model: the first stage.
#[derive(Clone, Debug)]
pub struct Listed {
    /// Where each kind of part stands.
    pub places: Places,
    /// Every state and ask, in the order of a pack.
    pub states: States,
}

impl Listed {
    /// Lists them.
    ///
    /// # Errors
    /// [`TooMuch`] if there are more than a pack has numbers for.
    pub fn of(model: &Model) -> Result<Self, TooMuch> {
        Ok(Self {
            places: Places::of(model)?,
            states: States::of(model)?,
        })
    }

    /// With the model that they were listed from.
    #[must_use]
    pub fn rules<'m>(&'m self, model: &'m Model) -> Rules<'m> {
        Rules {
            model,
            states: &self.states,
            places: &self.places,
        }
    }
}

/// A model with its states and places.
#[derive(Clone, Copy, Debug)]
pub struct Rules<'m> {
    /// What the rules say.
    pub model: &'m Model,
    /// Every state and ask, in the order of a pack.
    pub states: &'m States,
    /// Where each kind of part stands.
    pub places: &'m Places,
}

impl Rules<'_> {
    /// Whether a state of the pack only says where a part stands among its like.
    #[must_use]
    pub fn is_place(&self, row: usize) -> bool {
        let ask = usize::from(self.states.states[row].ask);
        match self.states.asks.get(ask).map(|ask| ask.what) {
            Some(Asked::Sign(sign)) => self.model.signs[sign.index()].place().is_some(),
            _ => false,
        }
    }
}
