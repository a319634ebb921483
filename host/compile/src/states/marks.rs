//! Marks on measures and counts that rules read without a name, and what ties the
//! marks of one measure together.

use tellmark_core::pack::{Nature, Trial};

use super::uses::Uses;
use super::{StateRow, States, usual};
use crate::numbers::Overflow;
use tellmark_language::model::{Asks, KindId, Model, SignId, Ticks, Verb};

impl States {
    /// Marks on measures and counts that rules read without a name.
    pub(super) fn add_marks(
        &mut self,
        model: &Model,
        kind: KindId,
        uses: &Uses,
    ) -> Result<(), Overflow> {
        let mut marks: Vec<(SignId, Ticks)> = uses
            .marks
            .iter()
            .copied()
            .filter(|(sign, at)| {
                model.signs[sign.index()].kind == kind && !self.marks.contains_key(&(*sign, *at))
            })
            .collect();
        marks.sort_unstable();
        for (sign, at) in marks {
            if self.marks.contains_key(&(sign, at)) {
                continue;
            }
            let record = &model.signs[sign.index()];
            let own = record
                .on_its_own
                .map_or(0.0, |often| f64::from(often.chance.0) / 1000.0);
            let (phrase, verb, trial) = match &record.asks {
                Asks::HowMany(part) => {
                    let fewer = at <= usual(model, kind, *part);
                    let plural = &model.kinds[part.index()].plural;
                    if fewer {
                        let phrase = if at == 1 {
                            format!("no {}", model.kinds[part.index()].name)
                        } else {
                            format!("fewer than {at} {plural}")
                        };
                        (phrase, None, Trial::Within(Ticks::MIN, at - 1))
                    } else {
                        let phrase = format!("at least {at} {plural}");
                        (phrase, None, Trial::Within(at, Ticks::MAX))
                    }
                }
                Asks::HowMuch {
                    phrase, word, unit, ..
                } => {
                    let quantity = tellmark_language::words::quantity_short(at, *unit);
                    let word = if word == "much" || word == "far" {
                        String::new()
                    } else {
                        format!(" {word}")
                    };
                    let phrase = format!("{phrase} at least {quantity}{word}");
                    (phrase, Some(Verb::Is), Trial::Within(at, Ticks::MAX))
                }
                Asks::Whether(_) | Asks::Which { .. } => continue,
            };
            let row = self.push(StateRow {
                kind,
                phrase,
                verb,
                nature: Nature::Mark,
                ask: self.signs.get(&sign).copied().unwrap_or_default(),
                whether: None,
                trial,
                own,
                in_use: true,
                implied_by: Vec::new(),
                unless: None,
                missed: None,
                declared: None,
            })?;
            self.marks.insert((sign, at), row);
        }
        Ok(())
    }

    /// Too few and more than usual exclude each other: a count that is over what
    /// is usual can only be so where it does not fall short.
    pub(super) fn part_counts(&mut self, first: usize) {
        let counted = |row: &StateRow| row.verb.is_none() && row.nature == Nature::Mark;
        for over in first..self.states.len() {
            let Trial::Within(from, Ticks::MAX) = self.states[over].trial else {
                continue;
            };
            let ask = self.states[over].ask;
            let widest = (first..self.states.len())
                .filter(|&s| counted(&self.states[s]) && self.states[s].ask == ask)
                .filter_map(|s| match self.states[s].trial {
                    Trial::Within(Ticks::MIN, to) if to < from => Some((to, s)),
                    _ => None,
                })
                .max();
            if let (true, Some((_, short))) = (counted(&self.states[over]), widest) {
                let own = self.states[over].own;
                self.states[over].unless = Some((vec![short], own));
                self.states[over].own = 0.0;
            }
        }
    }

    /// Ties the marks of one measure or count together: each is implied by the
    /// next narrower ones.
    pub(super) fn imply(&mut self, first: usize) {
        let within = |states: &[StateRow], i: usize| match states[i].trial {
            Trial::Within(from, to) => Some((states[i].ask, from, to)),
            _ => None,
        };
        for wide in first..self.states.len() {
            let Some((ask, from, to)) = within(&self.states, wide) else {
                continue;
            };
            let inside = |inner: usize| {
                inner != wide
                    && within(&self.states, inner).is_some_and(|(a, f, t)| {
                        a == ask && from <= f && t <= to && (f, t) != (from, to)
                    })
            };
            let narrower: Vec<usize> = (first..self.states.len()).filter(|&n| inside(n)).collect();
            let direct = |&n: &usize| {
                let Some((_, f, t)) = within(&self.states, n) else {
                    return false;
                };
                !narrower.iter().any(|&m| {
                    m != n
                        && within(&self.states, m)
                            .is_some_and(|(_, mf, mt)| mf <= f && t <= mt && (mf, mt) != (f, t))
                })
            };
            let implied_by: Vec<usize> = narrower.iter().copied().filter(direct).collect();
            self.states[wide].implied_by = implied_by;
        }
        // What is read brings in all narrower marks of the same measure.
        let mut open: Vec<usize> = (first..self.states.len())
            .filter(|&state| self.states[state].in_use)
            .collect();
        while let Some(state) = open.pop() {
            for inner in self.states[state].implied_by.clone() {
                if !self.states[inner].in_use {
                    self.states[inner].in_use = true;
                    open.push(inner);
                }
            }
        }
    }
}
