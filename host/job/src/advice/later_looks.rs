//! What checks are worth once something was mended.
//!
//! [`tellmark_core::looking`] weighs the checks of one moment. Here the same is worked out
//! over both: a fault that is held to be there gives its joint chance with every answer to
//! every check at once.

use tellmark_core::inspection::Inspection;
use tellmark_core::logic::can_be;
use tellmark_core::looking::{costs, is_check};
use tellmark_core::number::UFloat;
use tellmark_core::pack::{Form, NONE, Nature, Pack, Touch, Trial};
use tellmark_core::piece::Answer;

use tellmark_compile::ground::Ground;
use tellmark_compile::set_up::Later;

/// A check that has not been made since what bears on it was mended.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Open {
    pub part: usize,
    pub ask: u16,
    pub minutes: u16,
    pub touch: Touch,
    /// The states that it decides, each with its trial.
    states: Vec<(usize, Trial)>,
    /// How often an ordinary answer is a slip; `None` where an answer counts as exact.
    slip: Option<f64>,
}

/// Something that an answer does to the chance of a fault.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Moves {
    /// How likely the answer is.
    pub likely: f64,
    /// The chance of the fault after it.
    pub then: f64,
}

/// An answer rarer than this is not named.
const RARE: f64 = 0.001;

/// Every check that can be made.
pub(super) fn open(inspection: &Inspection<'_, '_, UFloat>, ground: &Ground) -> Vec<Open> {
    let (pack, piece) = (inspection.pack(), inspection.piece());
    let mut found = Vec::new();
    for (part, record) in piece.parts().iter().enumerate() {
        let layout = pack.layout(usize::from(record.place));
        for ask in layout.asks() {
            let is_open = piece.answer(pack, part, ask) == Some(Answer::NotLooked);
            let can = is_open && is_check(pack, ask) && !record.out_of_sight;
            if !can || !can_be(pack, piece, part, ask) {
                continue;
            }
            let states = layout.states().enumerate().filter_map(|(slot, state)| {
                let state = pack.state(usize::from(state));
                (state.ask == ask).then(|| (ground.state(part, slot), state.trial))
            });
            let states: Vec<(usize, Trial)> = states.collect();
            let asked = pack.ask(usize::from(ask));
            let is_whether = matches!(asked.form, Form::Whether);
            if !states.is_empty() {
                found.push(Open {
                    part,
                    ask,
                    minutes: asked.minutes.max(1),
                    touch: asked.touch,
                    states,
                    slip: is_whether.then(|| f64::from(asked.slip) / 1000.0),
                });
            }
        }
    }
    found
}

impl Open {
    /// How likely each answer is, by the chances of its states; `None` if the rules give
    /// none.
    fn answers(&self, chances: &[Option<f64>]) -> Option<Vec<f64>> {
        if let Some(slip) = self.slip {
            let yes = chances[self.states.first()?.0]?;
            let said = yes * (1.0 - slip) + (1.0 - yes) * slip;
            return Some(vec![1.0 - said, said]);
        }
        let mut marks: Vec<(i64, i64, f64)> = Vec::new();
        for &(state, trial) in &self.states {
            let (from, to) = match trial {
                Trial::Within(from, to) if from == i32::MIN || to == i32::MAX => (from, to),
                Trial::Value(value) => (i32::from(value), i32::from(value)),
                // What has two ends follows from the others.
                Trial::Within(..) | Trial::Yes => continue,
            };
            let Some(chance) = chances[state] else {
                continue;
            };
            marks.push((from.into(), to.into(), chance));
        }
        Some(bands(&marks))
    }

    /// What each answer does to a fault whose chance is this, with the chances as they are
    /// and as they are if the fault is there.
    pub fn moves(
        &self,
        fault: f64,
        before: &[Option<f64>],
        then: &[Option<f64>],
    ) -> Option<Vec<Moves>> {
        let (before, then) = (self.answers(before)?, self.answers(then)?);
        let moves = before.into_iter().zip(then).map(|(likely, if_so)| Moves {
            likely,
            then: (fault * if_so / likely.max(f64::MIN_POSITIVE)).clamp(0.0, 1.0),
        });
        Some(moves.collect())
    }
}

/// The lowest and the highest chance that an answer leads to.
pub(super) fn ends(fault: f64, moves: &[Moves]) -> (f64, f64) {
    let named = moves.iter().filter(|moves| moves.likely > RARE);
    named.fold((fault, fault), |(low, high), moves| {
        (low.min(moves.then), high.max(moves.then))
    })
}

/// The chances between marks that lie one within the other; what lies outside all of them
/// comes last.
fn bands(marks: &[(i64, i64, f64)]) -> Vec<f64> {
    let is_inside = |inner: usize, outer: usize| {
        let (i, o) = (&marks[inner], &marks[outer]);
        o.0 <= i.0 && i.1 <= o.1 && ((i.0, i.1) != (o.0, o.1) || inner > outer)
    };
    let all = || 0..marks.len();
    let is_next = |inner: usize, outer: usize| {
        let mut others = all();
        is_inside(inner, outer) && !others.any(|k| is_inside(inner, k) && is_inside(k, outer))
    };
    let mut found = Vec::new();
    let mut outside = 1.0;
    for (i, mark) in marks.iter().enumerate() {
        let within: f64 = all().filter(|&j| is_next(j, i)).map(|j| marks[j].2).sum();
        found.push((mark.2 - within).max(0.0));
        if !all().any(|k| is_inside(i, k)) {
            outside -= mark.2;
        }
    }
    found.push(f64::max(outside, 0.0));
    found
}

/// A hidden fault that may be there and costs something.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fault {
    pub part: usize,
    /// By its number in the pack.
    pub number: u16,
    /// By its number among the states of the piece.
    pub state: usize,
    pub chance: f64,
    missed: f64,
    needless: f64,
}

/// Every fault whose loss an answer could lessen.
pub(super) fn faults(pack: &Pack<'_>, ground: &Ground, later: &Later) -> Vec<Fault> {
    let chances = later.chances();
    let mut found = Vec::new();
    for (part, record) in ground.parts.iter().enumerate() {
        for (slot, number) in pack.states_of(record.place).enumerate() {
            let row = pack.state(usize::from(number));
            let state = ground.state(part, slot);
            let Some(chance) = chances[state].filter(|&c| c > 0.0 && c < 1.0) else {
                continue;
            };
            if row.nature == Nature::Hidden && row.ask != NONE {
                let (missed, needless) = costs(pack, number, &row);
                found.push(Fault {
                    part,
                    number,
                    state,
                    chance,
                    missed: missed.into(),
                    needless: needless.into(),
                });
            }
        }
    }
    found.retain(|fault| fault.missed > 0.0);
    found
}

impl Fault {
    /// What answers are expected to take off its loss, in minutes.
    pub fn saved(&self, moves: &[Moves]) -> f64 {
        let loss = |chance: f64| (chance * self.missed).min((1.0 - chance) * self.needless);
        let after: f64 = moves.iter().map(|m| m.likely * loss(m.then)).sum();
        (loss(self.chance) - after).max(0.0)
    }
}
