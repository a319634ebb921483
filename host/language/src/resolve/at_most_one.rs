//! `A … is at most one of …`: states that exclude one another.

use std::collections::BTreeMap;

use crate::message::{Message, Problem};
use crate::model::{KindId, Nature, StateId, Verb};
use crate::resolve::Reader;
use crate::resolve::look::{Done, Look, refuse};
use crate::resolve::rule::MOST_ALTERNATIVES;
use crate::span::Span;
use crate::syntax::Name;
use crate::vocab::Said;

impl Reader<'_> {
    /// The kind of part, and the states.
    pub(super) fn at_most_one(
        &mut self,
        noun: &Name,
        verb: Verb,
        phrases: &[Name],
    ) -> Done<(KindId, Vec<StateId>)> {
        self.with_look(|look| {
            let kind = look.plain(noun)?.kind;
            let mut states = Vec::new();
            for phrase in phrases {
                let state = one_of(look, kind, verb, (noun, phrase))?;
                if states.contains(&state) {
                    let phrase = &phrase.text;
                    return refuse(
                        noun.at.to(phrases[phrases.len() - 1].at),
                        Problem::NamedTwice { phrase },
                    );
                }
                states.push(state);
            }
            match states.len() {
                0 | 1 => refuse(
                    phrases[0].at,
                    Problem::OneAlone {
                        phrase: &phrases[0].text,
                    },
                ),
                many if many > MOST_ALTERNATIVES => refuse(
                    phrases[MOST_ALTERNATIVES].at,
                    Problem::TooManyAlternatives {
                        most: MOST_ALTERNATIVES,
                    },
                ),
                _ => Ok((kind, states)),
            }
        })
    }

    /// Refuses a state that stands in two such sentences, and one that a `that means`
    /// sentence reads: what keeps it away would break the promise of that sentence.
    pub(super) fn limit_exclusions(&mut self) {
        let mut known: BTreeMap<StateId, Span> = BTreeMap::new();
        let mut said = Vec::new();
        for one in &self.model.at_most_ones {
            for &state in &one.states {
                let phrase = &self.model.states[state.index()].phrase;
                if let Some(before) = known.insert(state, one.at) {
                    let line = self.files.line_from(before, one.at);
                    said.push(Message::new(
                        one.at,
                        Problem::InTwoExclusions {
                            phrase,
                            line: &line,
                        },
                    ));
                }
                let mut means = self.model.means.iter();
                if let Some(means) = means.find(|means| means.sign == state) {
                    let line = self.files.line_from(means.at, one.at);
                    said.push(Message::new(
                        one.at,
                        Problem::ExcludedSignMeans {
                            phrase,
                            line: &line,
                        },
                    ));
                }
            }
        }
        for message in said {
            self.say(message);
        }
    }
}

/// One of the states: a sign or a fault of this very kind of part.
fn one_of(
    look: &Look<'_>,
    kind: KindId,
    verb: Verb,
    (noun, phrase): (&Name, &Name),
) -> Done<StateId> {
    let no_state = Problem::ExcludesAnyway {
        phrase: &phrase.text,
    };
    let Said::State(state) = look.said(kind, phrase)? else {
        return refuse(phrase.at, no_state);
    };
    let record = look.state(state);
    if record.verb != verb {
        return look.wrong_verb(record.verb, verb, phrase, kind);
    }
    if matches!(record.nature, Nature::CountsAs { .. }) {
        return refuse(phrase.at, no_state);
    }
    if record.kind != kind {
        let owner = look.a(record.kind);
        let message = Message::new(
            noun.at,
            Problem::ExcludedOfEvery {
                owner: &owner,
                phrase: &phrase.text,
            },
        );
        return Err(Box::new(message.with_fix(
            noun.at,
            look.name(record.kind),
            false,
        )));
    }
    Ok(state)
}
