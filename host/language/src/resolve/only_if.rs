//! `A … can be … only if …`: where a thing can be at all.

use crate::message::{Message, Problem};
use crate::model::{Condition, Nature, StateId, Verb};
use crate::resolve::Reader;
use crate::resolve::clause::Usage;
use crate::resolve::look::{Done, refuse};
use crate::resolve::reach::Scene;
use crate::syntax::{Conditions, Name};
use crate::vocab::Said;

impl Reader<'_> {
    /// The state, and what must be so of the part that it is said of.
    pub(super) fn only_if(
        &mut self,
        (noun, verb, phrase): (&Name, Verb, &Name),
        when: &Conditions,
    ) -> Done<(StateId, Condition)> {
        self.with_look(|look| {
            let kind = look.plain(noun)?.kind;
            let state = match look.said(kind, phrase)? {
                Said::State(state) => state,
                _ => {
                    return refuse(
                        phrase.at,
                        Problem::CanAlwaysBe {
                            phrase: &phrase.text,
                        },
                    );
                }
            };
            let record = look.state(state);
            if record.verb != verb {
                return look.wrong_verb(record.verb, verb, phrase, kind);
            }
            let is_judged = look.model.degree_of(state).is_some();
            if matches!(record.nature, Nature::CountsAs { .. }) && !is_judged {
                return refuse(
                    phrase.at,
                    Problem::CanAlwaysBe {
                        phrase: &phrase.text,
                    },
                );
            }
            if record.kind != kind {
                let (said_of, verb) = (look.a(record.kind), verb_after_can(verb));
                return Err(Box::new(
                    Message::new(
                        noun.at,
                        Problem::OnlyIfOfEvery {
                            owner: &said_of,
                            verb,
                            phrase: &phrase.text,
                        },
                    )
                    .with_fix(noun.at, look.name(record.kind), false),
                ));
            }
            let mut scene = Scene {
                subject: kind,
                opening: "A",
                opened: true,
                any_said: Vec::new(),
                had: Vec::new(),
                placed: None,
            };
            let when = look.conditions(&mut scene, when, Usage::Rule)?;
            Ok((state, when))
        })
    }
}

fn verb_after_can(verb: Verb) -> &'static str {
    match verb {
        Verb::Is => "be",
        Verb::Shows => "show",
    }
}
