//! A step of a round that waits: `only once it is known whether …`.
//!
//! That something is known is a condition like any other: it is so or it is not so, which
//! holds once the one or the other is certain. That it is known of each of several parts is
//! that of every number it is known whether so many of them are so.

use crate::message::{Message, Problem};
use crate::model::{
    Asks, Condition, HowMany, KindId, Known, Mark, PIECE, Predicate, Reach, SignId, Test,
};
use crate::resolve::look::{Done, Look, refuse};
use crate::span::Span;
use crate::syntax::{Amount, Question, Thing};
use crate::vocab::Said;

impl Look<'_> {
    /// What a step waits for, as a condition about the piece and as it was said.
    pub(super) fn once_known(
        &self,
        piece: KindId,
        question: &Question,
        at: Span,
    ) -> Done<(Condition, Known)> {
        let sign = self.asked(piece, question)?;
        let (Question::Whether(thing, ..)
        | Question::HowMuch(_, thing, _)
        | Question::Which(_, thing)
        | Question::Count(_, thing)) = question;
        let kind = self.step_part(piece, thing)?;
        let what = self.tried(kind, sign, question)?;
        let test = |whose: Reach, what: Predicate| Condition::Test(Test { whose, what, at });
        if kind == piece || kind == PIECE {
            let both = [what.clone(), opposite(what)].map(|what| test(Reach::Own, what));
            return Ok((Condition::Any(both.to_vec()), Known { sign, any: false }));
        }
        let ways = self.tree.ways(piece, kind);
        let most = |path: &[KindId]| self.tree.range(piece, path).1;
        let is_only = ways.len() == 1 && most(&ways[0]) == 1;
        let down = |path: &[KindId], many: HowMany| {
            let path = path.to_vec();
            test(Reach::down(path, many), what.clone())
        };
        let any = match thing {
            Thing::Many {
                amount: Amount::Any,
                ..
            } => true,
            Thing::Many {
                amount: Amount::Every,
                ..
            } => false,
            Thing::One { .. } if is_only => true,
            Thing::It(_) | Thing::There(_) | Thing::One { .. } | Thing::Many { .. } => {
                return self.each_or_any(kind, thing);
            }
        };
        if any {
            let some = ways.iter().map(|path| down(path, HowMany::Any)).collect();
            let none = ways.iter().map(|path| down(path, HowMany::No)).collect();
            let known = vec![Condition::Any(some), Condition::All(none)];
            let any = !is_only;
            return Ok((Condition::Any(known), Known { sign, any }));
        }
        let numbers = ways.iter().flat_map(|path| {
            let most = u8::try_from(most(path)).unwrap_or(u8::MAX);
            (1..=most).map(|n| {
                let so = [HowMany::AtLeast(n), HowMany::FewerThan(n)];
                Condition::Any(so.map(|many| down(path, many)).to_vec())
            })
        });
        let any = false;
        Ok((Condition::All(numbers.collect()), Known { sign, any }))
    }

    fn each_or_any<T>(&self, kind: KindId, thing: &Thing) -> Done<T> {
        let message = Message::new(
            thing.at(),
            Problem::KnownOfEachOrAny {
                part: self.name(kind),
                plural: self.plural(kind),
            },
        );
        Err(Box::new(message))
    }

    /// Something that is known once the question is answered.
    fn tried(&self, kind: KindId, sign: SignId, question: &Question) -> Done<Predicate> {
        let yes = true;
        if let Question::Whether(_, _, phrase) = question
            && let Said::State(state) = self.said(kind, phrase)?
        {
            return Ok(Predicate::State {
                state,
                yes,
                sureness: None,
            });
        }
        Ok(match &self.sign(sign).asks {
            Asks::HowMuch { least, most, .. } => {
                let at_least = most.saturating_sub(*least) / 2 + least.saturating_add(1);
                let mark = Mark {
                    at_least: at_least.min(*most),
                    at_most: None,
                };
                Predicate::Measure { sign, mark, yes }
            }
            Asks::Degrees { .. } => {
                let mark = Mark {
                    at_least: 1,
                    at_most: None,
                };
                Predicate::Measure { sign, mark, yes }
            }
            Asks::Which { .. } => Predicate::Choice {
                sign,
                values: vec![0],
                yes,
            },
            Asks::Whether(_) | Asks::HowMany(_) => {
                return refuse(
                    Span::default(),
                    Problem::Unreadable {
                        read: None,
                        wants: "\"whether\", \"how\" or \"which\"",
                        example: None,
                    },
                );
            }
        })
    }
}

fn opposite(what: Predicate) -> Predicate {
    match what {
        Predicate::State {
            state,
            yes,
            sureness,
        } => Predicate::State {
            state,
            yes: !yes,
            sureness,
        },
        Predicate::Measure { sign, mark, yes } => Predicate::Measure {
            sign,
            mark,
            yes: !yes,
        },
        Predicate::Placed { place, yes } => Predicate::Placed { place, yes: !yes },
        Predicate::Choice { sign, values, yes } => Predicate::Choice {
            sign,
            values,
            yes: !yes,
        },
        Predicate::Has { part, mark, yes } => Predicate::Has {
            part,
            mark,
            yes: !yes,
        },
        Predicate::CannotBeSeen => Predicate::CannotBeSeen,
    }
}
