//! What makes the marks of one measure a single quantity.
//!
//! Marks that a rule concludes are its *levels*: each begins on its own as often as the
//! house says, and what passes one passes those below it. They divide the measure into
//! stretches. All other marks only *divide* a stretch, in the same shares whatever is
//! wrong, so that a mark nobody concludes changes nothing but what is concluded from it.
//!
//! The shares: a mark with a name has the share of its stretch that its start has there;
//! one without stands evenly between those. Below the lowest level, most of what is
//! measured stands at the smallest reading, as often as the measure's own start says.
//!
//! Levels go towards more, "at least 2 mm", or all towards less, "at most 3 mm"; then all
//! is worked out as in a mirror, with the signs of readings turned round. What goes the
//! other way, and what has ends on both sides, follows from the marks at its ends.

use std::collections::HashMap;

use tellmark_core::pack::{Nature, Trial};

use super::shares::{beyond, part};
use super::uses::Uses;
use super::{Asked, Meant, States};
use tellmark_language::model::{Asks, Mark, Model, SignId, Ticks, Towards};

/// A mark, and the row of its state. (Towards less, the mark is that of the mirror.)
#[derive(Clone, Copy)]
struct At {
    ticks: Ticks,
    row: usize,
}

/// The marks of one measure, the lowest first.
struct Measure {
    /// Just above the smallest reading it is above this.
    least: Ticks,
    /// Just above the largest reading.
    top: Ticks,
    /// It is judged in degrees: there is nothing between the smallest and the lowest mark.
    is_judged: bool,
    /// How often it is above the smallest reading.
    start: f64,
    levels: Vec<At>,
    dividing: Vec<At>,
    /// What follows from the marks at its ends.
    following: Vec<(Mark, usize)>,
}

/// From one level up to the next, or an end of the measure.
struct Stretch {
    from: Option<At>,
    end: Option<At>,
    /// Where it is known how much of the stretch lies above, in thousandths: at both
    /// ends, and at each name between.
    known: Vec<(Ticks, u16)>,
}

impl States {
    /// Ties the marks of every measure together, among the states from `first` on.
    pub(super) fn tie_measures(&mut self, model: &Model, uses: &Uses, first: usize) {
        let of_kind = self.asks_of_kind.last().cloned().unwrap_or_default();
        for ask in of_kind {
            let Asked::Sign(sign) = self.asks[ask].what else {
                continue;
            };
            if let Some(measure) = self.measure(model, uses, first, sign) {
                self.tie_measure(&measure);
                for &(mark, row) in &measure.following {
                    self.follow(model, sign, mark, row);
                }
            }
        }
    }

    /// A measure with its marks; `None` if the sign is none, or no rule has to do with
    /// it.
    fn measure(&self, model: &Model, uses: &Uses, first: usize, sign: SignId) -> Option<Measure> {
        let record = &model.signs[sign.index()];
        let (least, most) = record.asks.ends()?;
        let start = record.on_its_own;
        let towards = uses.towards(model, sign);
        let (least, top) = match towards {
            Towards::More => (least, most.saturating_add(1)),
            Towards::Less => (-most, 1 - least),
        };
        let mut measure = Measure {
            least,
            top,
            is_judged: matches!(record.asks, Asks::Degrees { .. }),
            start: start.map_or(0.0, |often| f64::from(often.chance.0) / 1000.0),
            levels: Vec::new(),
            dividing: Vec::new(),
            following: Vec::new(),
        };
        let ask = self.ask(sign);
        let mut is_used = false;
        for (row, state) in self.states.iter().enumerate().skip(first) {
            let Trial::Within(from, to) = state.trial else {
                continue;
            };
            if state.ask != ask {
                continue;
            }
            is_used |= state.in_use;
            let ticks = match (towards, from, to) {
                (Towards::More, from, Ticks::MAX) => from,
                (Towards::Less, Ticks::MIN, to) => -to,
                _ => {
                    let mark = Mark {
                        at_least: from,
                        at_most: (to != Ticks::MAX).then_some(to),
                    };
                    measure.following.push((mark, row));
                    continue;
                }
            };
            let at = At { ticks, row };
            if state
                .declared
                .is_some_and(|id| uses.concluded.contains(&id))
            {
                measure.levels.push(at);
            } else {
                measure.dividing.push(at);
            }
        }
        measure.levels.sort_by_key(|at| at.ticks);
        measure.dividing.sort_by_key(|at| at.ticks);
        is_used.then_some(measure)
    }

    fn tie_measure(&mut self, measure: &Measure) {
        let marks = measure.levels.iter().chain(&measure.dividing);
        let rows = marks.map(|at| at.row);
        for row in rows.chain(measure.following.iter().map(|(_, row)| *row)) {
            self.states[row].in_use = true;
        }
        let begins = self.begins(measure);
        if measure.is_judged {
            for (&row, &chance) in &begins {
                self.states[row].alone = chance;
            }
        }
        self.tie_levels(&measure.levels, &begins);
        let mut ends = measure.levels.iter().copied();
        let mut from = None;
        loop {
            let end = ends.next();
            let inside = |at: &&At| {
                from.is_none_or(|from: At| from.ticks <= at.ticks)
                    && end.is_none_or(|end: At| at.ticks < end.ticks)
            };
            let dividing: Vec<At> = measure.dividing.iter().filter(inside).copied().collect();
            let stretch = self.stretch(measure, &begins, &dividing, (from, end));
            self.divide(&stretch, &dividing);
            if end.is_none() {
                return;
            }
            from = end;
        }
    }

    /// How often each mark with a name is passed where nothing gives a reason for it: as
    /// the house says, but less often than the one below. Where it says no less of it,
    /// what passes the one below is spread evenly over the rest of the measure.
    fn begins(&self, measure: &Measure) -> HashMap<usize, f64> {
        let dividing = measure.dividing.iter();
        let named = dividing.filter(|at| self.states[at.row].declared.is_some());
        let mut named: Vec<At> = named.chain(&measure.levels).copied().collect();
        named.sort_by_key(|at| at.ticks);
        let mut begins = HashMap::new();
        let mut below: Option<(At, f64)> = None;
        for at in named {
            let alone = self.states[at.row].alone;
            let chance = match below {
                Some((lower, chance)) if alone >= chance => {
                    chance * part(measure.top - at.ticks, measure.top - lower.ticks)
                }
                _ => alone,
            };
            begins.insert(at.row, chance);
            below = Some((at, chance));
        }
        begins
    }

    /// Each level begins with its chance, the higher ones included.
    fn tie_levels(&mut self, levels: &[At], begins: &HashMap<usize, f64>) {
        for (i, at) in levels.iter().enumerate() {
            let next = levels.get(i + 1);
            let higher = next.map_or(0.0, |next| begins[&next.row]);
            let state = &mut self.states[at.row];
            state.own = beyond(begins[&at.row], higher);
            state.meant.extend(next.map(|next| implied(*next)));
        }
    }

    /// How a stretch is shared out.
    fn stretch(
        &self,
        measure: &Measure,
        begins: &HashMap<usize, f64>,
        dividing: &[At],
        (from, end): (Option<At>, Option<At>),
    ) -> Stretch {
        let alone = |at: Option<At>, without| at.map_or(without, |at| begins[&at.row]);
        let (most, least) = (alone(from, 1.0), alone(end, 0.0));
        let top = end.map_or(measure.top, |end| end.ticks);
        let start = from.map_or(measure.least, |from| from.ticks);
        let named = dividing
            .iter()
            .filter(|at| self.states[at.row].declared.is_some());
        let named: Vec<At> = named.copied().collect();
        // The share that goes with a chance, always less than the last one.
        let mut left = u16::try_from(named.len()).unwrap_or(u16::MAX);
        let mut last = 1000_u16;
        let mut share = |chance: f64| {
            let share = if most > least {
                (chance - least) / (most - least)
            } else {
                0.0
            };
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let share = (share.clamp(0.0, 1.0) * 1000.0).round() as u16;
            last = share.min(last.saturating_sub(1)).max(left + 1);
            left = left.saturating_sub(1);
            last
        };
        let mut known = Vec::new();
        match from {
            Some(_) => known.push((start, 1000)),
            None if measure.is_judged => known.push((start, 1000)),
            None => {
                // At least as much as the lowest name would have it if all were even.
                let lowest = named.first().copied().or(end);
                let even = lowest.map_or(0.0, |at| {
                    let above = part(measure.top - at.ticks, measure.top - start);
                    alone(Some(at), 0.0) / above
                });
                known.push((start, share(measure.start.max(even))));
            }
        }
        for at in &named {
            known.push((at.ticks, share(begins[&at.row])));
        }
        known.push((top, 0));
        Stretch { from, end, known }
    }

    /// Marks that divide a stretch.
    fn divide(&mut self, stretch: &Stretch, dividing: &[At]) {
        for (i, at) in dividing.iter().enumerate() {
            let next = dividing.get(i + 1);
            let higher = next.map_or(0.0, |next| stretch.above(next.ticks));
            let chance = beyond(stretch.above(at.ticks), higher);
            let lowest = stretch.known.first().map_or(0, |known| known.1);
            let state = &mut self.states[at.row];
            state.nature = Nature::Divides;
            state.share = match (state.declared, stretch.from) {
                (Some(_), _) => stretch.share_at(at.ticks),
                (None, None) => lowest,
                (None, Some(_)) => 0,
            };
            state.own = 0.0;
            match stretch.from {
                Some(from) => state.meant.push(Meant {
                    when: vec![(from.row, true)],
                    weight: chance,
                }),
                None => state.own = chance,
            }
            let above = next.copied().or(stretch.end);
            state.meant.extend(above.map(implied));
        }
    }

    /// What lies between two marks is worked out from them.
    fn follow(&mut self, model: &Model, sign: SignId, mark: Mark, row: usize) {
        let within = self.within(model, sign, mark);
        let state = &mut self.states[row];
        state.own = 0.0;
        match within {
            Ok(when) => state.meant.push(Meant { when, weight: 1.0 }),
            Err(always) => state.own = f64::from(u8::from(always)),
        }
    }
}

impl Stretch {
    /// How much of it lies above a mark.
    fn above(&self, at: Ticks) -> f64 {
        let mut pairs = self.known.iter().zip(self.known.iter().skip(1));
        let found = pairs.find(|(_, high)| at < high.0);
        found.map_or(0.0, |(low, high)| {
            let of_it = if low.0 < at {
                part(high.0 - at, high.0 - low.0)
            } else {
                1.0
            };
            (f64::from(high.1) + f64::from(low.1 - high.1) * of_it) / 1000.0
        })
    }

    /// The share that is known at a mark with a name.
    fn share_at(&self, at: Ticks) -> u16 {
        let known = self.known.iter().rev().find(|known| known.0 == at);
        known.map_or(0, |known| known.1)
    }
}

/// A mark implies the one below it.
fn implied(by: At) -> Meant {
    Meant {
        when: vec![(by.row, true)],
        weight: 1.0,
    }
}
