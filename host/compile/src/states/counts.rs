//! What makes the marks of one count a single number.
//!
//! A number is as usual, short of it, or over it. Each of the two begins as often as the
//! sign does on its own, and what begins is spread evenly over the numbers there can be:
//! where there are usually 4 and at most 6, "at least 6" is half of "at least 5". A
//! number that is short is not over.

use tellmark_core::pack::Trial;

use super::shares::{beyond, part};
use super::{Asked, Meant, States, range, usual};
use tellmark_language::model::{Asks, KindId, Model, Sign, Ticks};

/// A mark: how often the number passes it, and its row.
struct Passed {
    chance: f64,
    row: usize,
}

impl States {
    /// Ties the marks of every count together, among the states from `first` on.
    pub(super) fn tie_counts(&mut self, model: &Model, first: usize) {
        let of_kind = self.asks_of_kind.last().cloned().unwrap_or_default();
        for ask in of_kind {
            if let Asked::Sign(sign) = self.asks[ask].what {
                let record = &model.signs[sign.index()];
                if let Asks::HowMany(part) = record.asks {
                    self.tie_count(model, record, part, (first, self.ask(sign)));
                }
            }
        }
    }

    fn tie_count(&mut self, model: &Model, sign: &Sign, of: KindId, (first, ask): (usize, u16)) {
        let (least, most) = range(model, sign.kind, of);
        let usual = usual(model, sign.kind, of);
        let start = sign
            .on_its_own
            .map_or(0.0, |often| f64::from(often.chance.0) / 1000.0);
        let mut short: Vec<(Ticks, usize)> = Vec::new();
        let mut over: Vec<(Ticks, usize)> = Vec::new();
        for (row, state) in self.states.iter().enumerate().skip(first) {
            match state.trial {
                Trial::Within(Ticks::MIN, to) if state.ask == ask => short.push((to, row)),
                Trial::Within(from, Ticks::MAX) if state.ask == ask => over.push((from, row)),
                _ => {}
            }
        }
        // The narrowest first.
        short.sort_unstable();
        over.sort_unstable_by(|a, b| b.cmp(a));
        let short: Vec<Passed> = short
            .into_iter()
            .map(|(to, row)| Passed {
                chance: start * part(to.saturating_add(1) - least, usual - least),
                row,
            })
            .collect();
        let widest = short.last();
        let not_short = widest.map_or(1.0, |short| 1.0 - short.chance);
        let over: Vec<Passed> = over
            .into_iter()
            .map(|(from, row)| Passed {
                chance: (start * part(most.saturating_add(1) - from, most - usual) / not_short)
                    .min(1.0),
                row,
            })
            .collect();
        self.chain(&short, &[]);
        let unless: Vec<(usize, bool)> =
            widest.map(|short| (short.row, false)).into_iter().collect();
        self.chain(&over, &unless);
    }

    /// Each mark is implied by the one before it, and begins with what is left of its
    /// chance where `when` is so.
    fn chain(&mut self, marks: &[Passed], when: &[(usize, bool)]) {
        let mut narrower: Option<&Passed> = None;
        for mark in marks {
            let begins = beyond(mark.chance, narrower.map_or(0.0, |n| n.chance));
            let state = &mut self.states[mark.row];
            if when.is_empty() {
                state.own = begins;
            } else {
                state.meant.push(Meant {
                    when: when.to_vec(),
                    weight: begins,
                });
            }
            state.meant.extend(narrower.map(|narrower| Meant {
                when: vec![(narrower.row, true)],
                weight: 1.0,
            }));
            narrower = Some(mark);
        }
    }
}
