//! Chances of a chest of drawers: from nothing, and after one changed answer.

use std::hint::black_box;

use serde_json::{Value, json};
use tellmark_compile::ground::Claim;
use tellmark_compile::room::Room;
use tellmark_core::inspection::Inspection;
use tellmark_core::number::Number;
use tellmark_core::pack::Pack;
use tellmark_core::piece::Answer;
use tellmark_tests::dice::Dice;

use crate::chest::{Chest, Evidence, Given};
use crate::clock::{best, mean};

/// Answers changed in each set: at most, and at least.
const CHANGES: (usize, usize) = (8, 2);

/// Answers about a chest, and some of them that change.
pub struct Trial {
    /// The answers.
    pub answers: Vec<Given>,
    /// Answers that change: which, to what, and the drawer it is about.
    pub changes: Vec<(usize, Answer, usize)>,
}

/// Draws so many sets of answers that can all be true, with every change too.
/// Every time is the mean over them.
pub fn trials(chest: &Chest<'_>, sets: usize, answers: usize) -> Vec<Trial> {
    let mut dice = Dice::new(7);
    let mut trials = Vec::new();
    while trials.len() < sets {
        let answers = chest.answers(answers, &mut dice);
        let changes: Vec<_> = answers
            .iter()
            .enumerate()
            .filter_map(|(i, (part, _, answer))| {
                let drawer = chest.drawer_of(*part)?;
                let Answer::Seen(yes) = *answer else {
                    return None;
                };
                Some((i, Answer::Seen(!yes), drawer))
            })
            .take(CHANGES.0)
            .collect();
        let trial = Trial { answers, changes };
        if can_be(chest, &trial) {
            trials.push(trial);
        }
    }
    trials
}

fn can_be(chest: &Chest<'_>, trial: &Trial) -> bool {
    let mut room = Room::<f64>::default();
    let mut inspection = answered(chest, chest.rules.pack(), &mut room, &trial.answers);
    let mut all = trial.changes.len() >= CHANGES.1 && inspection.settle().is_ok();
    for &(i, changed, _) in &trial.changes {
        let (part, ask, before) = trial.answers[i];
        inspection
            .answer(part, ask, changed)
            .expect("it can be answered so");
        all &= inspection.settle().is_ok();
        inspection
            .answer(part, ask, before)
            .expect("it can be answered so");
    }
    all
}

fn answered<'m, N: Number>(
    chest: &Chest<'_>,
    pack: Pack<'m>,
    room: &'m mut Room<N>,
    answers: &[Given],
) -> Inspection<'m, 'm, N> {
    let mut inspection = chest.inspection(pack, room);
    for &(part, ask, answer) in answers {
        inspection
            .answer(part, ask, answer)
            .expect("it can be answered so");
    }
    inspection
}

/// The chances of these states, as parts and numbers among the part's states.
fn read<N: Number>(inspection: &mut Inspection<'_, '_, N>, states: &[(usize, usize)]) {
    for &(part, slot) in states {
        let (no, yes) = inspection
            .weights(part, slot)
            .expect("the answers can be true");
        black_box(N::share(yes, no));
    }
}

/// Seconds for each of the three questions.
pub struct Times {
    /// Everything from nothing: the piece set up, all answers, all states.
    pub from_nothing: f64,
    /// One answer changed, then all hidden states.
    pub changed: f64,
    /// One answer changed, then the hidden states of that drawer.
    pub changed_drawer: f64,
}

/// Measures them.
pub fn times<N: Number>(chest: &Chest<'_>, trials: &[Trial]) -> Times {
    let from_nothing: Vec<f64> = trials
        .iter()
        .map(|trial| from_nothing::<N>(chest, trial))
        .collect();
    let slots = |states: Vec<usize>| -> Vec<(usize, usize)> {
        let ground = &chest.ground;
        let slot = |i: usize| i - ground.state(ground.states[i].part, 0);
        let states = states.into_iter();
        states.map(|i| (ground.states[i].part, slot(i))).collect()
    };
    let all = slots(chest.hidden(None));
    let changed = |of_drawer: bool| -> f64 {
        let times: Vec<f64> = trials
            .iter()
            .map(|trial| {
                let mut room = Room::<N>::default();
                let mut inspection = answered(chest, chest.rules.pack(), &mut room, &trial.answers);
                read(&mut inspection, &all);
                let wanted: Vec<Vec<(usize, usize)>> = trial
                    .changes
                    .iter()
                    .map(|&(_, _, drawer)| {
                        if of_drawer {
                            slots(chest.hidden(Some(drawer)))
                        } else {
                            all.clone()
                        }
                    })
                    .collect();
                let there_and_back = best(|| {
                    for (&(i, changed, _), wanted) in trial.changes.iter().zip(&wanted) {
                        let (part, ask, before) = trial.answers[i];
                        for answer in [changed, before] {
                            inspection
                                .answer(part, ask, answer)
                                .expect("it can be answered so");
                            read(&mut inspection, wanted);
                        }
                    }
                });
                // A few changes, there and back.
                #[allow(clippy::cast_precision_loss)]
                let changes = 2.0 * trial.changes.len() as f64;
                there_and_back / changes
            })
            .collect();
        mean(&times)
    };
    Times {
        from_nothing: mean(&from_nothing),
        changed: changed(false),
        changed_drawer: changed(true),
    }
}

fn from_nothing<N: Number>(chest: &Chest<'_>, trial: &Trial) -> f64 {
    let states: Vec<(usize, usize)> = chest
        .used()
        .into_iter()
        .map(|(_, part, slot)| (part, slot))
        .collect();
    let mut room = Room::<N>::default();
    let pack = chest.rules.pack();
    best(|| {
        let mut inspection = answered(chest, pack, &mut room, &trial.answers);
        read(&mut inspection, &states);
    })
}

/// Chances of all states in use, in the order of the network.
fn chances(chest: &Chest<'_>, trial: &Trial) -> Vec<f64> {
    let mut room = Room::<f64>::default();
    let mut inspection = answered(chest, chest.rules.pack(), &mut room, &trial.answers);
    let mut chance = |part, slot| {
        let (no, yes) = inspection
            .weights(part, slot)
            .expect("the answers can be true");
        yes / (no + yes)
    };
    let used = chest.used().into_iter();
    used.map(|(_, part, slot)| chance(part, slot)).collect()
}

/// The network, the answers and our chances, for other libraries.
pub fn exported(chest: &Chest<'_>, trials: &[Trial]) -> Value {
    let used = chest.used();
    let states: Vec<Value> = used
        .iter()
        .map(|&(i, ..)| {
            let state = &chest.ground.states[i];
            let causes = state.causes.iter();
            let causes: Vec<Value> = causes.map(|c| json!([c.weight, claim(&c.when)])).collect();
            json!([i, state.own, causes])
        })
        .collect();
    let sets: Vec<Value> = trials
        .iter()
        .map(|trial| {
            let evidence = chest.evidence(&trial.answers);
            let changes: Vec<Value> = trial
                .changes
                .iter()
                .map(|&(i, changed, drawer)| {
                    let mut answers = trial.answers.clone();
                    answers[i].2 = changed;
                    let after = chest.evidence(&answers);
                    let differs = after.into_iter().zip(&evidence).filter(|(a, b)| a != *b);
                    let differs: Vec<_> = differs.map(|(a, _)| a).collect();
                    json!({ "evidence": said(&differs), "drawer": drawer })
                })
                .collect();
            json!({
                "evidence": said(&evidence),
                "changes": changes,
                "chances": chances(chest, trial),
            })
        })
        .collect();
    let drawers: Vec<usize> = (0..chest.ground.parts.len())
        .filter(|&part| chest.drawer_of(part) == Some(part))
        .collect();
    let of_drawers: Vec<Value> = drawers
        .into_iter()
        .map(|drawer| json!([drawer, chest.hidden(Some(drawer))]))
        .collect();
    json!({
        "states": states,
        "hidden": chest.hidden(None),
        "drawers": of_drawers,
        "sets": sets,
    })
}

fn said(evidence: &[(usize, Evidence)]) -> Vec<Value> {
    let one = |(i, evidence): &(usize, Evidence)| match evidence {
        Evidence::Likely(no, yes) => json!([i, "likely", no, yes]),
        Evidence::Read(reading, from, to, gauge) => json!([i, "read", reading, from, to, gauge]),
    };
    evidence.iter().map(one).collect()
}

/// A claim in nested lists: `true`, `["is", state, yes]`,
/// `["at least", number, claims]`, `["not", claim]`.
fn claim(of: &Claim) -> Value {
    let each = |parts: &[Claim]| -> Vec<Value> { parts.iter().map(claim).collect() };
    match of {
        Claim::Known(value) => json!(value),
        Claim::State(state, yes) => json!(["is", state, yes]),
        Claim::All(parts) => json!(["at least", parts.len(), each(parts)]),
        Claim::AtLeast(n, parts) => json!(["at least", n, each(parts)]),
        Claim::Not(part) => json!(["not", claim(part)]),
    }
}
