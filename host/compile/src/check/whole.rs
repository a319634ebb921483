//! Checks that need the whole pack: faults that nothing reveals, signs that
//! nobody asks for, sentences that say the same, steps that wait for later
//! ones, dates that cannot both be.

use std::collections::{HashMap, HashSet};

use super::Say;
use crate::meaning::tests;
use crate::numbers::numbers;
use crate::places::Places;
use crate::states::States;
use tellmark_language::model::{
    Condition, DateBound, Dating, Model, Nature, Predicate, SignId, StateId, Verb,
};
use tellmark_language::{Problem, words};

/// Every such message.
pub(super) fn check(say: &mut Say<'_>, model: &Model, states: &States, places: &Places) {
    unrevealed(say, model, states, places);
    unasked(say, model);
    // What holds for several kinds was said once.
    said_twice(say, model.as_said());
    waiting_steps(say, model.as_said());
    dates(say, model.as_said());
    unused_sources(say, model);
}

/// Every state that a condition reads.
fn states_in(condition: &Condition, each: &mut impl FnMut(StateId)) {
    tests(condition, &mut |test| {
        if let Predicate::State { state, .. } = test.what {
            each(state);
        }
    });
}

/// Every sign that a condition reads.
fn signs_in(model: &Model, condition: &Condition, each: &mut impl FnMut(SignId)) {
    tests(condition, &mut |test| match &test.what {
        Predicate::State { state, .. } => match &model.states[state.index()].nature {
            Nature::Seen(sign) | Nature::CountsAs { sign, .. } => each(*sign),
            Nature::Hidden { .. } => {}
        },
        Predicate::Measure { sign, .. } | Predicate::Choice { sign, .. } => each(*sign),
        Predicate::Has { .. } | Predicate::Placed { .. } | Predicate::CannotBeSeen => {}
    });
}

/// A hidden fault must be joined, by any chain of sentences, to something that
/// can be answered.
fn unrevealed(say: &mut Say<'_>, model: &Model, states: &States, places: &Places) {
    let mut joined: HashMap<StateId, Vec<StateId>> = HashMap::new();
    let mut answered: HashSet<StateId> = HashSet::new();
    let mut join = |a: StateId, b: StateId| {
        joined.entry(a).or_default().push(b);
        joined.entry(b).or_default().push(a);
    };
    for rule in &model.rules {
        for condition in std::iter::once(&rule.when).chain(&rule.unless) {
            states_in(condition, &mut |state| {
                rule.results().for_each(|result| join(state, result));
            });
            // Marks, counts and choices can be answered as they stand.
            signs_in(model, condition, &mut |_| {
                answered.extend(rule.results());
            });
            tests(condition, &mut |test| {
                if matches!(test.what, Predicate::Has { .. }) {
                    answered.extend(rule.results());
                }
            });
        }
    }
    for means in &model.means {
        join(means.sign, means.fault);
    }
    for together in &model.togethers {
        for &sign in &together.signs {
            join(sign, together.fault);
        }
    }
    let mut open: Vec<StateId> = answered.into_iter().collect();
    for (id, state) in numbers().map(StateId).zip(&model.states) {
        if !matches!(state.nature, Nature::Hidden { .. }) {
            open.push(id);
        }
    }
    let mut reached: HashSet<StateId> = open.iter().copied().collect();
    while let Some(state) = open.pop() {
        for &next in joined.get(&state).into_iter().flatten() {
            if reached.insert(next) {
                open.push(next);
            }
        }
    }
    let in_a_piece = |state: StateId| {
        let row = states.declared(state);
        (0..places.len()).any(|place| places.slot(states, place, row).is_some())
    };
    for (id, state) in numbers().map(StateId).zip(model.declared_states()) {
        let hidden = matches!(state.nature, Nature::Hidden { .. });
        if hidden && !reached.contains(&id) && in_a_piece(id) {
            let owner = words::a(&model.kinds[state.kind.index()].name);
            let phrase = match state.verb {
                Verb::Is => state.phrase.clone(),
                Verb::Shows => format!("showing {}", state.phrase),
            };
            say.at(
                state.at,
                Problem::NothingReveals {
                    owner: &owner,
                    phrase: &phrase,
                },
            );
        }
    }
}

fn unasked(say: &mut Say<'_>, model: &Model) {
    if model.rounds.is_empty() {
        return;
    }
    let asked: HashSet<SignId> = model
        .rounds
        .iter()
        .flat_map(|round| {
            round
                .steps
                .iter()
                .map(|step| model.declared_sign(step.sign))
        })
        .collect();
    for (id, sign) in numbers().map(SignId).zip(model.declared_signs()) {
        // What is said again of a kind is asked for wherever it is asked in general.
        if !asked.contains(&model.declared_sign(id)) && sign.worked.is_none() {
            let kind = words::a(&model.kinds[sign.kind.index()].name);
            let check = words::sign_check(model, id, &kind);
            let question = check
                .split_once(' ')
                .map_or(check.as_str(), |(_, rest)| rest);
            say.at(sign.at, Problem::NeverAsked { question });
        }
    }
}

/// Two rules with the same conditions and the same result.
fn said_twice(say: &mut Say<'_>, model: &Model) {
    let mut known: HashMap<String, usize> = HashMap::new();
    for (i, rule) in model.rules.iter().enumerate() {
        let key = format!(
            "{:?} {:?} {:?} {:?} {:?}",
            rule.subject,
            plain(&rule.when),
            rule.unless.as_ref().map(plain),
            rule.result,
            rule.results().collect::<Vec<_>>()
        );
        let Some(&first) = known.get(&key) else {
            known.insert(key, i);
            continue;
        };
        let first = &model.rules[first];
        let missed =
            |often: &tellmark_language::model::HowOften| 1.0 - f64::from(often.chance.0) / 1000.0;
        let together = 1.0 - missed(&first.strength) * missed(&rule.strength);
        let (line, other) = (say.line(first.at), say.line(rule.at));
        say.at(
            rule.at,
            Problem::SameRuleTwice {
                line: &words::capital(&line),
                otherline: &other,
                one: &words::how_often(&first.strength),
                other: &words::how_often(&rule.strength),
                together: &format!("{:.0}", together * 100.0),
            },
        );
    }
}

/// A condition without the places it was written at, its parts in a fixed
/// order.
fn plain(condition: &Condition) -> String {
    let join = |word: &str, parts: &[Condition]| {
        let mut parts: Vec<String> = parts.iter().map(plain).collect();
        parts.sort();
        format!("{word}({})", parts.join(","))
    };
    match condition {
        Condition::All(parts) => join("all", parts),
        Condition::Any(parts) => join("any", parts),
        Condition::AtLeast(enough, parts) => join(&format!("{enough} of "), parts),
        Condition::Test(test) => format!("{:?} {:?}", test.whose, test.what),
    }
}

/// A step that waits for what is only asked later in the same round.
fn waiting_steps(say: &mut Say<'_>, model: &Model) {
    for round in &model.rounds {
        for (i, step) in round.steps.iter().enumerate() {
            let Some(condition) = &step.only_if else {
                continue;
            };
            let mut waits = Vec::new();
            signs_in(model, condition, &mut |sign| waits.push(sign));
            for sign in waits {
                let asked = round.steps.iter().position(|s| s.sign == sign);
                let Some(later) = asked.filter(|&at| at >= i) else {
                    continue;
                };
                let kind = format!(
                    "the {}",
                    model.kinds[model.signs[sign.index()].kind.index()].name
                );
                let check = words::sign_check(model, sign, &kind);
                let question = check
                    .split_once(' ')
                    .map_or(check.as_str(), |(_, rest)| rest);
                say.at(
                    step.at,
                    Problem::WaitsForLaterStep {
                        step: (i + 1),
                        question,
                        later: (later + 1),
                    },
                );
            }
        }
    }
}

/// Bounds on the same noun that leave no year.
fn dates(say: &mut Say<'_>, model: &Model) {
    let same = |a: &Dating, b: &Dating| {
        let regions = a.region.is_none() || b.region.is_none() || a.region == b.region;
        let conditions = match (&a.when, &b.when) {
            (None, None) => true,
            (Some(x), Some(y)) => plain(x) == plain(y),
            _ => false,
        };
        a.subject == b.subject && regions && conditions
    };
    for early in &model.datings {
        let DateBound::NotEarlier(earliest) = early.bound else {
            continue;
        };
        for late in model.datings.iter().filter(|d| same(early, d)) {
            if let DateBound::NotLater(latest) = late.bound
                && latest < earliest
            {
                let (line, other) = (say.line(early.at), say.line(late.at));
                say.at(
                    early.at,
                    Problem::DatesDisagree {
                        part: &model.kinds[early.subject.index()].name,
                        earliest,
                        line: &line,
                        latest,
                        otherline: &other,
                    },
                );
            }
        }
    }
}

fn unused_sources(say: &mut Say<'_>, model: &Model) {
    let used: HashSet<usize> = std::iter::empty()
        .chain(model.states.iter().map(|s| s.source))
        .chain(model.signs.iter().map(|s| s.source))
        .chain(model.rules.iter().map(|s| s.source))
        .chain(model.means.iter().map(|s| s.source))
        .chain(model.togethers.iter().map(|s| s.source))
        .chain(model.jobs.iter().map(|s| s.source))
        .chain(model.plans.iter().map(|s| s.source))
        .chain(model.stand_ins.iter().map(|s| s.source))
        .chain(model.ladders.iter().map(|s| s.source))
        .chain(model.cautions.iter().map(|s| s.source))
        .chain(model.orders.iter().map(|s| s.source))
        .chain(model.exclusions.iter().map(|s| s.source))
        .chain(model.datings.iter().map(|s| s.source))
        .chain(model.relatives.iter().map(|s| s.source))
        .chain(model.tells.iter().map(|s| s.source))
        .flatten()
        .map(tellmark_language::model::SourceId::index)
        .collect();
    for (i, source) in model.sources.iter().enumerate() {
        if !used.contains(&i) {
            say.at(source.at, Problem::UnusedSource { name: &source.name });
        }
    }
}
