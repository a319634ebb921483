//! What an answer says about a state: how likely the answer is if the state
//! does not hold, and if it does.
//!
//! A measure is one quantity and a choice one observation, however many states speak of
//! it. Of these, one answer gives likelihoods to all states at once: their product over
//! a world must be what the answer says of that world, once. So the states take turns:
//! a mark says how much likelier the answer is just above it than just below, and a
//! value how much likelier it is with that value than with one that no state names.
//! Along the marks that hold, and along all values but one, everything else cancels.

use heapless::Vec;

use super::{circuit, gauge};
use crate::limits::MAX_MARKS;
use crate::number::Number;
use crate::pack::{Ask, Form, Layout, NONE, Nature, Pack, State, Trial};
use crate::piece::{Answer, Eye, Judged};

/// "Looks like it" is four times as likely if it is so.
const LOOKS: u32 = 4;

/// The likelihoods of what was answered about a state: (no, yes). Only their proportion
/// counts. `layout` has the other states of its part, and `answer` says what was
/// answered to an ask.
pub(super) fn of<N: Number>(
    pack: &Pack<'_>,
    layout: &Layout,
    state: &State,
    answer: &dyn Fn(u16) -> Answer,
) -> (N, N) {
    let given = answer(state.ask);
    if state.trial == Trial::Yes {
        return whether(pack, state.ask, given);
    }
    let ask = || pack.ask(usize::from(state.ask));
    let measured = match (given, state.trial) {
        (Answer::Value(value), Trial::Value(meant)) => {
            choice(pack, layout, state.ask, &ask(), value, meant)
        }
        (Answer::Value(value), Trial::Within(from, i32::MAX)) => judged(value, from, ask().slip),
        (Answer::Reading(reading) | Answer::Tabled(reading, _), Trial::Within(from, to)) => {
            let ask = ask();
            let out_by = given.out_by(ask.form);
            reading_of(pack, layout, state.ask, &ask, (reading, out_by), (from, to))
        }
        _ => (N::ONE, N::ONE),
    };
    if state.whether == NONE {
        return measured;
    }
    // A mark with a name can be seen by eye as well; both count.
    let seen: (N, N) = whether(pack, state.whether, answer(state.whether));
    (measured.0.times(seen.0), measured.1.times(seen.1))
}

/// Whether what was answered may rule a state in or out for certain: most answers leave
/// room for a slip.
pub(super) fn may_be_firm(pack: &Pack<'_>, state: &State, answer: &dyn Fn(u16) -> Answer) -> bool {
    let is_firm = |ask: u16, given: Answer| {
        let record = || pack.ask(usize::from(ask));
        match given {
            Answer::Seen(_) | Answer::Value(_) => given.is_firm(record().slip),
            Answer::Reading(_) | Answer::Tabled(..) => given.out_by(record().form) == 0,
            _ => given.is_firm(0),
        }
    };
    is_firm(state.ask, answer(state.ask))
        || (state.whether != NONE && is_firm(state.whether, answer(state.whether)))
}

fn whether<N: Number>(pack: &Pack<'_>, ask: u16, given: Answer) -> (N, N) {
    let slip = || pack.ask(usize::from(ask)).slip;
    match given {
        Answer::Seen(yes) => {
            let slip = u64::from(slip());
            sides(yes, slip, 1000_u64.saturating_sub(slip))
        }
        Answer::Looks(yes) => sides(yes, 1, u64::from(LOOKS)),
        Answer::Certain(yes) => sides(yes, 0, 1),
        _ => (N::ONE, N::ONE),
    }
}

/// Likelihoods in the proportion of two whole numbers.
fn sides<N: Number>(yes: bool, against: u64, so: u64) -> (N, N) {
    if yes {
        pair(against, so)
    } else {
        pair(so, against)
    }
}

fn pair<N: Number>(no: u64, yes: u64) -> (N, N) {
    level(N::from_whole(no), N::from_whole(yes))
}

/// The same proportion, in numbers that are neither large nor small.
fn level<N: Number>(no: N, yes: N) -> (N, N) {
    let mut pair = [no, yes];
    circuit::level(&mut pair);
    let [no, yes] = pair;
    (no, yes)
}

/// What a choice says of one of its values: the answer is right unless it is a slip, and
/// a slip falls on each of the other values alike.
fn choice<N: Number>(
    pack: &Pack<'_>,
    layout: &Layout,
    number: u16,
    ask: &Ask,
    answered: u8,
    meant: u8,
) -> (N, N) {
    let slip = u64::from(ask.slip);
    if slip == 0 {
        return sides(answered == meant, 0, 1);
    }
    let Form::Which { values, .. } = ask.form else {
        return (N::ONE, N::ONE);
    };
    let (mut named, mut is_named) = (0_u64, false);
    for state in states_of(pack, layout, number) {
        if let Trial::Value(value) = state.trial {
            named = named.saturating_add(1);
            is_named |= value == answered;
        }
    }
    let values = u64::from(values);
    let others = values.saturating_sub(1).max(1);
    // Values that no state names count as one, which has any of them alike.
    let rest = values.saturating_sub(named).max(1);
    let right = 1000_u64.saturating_sub(slip).wrapping_mul(others);
    let of_rest = if is_named {
        slip.wrapping_mul(rest)
    } else {
        right.saturating_add(slip.wrapping_mul(rest.saturating_sub(1)))
    };
    let of_value = if answered == meant { right } else { slip };
    pair(of_rest, of_value.wrapping_mul(rest))
}

/// What a judgement says of its being of some degree or a higher one. It is a yes or no
/// to each degree, and a slip falls half on either side: a degree further out is one slip
/// more.
fn judged<N: Number>(value: u8, from: i32, slip: u16) -> (N, N) {
    let said = Judged::of(value);
    let reaches = u8::try_from(from)
        .ok()
        .and_then(|degree| Some((said?.reaches(degree)?, said?.eye)));
    match reaches {
        Some((yes, Eye::Ordinary)) => {
            let slip = u64::from(slip);
            sides(yes, slip, 2000_u64.saturating_sub(slip))
        }
        Some((yes, Eye::Looks)) => sides(yes, 1, u64::from(LOOKS)),
        Some((yes, Eye::Certain)) => sides(yes, 0, 1),
        None => (N::ONE, N::ONE),
    }
}

/// What a reading or a count, out by one standard deviation of so much, says of a state that
/// lies within bounds.
#[inline(never)]
fn reading_of<N: Number>(
    pack: &Pack<'_>,
    layout: &Layout,
    number: u16,
    ask: &Ask,
    (reading, out_by): (i32, u32),
    (from, to): (i32, i32),
) -> (N, N) {
    let Form::HowMuch { least, most, .. } = ask.form else {
        return sides(from <= reading && reading <= to, 0, 1);
    };
    let (least, most, reading) = (i64::from(least), i64::from(most), i64::from(reading));
    let (towards, marks) = marks(pack, layout, number);
    let Some(mark) = towards.mark(Trial::Within(from, to)) else {
        // It follows from the marks at its ends.
        return (N::ONE, N::ONE);
    };
    let (least, top, reading) = match towards {
        Towards::More => (least, most.saturating_add(1), reading),
        Towards::Less => (
            most.saturating_neg(),
            1_i64.saturating_sub(least),
            reading.saturating_neg(),
        ),
    };
    if out_by == 0 {
        return sides(mark <= reading, 0, 1);
    }
    let measure = Measure { marks, least, top };
    measure.at_mark(mark, reading, out_by)
}

/// Which way the marks of a measure are passed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Towards {
    /// At least so much.
    More,
    /// At most so much: all is as in a mirror, with the signs of readings turned round.
    Less,
}

/// Which way the marks of a measure are passed, by the trials of its states.
pub(crate) fn towards(mut trials: impl Iterator<Item = Trial>) -> Towards {
    if trials.any(|trial| matches!(trial, Trial::Within(i32::MIN, _))) {
        Towards::Less
    } else {
        Towards::More
    }
}

impl Towards {
    /// The mark that a state passes, if it is one that goes this way; the others follow
    /// from these.
    pub(crate) fn mark(self, trial: Trial) -> Option<i64> {
        match (self, trial) {
            (Self::More, Trial::Within(from, i32::MAX)) => Some(i64::from(from)),
            (Self::Less, Trial::Within(i32::MIN, to)) => Some(i64::from(to).saturating_neg()),
            _ => None,
        }
    }
}

/// A measure with the marks on it, in ticks.
///
/// Marks that rules conclude are its levels, and divide it into stretches; the others
/// divide a stretch into bands of which each has the same share whatever is wrong. What
/// a reading says of a stretch must not hang on how it is divided: so a band counts for
/// what the gauge can tell of it, divided by its share.
struct Measure {
    marks: Vec<Mark, MAX_MARKS>,
    /// The smallest reading.
    least: i64,
    /// Just above the largest.
    top: i64,
}

impl Measure {
    /// The likelihoods of a reading just below and just above a mark.
    fn at_mark<N: Number>(&self, mark: i64, reading: i64, gauge: u32) -> (N, N) {
        let lower = self
            .marks
            .iter()
            .filter(|m| m.at < mark)
            .map(|m| m.at)
            .max();
        let upper = self
            .marks
            .iter()
            .filter(|m| m.at > mark)
            .map(|m| m.at)
            .min();
        let mass = |from: Option<i64>, to: Option<i64>| -> N {
            let from_reading = |at: Option<i64>| at.map(|at| at.saturating_sub(reading));
            N::from_whole(gauge::between(from_reading(from), from_reading(to), gauge)).shifted(-62)
        };
        let (below, above) = (self.share(lower, Some(mark)), self.share(Some(mark), upper));
        let of =
            |own: (u64, u64), other: (u64, u64)| N::from_whole(other.0).times(N::from_whole(own.1));
        level(
            mass(lower, Some(mark)).times(of(below, above)),
            mass(Some(mark), upper).times(of(above, below)),
        )
    }

    /// The share that a band between two marks has of its stretch, as a part and a
    /// whole. Without `from` it is the lowest band, without `to` the highest.
    fn share(&self, from: Option<i64>, to: Option<i64>) -> (u64, u64) {
        let bottom = from.unwrap_or(i64::MIN);
        let upto = to.unwrap_or(self.top);
        // The nearest marks around the band at which it is known how much of its stretch
        // lies above, in thousandths: levels, and names that divide.
        let (mut low, mut high) = ((i64::MIN, 1000_u64), (self.top, 0_u64));
        // The lowest mark without a name, and what it says of the smallest reading.
        let mut unnamed = (i64::MAX, 1000_u64);
        for mark in &self.marks {
            if mark.divides && !mark.named {
                if mark.at < unnamed.0 {
                    unnamed = (mark.at, mark.share.into());
                }
                continue;
            }
            let share = u64::from(mark.share);
            if mark.at <= bottom && mark.at >= low.0 {
                low = (mark.at, if mark.divides { share } else { 1000 });
            }
            if mark.at >= upto && mark.at < high.0 {
                high = (mark.at, if mark.divides { share } else { 0 });
            }
        }
        if low.0 == i64::MIN {
            low = (self.least, unnamed.1);
        }
        let length = |from: i64, to: i64| u64::try_from(to.saturating_sub(from)).unwrap_or(0);
        let all = length(low.0, high.0).max(1);
        let falls = low.1.saturating_sub(high.1);
        let part = match from {
            Some(from) => falls.wrapping_mul(length(from, upto)),
            // Everything but what lies above.
            None => {
                let above = falls.wrapping_mul(length(upto, high.0));
                let below_high = 1000_u64.saturating_sub(high.1);
                below_high.wrapping_mul(all).saturating_sub(above)
            }
        };
        (part.max(1), all.wrapping_mul(1000))
    }
}

/// Which way the marks of a measure are passed, and those that are passed this way.
fn marks(pack: &Pack<'_>, layout: &Layout, ask: u16) -> (Towards, Vec<Mark, MAX_MARKS>) {
    let mut towards = Towards::More;
    let mut marks = Vec::new();
    for state in states_of(pack, layout, ask) {
        if towards == Towards::More && Towards::Less.mark(state.trial).is_some() {
            towards = Towards::Less;
            marks.clear();
        }
        if let Some(at) = towards.mark(state.trial) {
            // There is room for as many as a house can write.
            let _ = marks.push(Mark {
                at,
                divides: state.nature == Nature::Divides,
                named: state.whether != NONE,
                share: state.own,
            });
        }
    }
    (towards, marks)
}

/// A mark on a measure.
struct Mark {
    /// Where it stands.
    at: i64,
    /// It is no level: it only divides a stretch.
    divides: bool,
    /// It has a name.
    named: bool,
    /// If it divides a stretch: see [`State::own`].
    share: u16,
}

/// The states that an ask decides.
fn states_of<'p>(
    pack: &'p Pack<'p>,
    layout: &'p Layout,
    ask: u16,
) -> impl Iterator<Item = State> + use<'p> {
    let states = layout.states().map(|state| pack.state(usize::from(state)));
    states.filter(move |state| state.ask == ask)
}
