//! The figures that make `If <sign>, that usually means <fault>` come true. `fit`
//! works them out; the networks are built with them.

use std::collections::HashMap;

use crate::rules::Rules;

/// The strength of a link where it does not matter, or may be chosen: how often a
/// fault shows its sign.
pub(crate) const SHOWS: f64 = 0.8;

/// The fitted figures.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, Default, PartialEq)]
pub struct Fitted {
    alarms: HashMap<(usize, usize), f64>,
    links: HashMap<(usize, usize), f64>,
    together: HashMap<(usize, usize), f64>,
}

impl Fitted {
    /// A link for every sentence, of no particular strength: enough to see the shape
    /// of the network, before anything is fitted.
    pub(crate) fn assumed(rules: Rules<'_>) -> Self {
        let mut fitted = Self::default();
        for (i, means) in rules.model.means.iter().enumerate() {
            for place in rules.places.of_subject(means.subject) {
                fitted.links.insert((place, i), SHOWS);
            }
        }
        for (i, together) in rules.model.togethers.iter().enumerate() {
            for place in rules.places.of_subject(together.subject) {
                fitted.together.insert((place, i), SHOWS);
            }
        }
        fitted
    }

    /// The fitted chance that the sign (a row of the states) shows at this place when
    /// nothing is wrong.
    #[must_use]
    pub fn false_alarm(&self, place: usize, row: usize) -> Option<f64> {
        self.alarms.get(&(place, row)).copied()
    }

    /// The fitted chance that the fault of this sentence shows the sign at this place.
    #[must_use]
    pub fn link(&self, place: usize, means: usize) -> Option<f64> {
        self.links.get(&(place, means)).copied()
    }

    /// The fitted chance that the fault of this sentence about several signs shows each
    /// of them.
    #[must_use]
    pub fn together(&self, place: usize, together: usize) -> Option<f64> {
        self.together.get(&(place, together)).copied()
    }

    pub(crate) fn set_together(&mut self, place: usize, together: usize, chance: f64) {
        self.together.insert((place, together), chance);
    }

    /// Nothing but the figures of sentences about several signs.
    pub(crate) fn only_together(&self) -> Self {
        Self {
            together: self.together.clone(),
            ..Self::default()
        }
    }

    pub(crate) fn set_false_alarm(&mut self, place: usize, row: usize, chance: f64) {
        self.alarms.insert((place, row), chance);
    }

    pub(crate) fn set_link(&mut self, place: usize, means: usize, chance: f64) {
        self.links.insert((place, means), chance);
    }
}
