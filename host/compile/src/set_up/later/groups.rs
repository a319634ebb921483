//! What belongs together, and what lasts.

use std::collections::{BTreeMap, BTreeSet};

use tellmark_core::pack::Pack;

use super::super::SetUp;
use crate::ground::Ground;
use tellmark_language::model::{Nature, StateId};

/// Which asks and states of a part belong together: those of one sign, measure or choice.
pub(super) struct Groups {
    /// The group of each ask of each part.
    pub of_ask: BTreeMap<(usize, u16), usize>,
    /// The states of each group, by their numbers.
    pub states: Vec<Vec<usize>>,
    /// The asks of each group.
    asks: Vec<Vec<(usize, u16)>>,
}

impl Groups {
    pub fn of(set_up: &SetUp<'_>, ground: &Ground, pack: &Pack<'_>) -> Self {
        let rows = &set_up.built.states.states;
        let mut groups = Self {
            of_ask: BTreeMap::new(),
            states: Vec::new(),
            asks: Vec::new(),
        };
        for (part, record) in ground.parts.iter().enumerate() {
            for ask in pack.asks_of(record.place) {
                groups.of_ask.insert((part, ask), groups.states.len());
                groups.states.push(Vec::new());
                groups.asks.push(vec![(part, ask)]);
            }
        }
        for (number, state) in ground.states.iter().enumerate() {
            let row = &rows[state.row];
            let own = groups.of_ask.get(&(state.part, row.ask)).copied();
            let Some(own) = own else { continue };
            groups.states[own].push(number);
            let by_eye = row.whether.and_then(|ask| {
                let group = groups.of_ask.get(&(state.part, ask)).copied();
                group.filter(|&group| group != own)
            });
            if let Some(other) = by_eye {
                let asks = std::mem::take(&mut groups.asks[other]);
                let states = std::mem::take(&mut groups.states[other]);
                for &ask in &asks {
                    groups.of_ask.insert(ask, own);
                }
                groups.asks[own].extend(asks);
                groups.states[own].extend(states);
            }
        }
        groups
    }
}

/// Which states last: what the house calls a fault, hidden or by a job that mends it, with
/// everything that is one quantity with it or is so only where it is not.
pub(super) fn lasting(set_up: &SetUp<'_>, ground: &Ground) -> Vec<bool> {
    let model = set_up.model;
    let rows = &set_up.built.states.states;
    let is_mended: BTreeSet<StateId> = model.jobs.iter().flat_map(|j| j.mends.clone()).collect();
    let is_fault = |state: StateId| {
        let hidden = matches!(model.states[state.index()].nature, Nature::Hidden { .. });
        hidden || is_mended.contains(&state)
    };
    let mut faults: BTreeSet<StateId> = (0..model.states.len())
        .filter_map(|i| Some(StateId(u16::try_from(i).ok()?)))
        .filter(|&state| is_fault(state))
        .collect();
    for one in &model.at_most_ones {
        if one.states.iter().any(|state| faults.contains(state)) {
            faults.extend(one.states.iter().copied());
        }
    }
    let asks: BTreeSet<u16> = rows
        .iter()
        .filter(|row| row.declared.is_some_and(|state| faults.contains(&state)))
        .map(|row| row.ask)
        .collect();
    let states = ground.states.iter();
    states
        .map(|state| asks.contains(&rows[state.row].ask))
        .collect()
}
