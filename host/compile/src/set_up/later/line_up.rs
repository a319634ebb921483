//! The record, gone through once in its order: what was noted at which moment, what was
//! changed.

use std::collections::BTreeMap;

use tellmark_core::inspection::{Given, Inspection};
use tellmark_core::pack::{Form, Nature as PackNature, Pack, Trial};
use tellmark_core::piece::{Answer, Eye, Judged};
use tellmark_core::truth::Truth;

use super::super::{Origin, SetUp, resolve};
use super::groups::Groups;
use super::{Mend, Mended};
use crate::ground::Ground;
use crate::moments::Change;
use crate::states::StateRow;
use tellmark_language::model::{Found, Model, Nature, StateId, Sure, Than};

/// An answer on record.
#[derive(Clone, Copy, Debug)]
pub(super) struct Note {
    pub given: Given,
    pub from: Origin,
    pub moment: usize,
}

/// The record, gone through once in its order.
pub(super) struct LineUp<'s> {
    pub set_up: &'s SetUp<'s>,
    pub pack: Pack<'s>,
    pub groups: Groups,
    pub notes: Vec<Note>,
    /// Facts about whole parts and how many there are, which hold at every moment.
    pub whole: Vec<usize>,
    pub changes: Vec<Change>,
    pub moment: usize,
    /// What was changed of each group last: its states, and whether they are so.
    pub set: BTreeMap<usize, BTreeMap<usize, bool>>,
    /// How likely each mend is not to hold; one for each thing that a line mends.
    pub fails: Vec<f64>,
    pub mended: Vec<Mended>,
    /// When each group was mended: the moment, and the line.
    pub mends: BTreeMap<usize, Vec<(usize, usize)>>,
}

impl LineUp<'_> {
    pub fn go_through(
        &mut self,
        inspection: &Inspection<'_, '_, f64>,
        ground: &Ground,
        lines: &[usize],
        mends: &[Mend],
    ) {
        self.take_counts(inspection);
        let mut mends = mends.iter().peekable();
        for (number, fact) in self.set_up.facts.iter().enumerate() {
            let line = lines.get(number).copied().unwrap_or(usize::MAX);
            while let Some(mend) = mends.next_if(|mend| mend.line < line) {
                self.mend(ground, mend);
            }
            let Some((ask, answer)) = self.set_up.answer(&fact.found) else {
                self.whole.push(number);
                continue;
            };
            for part in resolve(self.set_up.built, inspection, &fact.part) {
                let given = Given { part, ask, answer };
                self.note(ground, given, Origin::Fact(number), line);
            }
        }
        for mend in mends {
            self.mend(ground, mend);
        }
    }

    /// What the job was opened with, and what was counted.
    fn take_counts(&mut self, inspection: &Inspection<'_, '_, f64>) {
        let place = |part: usize| inspection.piece().part(part).map(|p| usize::from(p.place));
        let mut count = |part: usize, kind: u16, number: u8, from: Origin| {
            let form = Form::HowMany { part: kind };
            let mut asks = self.pack.asks_of(place(part).unwrap_or_default());
            let Some(ask) = asks.find(|&a| self.pack.ask(usize::from(a)).form == form) else {
                return;
            };
            let answer = Answer::Reading(number.into());
            self.notes.push(Note {
                given: Given { part, ask, answer },
                from,
                moment: 0,
            });
        };
        for part in 0..inspection.piece().parts().len() {
            for &(kind, number) in &self.set_up.order.counts {
                count(part, kind.0, number, Origin::Opened);
            }
        }
        for (number, fact) in self.set_up.facts.iter().enumerate() {
            if let Found::Count {
                part: kind,
                number: n,
            } = fact.found
            {
                for part in resolve(self.set_up.built, inspection, &fact.part) {
                    count(part, kind.0, n, Origin::Fact(number));
                }
            }
        }
    }

    fn mend(&mut self, ground: &Ground, mend: &Mend) {
        let moment = self.moment + 1;
        let mut changes: BTreeMap<usize, bool> = BTreeMap::new();
        let mut mends: BTreeMap<usize, usize> = BTreeMap::new();
        let rows = &self.set_up.built.states.states;
        for &(part, state) in &mend.states {
            let wanted = self.set_up.built.states.declared(state);
            let sound = self.set_up.answer(&sound(self.set_up.model, state));
            if let Some((ask, answer)) = sound {
                let given = Given { part, ask, answer };
                changes.extend(self.decided(ground, given));
            }
            let ask = (part, rows[wanted].ask);
            if let Some(&group) = self.groups.of_ask.get(&ask) {
                self.mends
                    .entry(group)
                    .or_default()
                    .push((moment, mend.line));
                mends.entry(group).or_insert_with(|| {
                    self.fails.push(mend.fails);
                    self.fails.len() - 1
                });
            }
            let was_there = rows[wanted].nature == PackNature::Hidden
                || self.notes.iter().any(|note| {
                    note.given.part == part && truth(&rows[wanted], note.given) == Some(Truth::True)
                });
            self.mended.push(Mended {
                part,
                state,
                line: mend.line,
                was_there,
                again: None,
                chance: 0.0,
                fails: mend.fails,
            });
        }
        for (state, holds) in changes {
            if let Some(group) = self.group_of(ground, state) {
                self.set.entry(group).or_default().insert(state, holds);
                self.change(moment, state, holds, mends.get(&group).copied());
            }
        }
    }

    /// Takes what was noted of something mended for a moment of its own, if it is then
    /// otherwise than it was said to be; a mark that no rule concludes is no such thing.
    fn find_again(&mut self, ground: &Ground, mut changes: BTreeMap<usize, bool>) {
        let rows = &self.set_up.built.states.states;
        let is_otherwise = |(&state, &holds): (&usize, &bool)| {
            let divides = rows[ground.states[state].row].nature == PackNature::Divides;
            let set = self.group_of(ground, state).and_then(|g| self.set.get(&g));
            !divides && set.and_then(|set| set.get(&state)) != Some(&holds)
        };
        if !changes.iter().any(is_otherwise) {
            return;
        }
        changes.extend(self.what_goes_along(ground, &changes));
        let moment = self.moment + 1;
        for (state, holds) in changes {
            if let Some(group) = self.group_of(ground, state) {
                self.set.entry(group).or_default().insert(state, holds);
                self.change(moment, state, holds, None);
            }
        }
    }

    /// What else is so of a measure once a mark is passed: every mark that lies about it.
    fn what_goes_along(
        &self,
        ground: &Ground,
        changes: &BTreeMap<usize, bool>,
    ) -> BTreeMap<usize, bool> {
        let rows = &self.set_up.built.states.states;
        let trial = |state: usize| rows[ground.states[state].row].trial;
        let is_about = |outer: Trial, inner: Trial| match (outer, inner) {
            (Trial::Within(from, to), Trial::Within(low, high)) => from <= low && high <= to,
            _ => false,
        };
        let mut along = BTreeMap::new();
        for (&state, _) in changes.iter().filter(|(_, holds)| **holds) {
            let group = self.group_of(ground, state);
            let others = group.map_or(&[][..], |g| self.groups.states[g].as_slice());
            let others = others.iter().filter(|o| !changes.contains_key(o));
            let about = others.filter(|&&other| is_about(trial(other), trial(state)));
            along.extend(about.map(|&other| (other, true)));
        }
        along
    }

    fn change(&mut self, moment: usize, state: usize, holds: bool, mend: Option<usize>) {
        self.moment = moment;
        self.changes.push(Change {
            moment,
            state,
            holds,
            mend,
        });
    }

    fn group_of(&self, ground: &Ground, state: usize) -> Option<usize> {
        let row = &self.set_up.built.states.states[ground.states[state].row];
        let at = (ground.states[state].part, row.ask);
        self.groups.of_ask.get(&at).copied()
    }

    /// What an answer, taken as it is, says of the states that it is about.
    fn decided(&self, ground: &Ground, given: Given) -> BTreeMap<usize, bool> {
        let group = self.groups.of_ask.get(&(given.part, given.ask)).copied();
        let states = group.map_or(&[][..], |group| self.groups.states[group].as_slice());
        let known = |&state: &usize| {
            let row = &self.set_up.built.states.states[ground.states[state].row];
            match truth(row, given)? {
                Truth::NotKnown => None,
                truth => Some((state, truth == Truth::True)),
            }
        };
        states.iter().filter_map(known).collect()
    }

    /// What was noted. What was mended and is noted again is there again, as it is noted. That
    /// it is not there, as it should be, is an answer as any other.
    fn note(&mut self, ground: &Ground, given: Given, from: Origin, line: usize) {
        let group = self.groups.of_ask.get(&(given.part, given.ask)).copied();
        let was_changed = group.is_some_and(|group| self.set.contains_key(&group));
        let changes = match was_changed && !is_a_hint(given.answer) {
            true => self.decided(ground, given),
            false => BTreeMap::new(),
        };
        for mended in &mut self.mended {
            let row = self.set_up.built.states.declared(mended.state);
            let is_again = |(&state, &holds): (&usize, &bool)| {
                let at = &ground.states[state];
                holds && (at.part, at.row) == (mended.part, row)
            };
            // A sign that bears on no fault stands in no group of states.
            let row = &self.set_up.built.states.states[row];
            let says_so = given.part == mended.part
                && !is_a_hint(given.answer)
                && truth(row, given) == Some(Truth::True);
            if mended.again.is_none() && (says_so || changes.iter().any(is_again)) {
                mended.again = Some(line);
            }
        }
        self.find_again(ground, changes);
        self.notes.push(Note {
            given,
            from,
            moment: self.moment,
        });
    }
}

/// What an answer, taken as it is, says of a state; `None` if it is about something else.
fn truth(row: &StateRow, given: Given) -> Option<Truth> {
    let trial = match row.whether {
        Some(ask) if ask == given.ask => Trial::Yes,
        _ if row.ask == given.ask => row.trial,
        _ => return None,
    };
    Some(given.answer.truth(trial))
}

/// What there is to be found of a state once it was mended: that it is certainly not so. A
/// measure, or what is judged in degrees, is then at the sound end of its range.
#[must_use]
pub fn sound(model: &Model, state: StateId) -> Found {
    if let Some((sign, _)) = model.degree_of(state) {
        return Found::Degree {
            sign,
            degree: 0,
            than: Than::Just,
            sure: Sure::Certain,
        };
    }
    let not_so = Found::State {
        state,
        yes: false,
        sure: Sure::Certain,
    };
    let Nature::CountsAs { sign, mark } = model.states[state.index()].nature else {
        return not_so;
    };
    match model.signs[sign.index()].asks.ends() {
        Some((least, _)) if mark.at_least > least => Found::Measure { sign, ticks: least },
        Some((_, most)) if mark.at_most.is_some() => Found::Measure { sign, ticks: most },
        _ => not_so,
    }
}

/// Whether it only looks like it.
fn is_a_hint(answer: Answer) -> bool {
    match answer {
        Answer::Looks(_) => true,
        Answer::Value(value) => Judged::of(value).is_some_and(|judged| judged.eye == Eye::Looks),
        other => !other.says_something(),
    }
}
