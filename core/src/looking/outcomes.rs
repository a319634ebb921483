//! The answers that a check can have, and the chance of each.

use heapless::Vec;

use crate::belief::{self, Moved};
use crate::limits::MAX_MARKS;
use crate::number::{Number, Share};
use crate::pack::{Form, Layout, Pack, Trial};

/// An answer rarer than this (a thousandth) is not named among those that a
/// check can lead to.
pub(super) const RARE: u64 = (1 << 32) / 1000;

/// One answer, or all that say the same.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Outcome {
    /// Its chance as things stand, in 2⁻³².
    pub(super) before: u64,
    /// Its chance with a fault held true.
    pub(super) now: u64,
}

impl Outcome {
    const WHOLE: Self = Self {
        before: Share::WHOLE.units(),
        now: Share::WHOLE.units(),
    };

    fn plus(self, other: Self) -> Self {
        Self {
            before: self.before.saturating_add(other.before),
            now: self.now.saturating_add(other.now),
        }
    }

    fn minus(self, other: Self) -> Self {
        Self {
            before: self.before.saturating_sub(other.before),
            now: self.now.saturating_sub(other.now),
        }
    }
}

/// What can be answered: one more than the states that an answer decides.
pub(super) type Outcomes = Vec<Outcome, { MAX_MARKS + 1 }>;

/// The answers that this ask, which decides states from the `first`-th on, can
/// have about a part.
pub(super) fn outcomes<N: Number>(
    pack: &Pack<'_>,
    layout: &Layout,
    ask: u16,
    first: usize,
    moved: &Moved<'_, N>,
) -> Outcomes {
    let details = pack.ask(usize::from(ask));
    if details.form == Form::Whether {
        return whether(chance(moved, first).unwrap_or_default(), details.slip);
    }
    let is_measure = matches!(details.form, Form::HowMuch { .. });
    let states = layout.states().map(|state| pack.state(usize::from(state)));
    let trials = states
        .filter(|state| state.ask == ask)
        .map(|state| state.trial);
    let towards = belief::towards(trials);
    let mut marks: Vec<(i64, i64, Outcome), MAX_MARKS> = Vec::new();
    for (slot, number) in layout.states().enumerate().skip(first) {
        let state = pack.state(usize::from(number));
        if state.ask != ask {
            continue;
        }
        let Some(chance) = chance(moved, slot) else {
            continue;
        };
        let (from, to) = match state.trial {
            // What goes the other way follows from the others.
            trial if is_measure && towards.mark(trial).is_none() => continue,
            Trial::Within(from, to) => (from, to),
            Trial::Value(value) => (i32::from(value), i32::from(value)),
            Trial::Yes => continue,
        };
        if marks.push((from.into(), to.into(), chance)).is_err() {
            break;
        }
    }
    bands(&marks)
}

/// The chance of a state; `None` if no rule has to do with it.
fn chance<N: Number>(moved: &Moved<'_, N>, slot: usize) -> Option<Outcome> {
    let share = |pairs: &[N]| {
        let pair = pairs.get(2 * slot..2 * slot + 2)?;
        let (&no, &yes) = (pair.first()?, pair.last()?);
        (!no.is_zero() || !yes.is_zero()).then(|| N::share(yes, no).units())
    };
    Some(Outcome {
        before: share(moved.before)?,
        now: share(moved.now)?,
    })
}

/// Yes or no, with a slip of the eye: of so many thousandths.
fn whether(yes: Outcome, slip: u16) -> Outcomes {
    let slip = u64::from(slip.min(1000));
    let says = |yes: u64| {
        let no = Share::WHOLE.units().saturating_sub(yes);
        (yes * (1000 - slip) + no * slip) / 1000
    };
    let yes = Outcome {
        before: says(yes.before),
        now: says(yes.now),
    };
    let mut outcomes = Outcomes::new();
    let _ = outcomes.push(Outcome::WHOLE.minus(yes));
    let _ = outcomes.push(yes);
    outcomes
}

/// The chances between marks that lie one within the other. Marks on the two
/// sides of what is usual ("fewer than 2", "at least 4") exclude each other, and
/// so do the values of a choice.
fn bands(marks: &[(i64, i64, Outcome)]) -> Outcomes {
    // Of two that are the same, the later is within the earlier.
    let is_inside = |inner: usize, outer: usize| match (marks.get(inner), marks.get(outer)) {
        (Some(i), Some(o)) => {
            o.0 <= i.0 && i.1 <= o.1 && ((i.0, i.1) != (o.0, o.1) || inner > outer)
        }
        _ => false,
    };
    let all = 0..marks.len();
    let is_between = |inner: usize, outer: usize| {
        let mut others = all.clone();
        others.any(|k| is_inside(inner, k) && is_inside(k, outer))
    };
    let mut outcomes = Outcomes::new();
    let mut outside = Outcome::WHOLE;
    for (i, &(_, _, chance)) in marks.iter().enumerate() {
        let inner = all
            .clone()
            .filter(|&j| is_inside(j, i) && !is_between(j, i))
            .filter_map(|j| marks.get(j))
            .fold(Outcome::default(), |sum, &(_, _, inner)| sum.plus(inner));
        let _ = outcomes.push(chance.minus(inner));
        if !all.clone().any(|k| is_inside(i, k)) {
            outside = outside.minus(chance);
        }
    }
    let _ = outcomes.push(outside);
    outcomes
}
