//! How likely the answers of one run of moments are, and the rest without each.

use std::collections::{BTreeMap, BTreeSet};

use tellmark_core::inspection::Inspection;
use tellmark_core::pack::{NONE, Pack, Way};
use tellmark_core::piece::Answer;

use super::super::{Origin, SetUp};
use super::runs::Runs;
use crate::moments::{Moments, Pair};

/// What there would be without one thing that was told.
#[derive(Clone, Debug, Default)]
pub(super) struct Without {
    pub parts: Vec<usize>,
    pub likely: Vec<(usize, Pair)>,
}

/// The chance of each state of the piece before anything was found: numbers are kept within
/// range by it.
pub(super) fn usual(inspection: &mut Inspection<'_, '_, f64>, moments: &Moments) -> Vec<f64> {
    let of = |(part, slot)| {
        let (no, yes) = inspection.weights(part, slot).unwrap_or((1.0, 1.0));
        yes / (no + yes)
    };
    slots(moments).map(of).collect()
}

/// For each state of the piece its part, and which of the part's states it is.
fn slots(moments: &Moments) -> impl Iterator<Item = (usize, usize)> + '_ {
    let parts = moments.ground.states.iter().map(|state| state.part);
    let mut before = None;
    parts.take(moments.states()).map(move |part| {
        let slot = match before {
            Some((same, slot)) if same == part => slot + 1,
            _ => 0,
        };
        before = Some((part, slot));
        (part, slot)
    })
}

/// The answers that speak of one run of moments.
pub(super) struct Scene {
    /// The last answer to each ask, with what gave it.
    answers: BTreeMap<(usize, u16), (Answer, Origin)>,
    /// The states that they may be about: part, number there, state of the network, and
    /// the chance before anything was found.
    about: Vec<(usize, usize, usize, f64)>,
}

impl Scene {
    pub fn of(
        set_up: &SetUp<'_>,
        pack: &Pack<'_>,
        runs: &Runs<'_>,
        start: usize,
        usual: &[f64],
    ) -> Self {
        let (moments, rows) = (runs.moments, &set_up.built.states.states);
        let mut answers = BTreeMap::new();
        for note in runs.notes {
            if runs.first(note, note.moment) == start {
                let at = (note.given.part, note.given.ask);
                answers.insert(at, (note.given.answer, note.from));
            }
        }
        let is_worked_out =
            |ask: u16| ask != NONE && pack.ask(usize::from(ask)).way == Way::WorkOut;
        let mut about = Vec::new();
        for (state, (part, slot)) in slots(moments).enumerate() {
            let ask = rows[moments.ground.states[state].row].ask;
            let group = runs.groups.of_ask.get(&(part, ask));
            let states = group.map_or(&[][..], |&group| &runs.groups.states[group]);
            let node = moments.node(start, state);
            let begins = start == 0 || moments.first(start, states) == start;
            let is_open = moments.known[node].is_none();
            if begins && is_open && (start == 0 || !is_worked_out(ask)) {
                about.push((part, slot, node, usual[state]));
            }
        }
        Self { answers, about }
    }

    /// Adds what they say, and notes what the rest says without each.
    pub fn weigh(
        &self,
        inspection: &mut Inspection<'_, '_, f64>,
        likely: &mut [Pair],
        without: &mut BTreeMap<Origin, Without>,
    ) {
        let give = |inspection: &mut Inspection<'_, '_, f64>, at: (usize, u16), answer| {
            let _ = inspection.answer(at.0, at.1, answer);
        };
        for (&at, &(answer, _)) in &self.answers {
            give(inspection, at, answer);
        }
        let told: BTreeSet<Origin> = self.answers.values().map(|(_, from)| *from).collect();
        let with = self.likelihoods(inspection);
        for &(node, pair) in &with {
            likely[node] = pair;
        }
        for from in told {
            let mut own = self.answers.iter().filter(|(_, (_, f))| *f == from);
            let own: Vec<(&(usize, u16), Answer)> =
                own.by_ref().map(|(at, (a, _))| (at, *a)).collect();
            let says = own.iter().any(|(_, answer)| answer.says_something());
            if !says {
                continue;
            }
            for (at, _) in &own {
                give(inspection, **at, Answer::NotLooked);
            }
            let rest = self.likelihoods(inspection);
            let entry = without.entry(from).or_default();
            entry.parts.extend(own.iter().map(|(at, _)| at.0));
            entry.likely.extend(differing(&with, rest));
            for (at, answer) in own {
                give(inspection, *at, answer);
            }
        }
        for &at in self.answers.keys() {
            give(inspection, at, Answer::NotLooked);
        }
    }

    /// How likely the answers are, for each state that they may be about.
    fn likelihoods(&self, inspection: &Inspection<'_, '_, f64>) -> Vec<(usize, Pair)> {
        let of = |&(part, slot, node, usual): &(usize, usize, usize, f64)| {
            let (no, yes) = inspection.likelihoods(part, slot).unwrap_or((1.0, 1.0));
            let scale = no * (1.0 - usual) + yes * usual;
            let scale = if scale.is_normal() { scale } else { 1.0 };
            (node, (no / scale, yes / scale))
        };
        self.about.iter().map(of).collect()
    }
}

fn differing(with: &[(usize, Pair)], rest: Vec<(usize, Pair)>) -> Vec<(usize, Pair)> {
    let pairs = with.iter().zip(rest);
    let pairs = pairs.filter(|((_, before), (_, after))| before != after);
    pairs.map(|(_, after)| after).collect()
}
