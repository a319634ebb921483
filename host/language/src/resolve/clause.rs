//! What must be so, resolved.

use crate::message::{Level, Message, Problem, ProblemKind};
use crate::model::{Condition, HowMany, Predicate, Reach, SignId, Test};
use crate::resolve::look::{Done, Look, refuse};
use crate::resolve::reach::Scene;
use crate::span::Span;
use crate::syntax::{Amount, Clause, Cond, Conditions, Enough, Name, Saying, Thing};
use crate::words::a;

/// Where a condition stands, which decides what it may ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Usage {
    /// In `If …`.
    Rule,
    /// In a plan, caution, dating or step.
    Trigger,
}

/// The most lines of which some are enough: every choice of so many is looked at by itself.
const MOST_TO_CHOOSE_FROM: usize = 8;

/// Which of the subject a choice noun picked: "a gimlet-point screw".
pub type Picked = Option<(SignId, u8)>;

impl Look<'_> {
    /// What must be so, seen from the subject.
    pub fn conditions(
        &self,
        scene: &mut Scene,
        conditions: &Conditions,
        usage: Usage,
    ) -> Done<Condition> {
        if let Some(at) = conditions.mixed {
            return refuse(
                at,
                Problem::AndWithOr {
                    subject: &self.a(scene.subject),
                },
            );
        }
        if let Some(at) = conditions.crooked {
            return refuse(at, Problem::ListNotAligned);
        }
        self.cond(scene, &conditions.cond, usage)
    }

    fn cond(&self, scene: &mut Scene, cond: &Cond, usage: Usage) -> Done<Condition> {
        match cond {
            Cond::All(all) => {
                let all: Done<Vec<Condition>> =
                    all.iter().map(|c| self.cond(scene, c, usage)).collect();
                Ok(Condition::All(all?))
            }
            Cond::Any(all) => {
                let all: Done<Vec<Condition>> =
                    all.iter().map(|c| self.cond(scene, c, usage)).collect();
                Ok(Condition::Any(all?))
            }
            Cond::AtLeast(all, enough) => {
                let enough = enough_of(all.len(), *enough)?;
                let all: Done<Vec<Condition>> =
                    all.iter().map(|c| self.cond(scene, c, usage)).collect();
                Ok(Condition::AtLeast(enough, all?))
            }
            Cond::One(clause) => self.clause(scene, clause, usage),
        }
    }

    /// One clause.
    pub fn clause(&self, scene: &mut Scene, clause: &Clause, usage: Usage) -> Done<Condition> {
        let meant = self.meant(scene, &clause.thing, false)?;
        self.two_negatives(clause)?;
        let what = match self.predicate(&meant, clause, usage) {
            Err(message) if message.kind == ProblemKind::SaidOfAnotherPart => {
                return Err(self.it_or_other(scene, clause, message));
            }
            other => other?,
        };
        if let Predicate::Has { part, .. } = &what {
            scene.had.push(*part);
        }
        self.ambiguous_it(scene, clause, &what);
        let placed = meant.placed.map(|place| {
            let there = Predicate::Placed { place, yes: true };
            test(meant.reach.clone(), there, clause.at)
        });
        let said = test(meant.reach, what, clause.at);
        Ok(match placed {
            Some(placed) => Condition::All(vec![placed, said]),
            None => said,
        })
    }

    /// `no drawer is not stiff`
    fn two_negatives(&self, clause: &Clause) -> Done<()> {
        let Thing::Many {
            amount: Amount::No,
            noun,
            amount_at,
            ..
        } = &clause.thing
        else {
            return Ok(());
        };
        let at = amount_at.to(clause.at);
        match &clause.saying {
            Saying::Is {
                not: Some(_),
                phrase,
                ..
            } => {
                let right = format!("every {} is {}", noun.text, phrase.text);
                refuse(
                    at,
                    Problem::DoubleNegative {
                        right: Some(&right),
                    },
                )
            }
            Saying::Shows {
                not: Some(_),
                phrase,
                ..
            } => {
                let right = format!("every {} shows {}", noun.text, phrase.text);
                refuse(
                    at,
                    Problem::DoubleNegative {
                        right: Some(&right),
                    },
                )
            }
            Saying::Has {
                amount: Some(Amount::No),
                noun: part,
                ..
            } => {
                let right = format!("every {} has {}", noun.text, a(&part.text));
                refuse(
                    at,
                    Problem::DoubleNegative {
                        right: Some(&right),
                    },
                )
            }
            Saying::Measured { not: Some(_), .. }
            | Saying::IsA { not: Some(_), .. }
            | Saying::Either { not: Some(_), .. }
            | Saying::CannotBeSeen => refuse(at, Problem::DoubleNegative { right: None }),
            _ => Ok(()),
        }
    }

    /// "a drawer has a bottom and it is damp": of the bottom only.
    fn it_or_other(&self, scene: &Scene, clause: &Clause, message: Box<Message>) -> Box<Message> {
        let (Thing::It(at), Some(phrase)) = (&clause.thing, phrase_of(&clause.saying)) else {
            return message;
        };
        let all = self.vocab.said(&phrase.text);
        let other = scene
            .had
            .iter()
            .find(|kind| all.iter().any(|(of, _)| of == *kind));
        match other {
            Some(other) => Box::new(
                Message::new(
                    *at,
                    Problem::ItIsTheSubject {
                        subject: self.name(scene.subject),
                        other: self.name(*other),
                    },
                )
                .at_level(Level::Stop),
            ),
            None => message,
        }
    }

    /// The same, where it could be said of both.
    fn ambiguous_it(&self, scene: &Scene, clause: &Clause, what: &Predicate) {
        let (Thing::It(at), Some(phrase)) = (&clause.thing, phrase_of(&clause.saying)) else {
            return;
        };
        if clause.attribute.is_some() || matches!(what, Predicate::Has { .. }) {
            return;
        }
        let all = self.vocab.said(&phrase.text);
        if let Some(other) = scene
            .had
            .iter()
            .find(|kind| all.iter().any(|(of, _)| of == *kind))
        {
            self.notes.borrow_mut().push(Message::new(
                *at,
                Problem::ItIsTheSubject {
                    subject: self.name(scene.subject),
                    other: self.name(*other),
                },
            ));
        }
    }
}

fn phrase_of(saying: &Saying) -> Option<&Name> {
    match saying {
        Saying::Is { phrase, .. } | Saying::Shows { phrase, .. } => Some(phrase),
        Saying::Measured { phrase, .. } => phrase.as_ref(),
        _ => None,
    }
}

/// One test, or one for each way down from "a piece".
fn test(mut reach: Vec<Reach>, what: Predicate, at: Span) -> Condition {
    if reach.len() == 1 {
        let whose = reach.swap_remove(0);
        return Condition::Test(Test { whose, what, at });
    }
    let every = matches!(
        reach.first(),
        Some(Reach::Down {
            many: HowMany::Every | HowMany::No,
            ..
        })
    );
    let tests = reach
        .into_iter()
        .map(|whose| {
            Condition::Test(Test {
                whose,
                what: what.clone(),
                at,
            })
        })
        .collect();
    if every {
        Condition::All(tests)
    } else {
        Condition::Any(tests)
    }
}

/// How many lines of a list are enough: some, and not more than there are.
fn enough_of(lines: usize, enough: Enough) -> Done<u8> {
    let number = usize::try_from(enough.number).unwrap_or(usize::MAX);
    if number == 0 || number > lines {
        return refuse(
            enough.at,
            Problem::SoManyOfThese {
                enough: enough.number,
                lines,
            },
        );
    }
    if lines > MOST_TO_CHOOSE_FROM {
        return refuse(
            enough.at,
            Problem::TooManyToChooseFrom {
                lines,
                most: MOST_TO_CHOOSE_FROM,
            },
        );
    }
    Ok(u8::try_from(number).unwrap_or(u8::MAX))
}

/// The condition with what a choice noun picked.
pub(super) fn picking(picked: Picked, when: Condition, at: Span) -> Condition {
    let Some((sign, value)) = picked else {
        return when;
    };
    let choice = Condition::Test(Test {
        whose: Reach::Own,
        what: Predicate::Choice {
            sign,
            values: vec![value],
            yes: true,
        },
        at,
    });
    match when {
        Condition::All(mut all) => {
            all.insert(0, choice);
            Condition::All(all)
        }
        other => Condition::All(vec![choice, other]),
    }
}
