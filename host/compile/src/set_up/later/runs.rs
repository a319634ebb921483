//! Which notes speak of which moment.

use std::collections::BTreeMap;

use tellmark_core::inspection::Given;
use tellmark_core::pack::Trial;
use tellmark_core::truth::Truth;

use super::super::{Origin, SetUp};
use super::groups::Groups;
use super::line_up::Note;
use super::{At, Sorted, is_in_doubt, possible};
use crate::moments::Moments;

/// The answers on record at a moment, and the moments at which they speak of the same.
pub(super) struct Runs<'r> {
    pub moments: &'r Moments,
    pub groups: &'r Groups,
    pub notes: &'r [Note],
}

impl Runs<'_> {
    fn group(&self, note: &Note) -> Option<usize> {
        let at = (note.given.part, note.given.ask);
        self.groups.of_ask.get(&at).copied()
    }

    /// The first moment at which what a note is about is as it is at this one.
    pub fn first(&self, note: &Note, moment: usize) -> usize {
        let group = self.group(note);
        let states = group.map_or(&[][..], |group| self.groups.states[group].as_slice());
        self.moments.first(moment, states)
    }

    fn is_of_found(&self, note: &Note) -> bool {
        self.first(note, note.moment) == 0
    }

    /// Whether what it is about was itself mended, or found again.
    fn is_changed(&self, note: &Note) -> bool {
        let group = self.group(note);
        let states = group.map_or(&[][..], |group| self.groups.states[group].as_slice());
        let last = self.moments.last();
        let mut now = states.iter().map(|&state| self.moments.node(last, state));
        now.any(|node| self.moments.changed(node).is_some())
    }

    fn is_of_now(&self, note: &Note) -> bool {
        self.first(note, self.moments.last()) == self.first(note, note.moment)
    }
}

/// Signs that were seen, that something mended since bears on, and that are still possible.
pub(super) fn still(
    set_up: &SetUp<'_>,
    runs: &Runs<'_>,
    chances: Option<&[Option<f64>]>,
) -> Vec<Given> {
    let rows = &set_up.built.states.states;
    let mut last: BTreeMap<(usize, u16), &Note> = BTreeMap::new();
    for note in runs.notes {
        last.insert((note.given.part, note.given.ask), note);
    }
    let is_possible = |note: &&&Note| {
        let group = runs.group(note);
        let states = group.map_or(&[][..], |group| &runs.groups.states[group]);
        states.iter().any(|&state| {
            let row = &rows[runs.moments.ground.states[state].row];
            let trial = if row.ask == note.given.ask {
                row.trial
            } else {
                Trial::Yes
            };
            let now = runs.moments.node(runs.moments.last(), state);
            let chance = chances.and_then(|all| all[now]).unwrap_or(0.0);
            let is_mended = runs.moments.changed(now);
            let is_mended = is_mended.is_some_and(|c| !is_in_doubt(chance, c.fails));
            note.given.answer.truth(trial) == Truth::True && chance >= possible() && !is_mended
        })
    };
    let overtaken = last.values().filter(|note| !runs.is_of_now(note));
    overtaken
        .filter(is_possible)
        .map(|note| note.given)
        .collect()
}

/// The facts, put to their moments.
pub(super) fn sorted(
    runs: &Runs<'_>,
    whole: &[usize],
    mends: &BTreeMap<usize, Vec<(usize, usize)>>,
    facts: usize,
) -> Sorted {
    let mut of: Vec<Vec<&Note>> = vec![Vec::new(); facts];
    for note in runs.notes {
        if let Origin::Fact(fact) = note.from {
            of[fact].push(note);
        }
    }
    let mut sorted = Sorted::default();
    for (fact, notes) in of.iter().enumerate() {
        if whole.contains(&fact) {
            let all = At { fact, parts: None };
            sorted.found.push(all.clone());
            sorted.now.push(all);
            continue;
        }
        let add = |to: &mut Vec<At>, counts: &dyn Fn(&Note) -> bool| {
            let parts: Vec<usize> = notes
                .iter()
                .filter(|n| counts(n))
                .map(|n| n.given.part)
                .collect();
            if !parts.is_empty() {
                let all = parts.len() == notes.len();
                let parts = (!all).then_some(parts);
                to.push(At { fact, parts });
            }
        };
        add(&mut sorted.found, &|note| runs.is_of_found(note));
        add(&mut sorted.now, &|note| runs.is_of_now(note));
        let is_past =
            |note: &Note, mended| !runs.is_of_now(note) && runs.is_changed(note) == mended;
        add(&mut sorted.overtaken, &|note| is_past(note, false));
        let mut mended = Vec::new();
        add(&mut mended, &|note| is_past(note, true));
        let by = notes.iter().filter_map(|note| {
            let mut of_group = mends.get(&runs.group(note)?)?.iter();
            of_group
                .find(|(moment, _)| *moment > note.moment)
                .map(|(_, line)| *line)
        });
        let by = by.min();
        sorted.mended.extend(mended.into_iter().zip(by));
    }
    sorted
}
