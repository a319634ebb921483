//! What an answer tells apart: possibilities that leave nothing to choose between as far
//! as it goes, so that it is equally likely all over one of them.

use tellmark_core::inspection::{Given, Inspection};
use tellmark_core::pack::{Form, NONE, State, Trial, Working};
use tellmark_core::piece::{Answer, Eye, Judged};

/// The chances of the possibilities that an answer to this ask tells apart, in an order
/// that is always the same. They need not add up to 1: what they leave out is told apart no
/// further. `None` if no rule reads it, or if others are worked out from it: then it says
/// something of those too.
pub(super) fn bands(inspection: &mut Inspection<'_, '_, f64>, given: Given) -> Option<Vec<f64>> {
    let Given { part, answer, .. } = given;
    let form = inspection.pack().ask(usize::from(given.ask)).form;
    if is_worked_with(inspection, given.ask) {
        return None;
    }
    let states = states_of(inspection, given);
    let is_judged = matches!(form, Form::Degrees { .. });
    match answer {
        Answer::NotLooked | Answer::CannotSee => None,
        Answer::Seen(_) | Answer::Looks(_) | Answer::Certain(_) => {
            let yes = chance(inspection, part, states.first()?.0)?;
            Some(vec![1.0 - yes, yes])
        }
        Answer::Value(_) if !is_judged => {
            let values: Option<Vec<f64>> = states
                .iter()
                .map(|(number, _)| chance(inspection, part, *number))
                .collect();
            values.filter(|values| !values.is_empty())
        }
        Answer::Value(_) | Answer::Reading(_) | Answer::Tabled(..) => {
            let is_count = matches!(form, Form::HowMany { .. });
            between_marks(&states, is_count, &mut |number| {
                chance(inspection, part, number)
            })
        }
    }
}

fn is_worked_with(inspection: &Inspection<'_, '_, f64>, ask: u16) -> bool {
    let pack = inspection.pack();
    let mut workings = (0..pack.workings()).map(|row| pack.working(row));
    workings.any(|working| {
        let mut axes = pack.sum_table(working.table).axes();
        match working.working {
            Working::Table => axes.any(|axis| axis.head.ask == ask),
            _ => working.first == ask || working.second == ask,
        }
    })
}

fn chance(inspection: &mut Inspection<'_, '_, f64>, part: usize, state: u16) -> Option<f64> {
    let place = usize::from(inspection.piece().part(part)?.place);
    let slot = inspection.pack().state_slot(place, state)?;
    let (no, yes) = inspection.weights(part, slot).ok()?;
    Some(yes / (no + yes))
}

/// Of an answer that may be a slip: in which of the bands it is none, both ends included.
/// `None` of other answers, and of a value that no rule reads.
pub(super) fn right_bands(
    inspection: &Inspection<'_, '_, f64>,
    given: Given,
) -> Option<(usize, usize)> {
    let only = |band: usize| (band, band);
    match given.answer {
        Answer::Seen(yes) => Some(only(usize::from(yes))),
        Answer::Value(value) => match inspection.pack().ask(usize::from(given.ask)).form {
            Form::Degrees { values, .. } => degrees_of(value, values),
            _ => states_of(inspection, given)
                .iter()
                .position(|(_, state)| state.trial == Trial::Value(value))
                .map(only),
        },
        _ => None,
    }
}

/// The degrees that an ordinary judgement leaves, each a band.
fn degrees_of(value: u8, values: u16) -> Option<(usize, usize)> {
    let judged = Judged::of(value).filter(|judged| judged.eye == Eye::Ordinary)?;
    let (least, most) = judged.leaves(i32::from(values) - 1);
    Some((usize::try_from(least).ok()?, usize::try_from(most).ok()?))
}

/// The states of a part that an answer to this ask decides, with their numbers.
fn states_of(inspection: &Inspection<'_, '_, f64>, given: Given) -> Vec<(u16, State)> {
    let Given { part, ask, answer } = given;
    let Some(record) = inspection.piece().part(part) else {
        return Vec::new();
    };
    let pack = inspection.pack();
    let by_eye = answer.reading().is_none() && !matches!(answer, Answer::Value(_));
    pack.states_of(usize::from(record.place))
        .map(|number| (number, pack.state(usize::from(number))))
        .filter(|(_, state)| {
            let tried_by_eye = state.trial == Trial::Yes && state.ask == ask;
            let named = state.whether != NONE && state.whether == ask;
            if by_eye {
                tried_by_eye || named
            } else {
                state.ask == ask
            }
        })
        .collect()
}

/// The chances of what lies between two marks next to each other, from below.
fn between_marks(
    states: &[(u16, State)],
    is_count: bool,
    chance: &mut dyn FnMut(u16) -> Option<f64>,
) -> Option<Vec<f64>> {
    // A state that goes on to one end says how often a mark is passed. One with two ends
    // follows from the marks of a measure; of a count it does not.
    let mut passed: Vec<(i32, f64)> = Vec::new();
    for (number, state) in states {
        match state.trial {
            Trial::Within(from, i32::MAX) => passed.push((from, chance(*number)?)),
            Trial::Within(i32::MIN, to) => {
                passed.push((to.saturating_add(1), 1.0 - chance(*number)?));
            }
            _ if is_count => return None,
            _ => {}
        }
    }
    if passed.is_empty() {
        return None;
    }
    passed.sort_by_key(|(at, _)| *at);
    passed.dedup_by_key(|(at, _)| *at);
    let from_below = std::iter::once(1.0).chain(passed.iter().map(|(_, p)| *p));
    let upto = passed.iter().map(|(_, p)| *p).chain([0.0]);
    Some(
        from_below
            .zip(upto)
            .map(|(from, to)| (from - to).max(0.0))
            .collect(),
    )
}
