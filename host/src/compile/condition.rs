//! Conditions of plans, cautions, steps and datings as programs of a pack.

use tellmark_core::limits::MAX_DEPTH;
use tellmark_core::logic::condition::{ALWAYS, END, Many, Test as PackTest, What, Whose, joining};
use tellmark_core::pack::NONE;

use super::states::States;
use crate::model::{Condition, HowMany, Predicate, Reach, Sureness, Test, Ticks};

/// A program that always holds.
#[must_use]
pub fn always() -> Vec<u32> {
    vec![ALWAYS, END]
}

/// The program of a condition.
#[must_use]
pub fn program(states: &States, condition: &Condition) -> Vec<u32> {
    let mut words = Vec::new();
    put(states, condition, &mut words);
    words.push(END);
    words
}

fn put(states: &States, condition: &Condition, words: &mut Vec<u32>) {
    let (all, parts) = match condition {
        Condition::All(parts) => (true, parts),
        Condition::Any(parts) => (false, parts),
        Condition::Test(test) => {
            words.extend_from_slice(&of_test(states, test).words());
            return;
        }
    };
    // Joined two at a time, so that a long list needs no deep stack.
    for (i, part) in parts.iter().enumerate() {
        put(states, part, words);
        if i > 0 {
            words.push(joining(all, 2));
        }
    }
    if parts.is_empty() {
        words.push(ALWAYS);
    }
}

/// The least chance that a sureness word asks for, in thousandths.
#[must_use]
pub fn least_chance(sureness: Sureness) -> u16 {
    match sureness {
        Sureness::Possibly => 150,
        Sureness::Probably => 600,
        Sureness::Surely => 950,
    }
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
