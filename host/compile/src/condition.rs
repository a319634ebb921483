//! Conditions of plans, cautions, steps and datings as programs of a pack.

use tellmark_core::limits::MAX_DEPTH;
use tellmark_core::pack::condition::{END, Go, Look, Many, Test as PackTest, What, Whose};
use tellmark_core::pack::{NONE, Trial};

use super::states::States;
use tellmark_language::model::{
    Condition, HowMany, PIECE, Predicate, Reach, Sureness, Test, Ticks,
};

/// A program that always holds.
#[must_use]
pub fn always() -> Vec<u32> {
    written(&[(Look::Always, Next::Holds, Next::Fails)])
}

/// The program of a condition.
#[must_use]
pub fn program(states: &States, condition: &Condition) -> Vec<u32> {
    let mut looks = Vec::new();
    put(states, condition, Next::Holds, Next::Fails, &mut looks);
    written(&looks)
}

/// Where to go on after a look.
#[derive(Clone, Copy)]
enum Next {
    /// At the look with this number.
    Look(usize),
    Holds,
    Fails,
}

/// How many looks a condition takes.
fn looks_of(condition: &Condition) -> usize {
    match condition {
        Condition::All(parts) | Condition::Any(parts) if !parts.is_empty() => {
            parts.iter().map(looks_of).sum()
        }
        _ => 1,
    }
}

fn put(
    states: &States,
    condition: &Condition,
    so: Next,
    not: Next,
    looks: &mut Vec<(Look, Next, Next)>,
) {
    let (all, parts) = match condition {
        Condition::Test(test) => return looks.push((look(states, test), so, not)),
        Condition::All(parts) => (true, parts),
        Condition::Any(parts) => (false, parts),
    };
    let Some((last, others)) = parts.split_last() else {
        return looks.push((Look::Always, so, not));
    };
    for part in others {
        let next = Next::Look(looks.len() + looks_of(part));
        let (so, not) = if all { (next, not) } else { (so, next) };
        put(states, part, so, not, looks);
    }
    put(states, last, so, not, looks);
}

fn written(looks: &[(Look, Next, Next)]) -> Vec<u32> {
    let starts: Vec<usize> = looks
        .iter()
        .scan(0, |at, (look, ..)| {
            let start = *at;
            *at += look.length();
            Some(start)
        })
        .collect();
    let go = |next: Next| match next {
        Next::Look(i) => Go::To(u16::try_from(starts[i]).unwrap_or(NONE)),
        Next::Holds => Go::Holds,
        Next::Fails => Go::Fails,
    };
    let mut words = Vec::new();
    for (look, so, not) in looks {
        words.extend_from_slice(&look.words(go(*so), go(*not)));
    }
    words.push(END);
    words
}

/// The least chance that a sureness word asks for, in thousandths.
#[must_use]
pub fn least_chance(sureness: Sureness) -> u16 {
    u16::from(sureness.percent()) * 10
}

/// The quick way to a test of what was answered to a yes/no ask of the subject
/// or of the piece; else the test as it stands.
fn look(states: &States, test: &Test) -> Look {
    if let Predicate::State {
        state,
        yes,
        sureness: None,
    } = test.what
    {
        let row = &states.states[states.declared(state)];
        let slot = row.ask - states.asks_of_kind[row.kind.index()].start;
        let is_answer = row.trial == Trial::Yes && row.whether.is_none();
        if let (true, Ok(slot)) = (is_answer, u16::try_from(slot)) {
            match test.whose {
                Reach::Own | Reach::Up(_) if row.kind == PIECE => {
                    return Look::Piece(slot, yes);
                }
                Reach::Own => return Look::Own(slot, yes),
                _ => {}
            }
        }
    }
    Look::Test(of_test(states, test))
}

fn of_test(states: &States, test: &Test) -> PackTest {
    let whose = match &test.whose {
        Reach::Own => Whose::Own,
        Reach::Up(kind) => Whose::Owner(kind.0),
        Reach::Down { path, many } => {
            let mut steps = [NONE; MAX_DEPTH];
            for (step, kind) in steps.iter_mut().zip(path) {
                *step = kind.0;
            }
            Whose::Parts {
                path: steps,
                steps: u8::try_from(path.len().min(MAX_DEPTH)).unwrap_or(0),
                many: match many {
                    HowMany::The | HowMany::Any => Many::AtLeast(1),
                    HowMany::Every => Many::Every,
                    HowMany::No => Many::FewerThan(1),
                    HowMany::AtLeast(n) => Many::AtLeast(*n),
                    HowMany::FewerThan(n) => Many::FewerThan(*n),
                    HowMany::Exactly(n) => Many::Exactly(*n),
                },
            }
        }
    };
    let number = |n: usize| u16::try_from(n).unwrap_or(NONE);
    let (what, yes) = match &test.what {
        Predicate::State {
            state,
            yes,
            sureness,
        } => {
            let state = number(states.declared(*state));
            let what = match sureness {
                Some(sureness) => What::Sure(state, least_chance(*sureness)),
                None => What::State(state),
            };
            (what, *yes)
        }
        Predicate::Measure { sign, mark, yes } => (
            What::Within(
                number(states.ask(*sign)),
                mark.at_least,
                mark.at_most.unwrap_or(Ticks::MAX),
            ),
            *yes,
        ),
        Predicate::Choice { sign, values, yes } => {
            let bits = values.iter().fold(0, |bits, &v| {
                bits | 1_u32.checked_shl(u32::from(v)).unwrap_or(0)
            });
            (What::Values(number(states.ask(*sign)), bits), *yes)
        }
        Predicate::Has { part, mark, yes } => (
            What::Has(part.0, mark.at_least, mark.at_most.unwrap_or(Ticks::MAX)),
            *yes,
        ),
        Predicate::CannotBeSeen => (What::OutOfSight, true),
    };
    PackTest { whose, what, yes }
}
