//! Chances over all moments of a piece together.

use std::collections::BTreeSet;

use super::Moments;
use crate::circuit::{Laid, TooLarge};
use crate::flat::Flat;

/// One circuit for all moments: how likely each state's answers are goes in, and the
/// weights of all states come out.
#[derive(Clone, Debug)]
pub struct Joint {
    laid: Laid,
    /// The states that are watched, in their order; each has two inputs.
    watched: Vec<usize>,
    known: Vec<Option<bool>>,
}

/// How likely what was found is if a state does not hold, and if it does.
pub type Pair = (f64, f64);

impl Joint {
    /// For these states of the network.
    ///
    /// # Errors
    /// [`TooLarge`] if the rules tie too many parts of the piece together.
    pub fn of(
        moments: &Moments,
        watched: impl IntoIterator<Item = usize>,
    ) -> Result<Self, TooLarge> {
        let is_open = |s: &usize| moments.known[*s].is_none() && moments.ground.states[*s].in_use;
        let watched: BTreeSet<usize> = watched.into_iter().filter(is_open).collect();
        let watched: Vec<usize> = watched.into_iter().collect();
        let nothing_found: Vec<Pair> = moments
            .known
            .iter()
            .map(|known| certainly(*known))
            .collect();
        let mut flat = Flat::of(&moments.ground, &nothing_found, watched.iter().copied());
        for (at, &state) in watched.iter().enumerate() {
            flat.observe(state, 2 * at);
        }
        let laid = flat.finish(2 * watched.len())?;
        Ok(Self {
            laid,
            watched,
            known: moments.known.clone(),
        })
    }

    /// The chance of every state of the network, with what was found: `None` of those that
    /// are not watched. `None` in all if what was found cannot be.
    #[must_use]
    pub fn chances(&self, found: &[Pair]) -> Option<Vec<Option<f64>>> {
        let inputs: Vec<f64> = self
            .watched
            .iter()
            .flat_map(|&state| [found[state].0, found[state].1])
            .collect();
        let values = forwards(&self.laid, &inputs);
        let all = self.laid.outputs.first().map_or(0.0, |&o| values[o]);
        if !all.is_normal() {
            return None;
        }
        let slopes = backwards(&self.laid, &values);
        let mut chances: Vec<Option<f64>> = self
            .known
            .iter()
            .map(|known| known.map(|so| f64::from(u8::from(so))))
            .collect();
        for (at, &state) in self.watched.iter().enumerate() {
            let [no, yes] = [2 * at, 2 * at + 1].map(|i| inputs[i] * slopes[i]);
            chances[state] = Some(yes / (no + yes));
        }
        Some(chances)
    }
}

/// What is known of a state as how likely it is.
#[must_use]
pub fn certainly(known: Option<bool>) -> Pair {
    match known {
        None => (1.0, 1.0),
        Some(false) => (1.0, 0.0),
        Some(true) => (0.0, 1.0),
    }
}

/// Works out every node; the inputs have these values.
fn forwards(laid: &Laid, inputs: &[f64]) -> Vec<f64> {
    let constants = laid.constants.iter().map(|&bits| f64::from_bits(bits));
    let mut values: Vec<f64> = constants.chain(inputs.iter().copied()).collect();
    values.reserve(laid.steps.len());
    for step in &laid.steps {
        let (left, right) = (values[step.left], values[step.right]);
        values.push(if step.product {
            left * right
        } else {
            left + right
        });
    }
    values
}

/// How the output hangs on each input.
fn backwards(laid: &Laid, values: &[f64]) -> Vec<f64> {
    let mut slopes = vec![0.0; values.len()];
    if let Some(&output) = laid.outputs.first() {
        slopes[output] = 1.0;
    }
    let first = laid.constants.len() + laid.inputs;
    for (at, step) in laid.steps.iter().enumerate().rev() {
        let slope = slopes[first + at];
        let (to_left, to_right) = if step.product {
            (slope * values[step.right], slope * values[step.left])
        } else {
            (slope, slope)
        };
        slopes[step.left] += to_left;
        slopes[step.right] += to_right;
    }
    slopes[laid.constants.len()..first].to_vec()
}
