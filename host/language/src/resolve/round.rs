//! Rounds: what to look at, in which order.

use tellmark_core::limits::MAX_STEPS;

use nom::combinator::{cut, opt};
use nom::sequence::preceded;
use nom::{Input, Parser};

use crate::entry::{Entry, Opener};
use crate::grammar::clause::conditions;
use crate::grammar::declare::sense;
use crate::grammar::name::{article, noun};
use crate::grammar::sentence::question;
use crate::input::{Read, Tokens, colon, comma, end, sort, words};
use crate::message::{Message, Problem};
use crate::model::{Asks, KindId, Nature, PIECE, Round, Sign, SignId, Step};
use crate::number::whole;
use crate::resolve::Reader;
use crate::resolve::change::Changes;
use crate::resolve::clause::Usage;
use crate::resolve::look::{Done, Look, refuse};
use crate::resolve::reach::Scene;
use crate::span::Span;
use crate::syntax::{Name, NewStep, Question, Thing};
use crate::token::Sort;
use crate::vocab::Said;

impl Reader<'_> {
    /// `To look over …:`
    pub(super) fn rounds(&mut self, entries: &[Entry], changes: &Changes) {
        for (index, entry) in entries.iter().enumerate() {
            if entry.opener == Opener::Round && !changes.is_dropped(index) {
                self.round(entry);
            }
        }
        self.join_rounds();
    }

    /// Several rounds of one piece are one: what the later ones ask comes after what the
    /// first one asks, but for what it asks already just so.
    fn join_rounds(&mut self) {
        let mut joined: Vec<Round> = Vec::new();
        for round in std::mem::take(&mut self.model.rounds) {
            let Some(first) = joined.iter_mut().find(|r| r.piece == round.piece) else {
                joined.push(round);
                continue;
            };
            for step in round.steps {
                let is_asked = |known: &Step| {
                    known.sign == step.sign
                        && (known.only_if.is_none() || known.only_if == step.only_if)
                };
                if !first.steps.iter().any(is_asked) {
                    first.steps.push(step);
                }
            }
        }
        self.model.rounds = joined;
    }

    fn round(&mut self, entry: &Entry) {
        let _ = self.particulars(entry);
        let starts: Vec<usize> = entry
            .sentence
            .iter()
            .enumerate()
            .filter(|(index, t)| {
                matches!(t.sort, Sort::Number(_))
                    && t.first
                    && entry
                        .sentence
                        .get(index + 1)
                        .is_some_and(|t| matches!(t.sort, Sort::Stop | Sort::Close))
            })
            .map(|(index, _)| index)
            .collect();
        let head_end = starts.first().copied().unwrap_or(entry.sentence.len());
        let head = self.parse_tokens(entry, &entry.sentence[..head_end], head);
        let Some(name) = self.keep(entry, head) else {
            return;
        };
        let piece = self.with_look(|look| {
            let found = look.plain(&name)?;
            if !look.kind(found.kind).is_piece {
                return refuse(
                    name.at,
                    Problem::RoundOfAPart {
                        a_part: &look.a(found.kind),
                    },
                );
            }
            Ok(found.kind)
        });
        let Some(piece) = self.keep(entry, piece) else {
            return;
        };
        if starts.is_empty() {
            self.fail(
                entry,
                Message::new(
                    entry.sentence.last().map_or(entry.at, |t| t.at),
                    Problem::Incomplete {
                        read: &self.written(name.at),
                        wants: "a line that begins \"1.\"",
                        example: Opener::Round.example(),
                    },
                ),
            );
            return;
        }
        let mut round = Round {
            piece,
            steps: Vec::new(),
            at: entry.at,
        };
        let mut numbers: Vec<u32> = Vec::new();
        for (index, &from) in starts.iter().enumerate() {
            let to = starts
                .get(index + 1)
                .copied()
                .unwrap_or(entry.sentence.len());
            let tokens = &entry.sentence[from..to];
            if index == MAX_STEPS {
                let last = tokens.last().unwrap_or(&tokens[0]);
                let at = tokens[0].at.to(last.at);
                self.fail(
                    entry,
                    Message::new(at, Problem::RoundTooLong { most: MAX_STEPS }),
                );
                break;
            }
            let step = self.parse_tokens(entry, tokens, step);
            let Some(step) = self.keep(entry, step) else {
                continue;
            };
            if numbers.contains(&step.number) {
                self.say(Message::new(
                    tokens[0].at,
                    Problem::StepNumberTwice {
                        number: step.number,
                    },
                ));
            }
            numbers.push(step.number);
            let done = self.with_look(|look| look.step(piece, &step));
            if let Some(step) = self.keep(entry, done) {
                round.steps.push(step);
            }
        }
        self.model.rounds.push(round);
    }
}

fn head(input: Tokens<'_>) -> Read<'_, Name> {
    let (rest, _) = words("to look over")(input)?;
    cut(|i| {
        let (rest, name) = preceded(article, noun).parse(i)?;
        let (rest, _) = colon(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, name))
    })
    .parse(rest)
}

fn step(input: Tokens<'_>) -> Read<'_, NewStep> {
    let (rest, number) = whole(input)?;
    // "1." or "1)"
    let rest = rest.take_from(1);
    let sense_from = rest;
    let (rest, sense) = sense(rest)?;
    let sense_at = sense_from.span_to(&rest);
    let (rest, question) = question(rest)?;
    let (rest, only_if) =
        opt(preceded((opt(comma), words("only if")), cut(conditions))).parse(rest)?;
    let (rest, known) = match &only_if {
        Some(_) => (rest, None),
        None => opt(once_known).parse(rest)?,
    };
    let (after, _) = opt(sort(Sort::Semicolon, "a semicolon")).parse(rest)?;
    let (after, ()) = end(after)?;
    Ok((
        after,
        NewStep {
            number,
            sense,
            sense_at,
            question,
            only_if,
            known,
            at: sense_from.span_to(&rest),
        },
    ))
}

/// "only once it is known whether each bottom is grooved in"
fn once_known(input: Tokens<'_>) -> Read<'_, (Question, Span)> {
    let start = (opt(comma), words("only once it is known"));
    preceded(start, cut(what_is_known)).parse(input)
}

fn what_is_known(input: Tokens<'_>) -> Read<'_, (Question, Span)> {
    let is_asked = ["whether", "how", "which"]
        .iter()
        .any(|word| input.next_is(word));
    if !is_asked {
        return input.fail("\"whether\", \"how\" or \"which\"");
    }
    let (rest, asked) = question(input)?;
    Ok((rest, (asked, input.span_to(&rest))))
}

impl Look<'_> {
    fn step(&self, piece: KindId, new: &NewStep) -> Done<Step> {
        let sign = self.asked(piece, &new.question)?;
        let declared = self.sign(sign);
        if declared.sense != new.sense {
            let line = self.line(declared.at, new.at);
            self.notes.borrow_mut().push(
                Message::new(
                    new.sense_at,
                    Problem::OtherSense {
                        word: crate::words::sense_word(new.sense),
                        line: &line,
                        sense: crate::words::sense_word(declared.sense),
                    },
                )
                .with_fix(
                    new.sense_at,
                    crate::words::sense_word(declared.sense),
                    true,
                ),
            );
        }
        let only_if = new
            .only_if
            .as_ref()
            .map(|conditions| {
                let mut scene = Scene {
                    subject: piece,
                    opening: "only if",
                    opened: true,
                    any_said: Vec::new(),
                    had: Vec::new(),
                    placed: None,
                };
                self.conditions(&mut scene, conditions, Usage::Trigger)
            })
            .transpose()?;
        let known = new.known.as_ref();
        let known = known.map(|(asked, at)| self.once_known(piece, asked, *at));
        let (only_if, known) = match known.transpose()? {
            Some((when, known)) => (Some(when), Some(known)),
            None => (only_if, None),
        };
        Ok(Step {
            sign,
            only_if,
            known,
            at: new.at,
        })
    }

    /// The kind a step speaks of, which must be part of the piece.
    pub(super) fn step_part(&self, piece: KindId, thing: &Thing) -> Done<KindId> {
        let noun = match thing {
            Thing::It(_) | Thing::There(_) => return Ok(piece),
            Thing::One { noun, place, .. } | Thing::Many { noun, place, .. } => {
                self.no_place_in_step(place.as_ref(), noun)?;
                noun
            }
        };
        let kind = match self.plain(noun) {
            Err(message) if message.kind.is_unknown_part() => {
                return Err(Box::new(self.unknown_noun(noun, Some(piece))));
            }
            other => other?.kind,
        };
        if kind == piece || kind == PIECE || self.tree.is_below(kind, piece) {
            return Ok(kind);
        }
        Err(Box::new(self.has_not(piece, kind, noun)))
    }

    /// The sign a step names.
    pub(super) fn asked(&self, piece: KindId, question: &Question) -> Done<SignId> {
        match question {
            Question::Whether(thing, verb, phrase) => {
                let kind = self.step_part(piece, thing)?;
                match self.said(kind, phrase)? {
                    Said::State(state) => {
                        let right = self.state(state).verb;
                        if right != *verb {
                            return self.wrong_verb(right, *verb, phrase, kind);
                        }
                        match self.state(state).nature {
                            Nature::Seen(sign) | Nature::CountsAs { sign, .. } => Ok(sign),
                            Nature::Hidden { .. } => refuse(
                                phrase.at,
                                Problem::HiddenInRound {
                                    phrase: &phrase.text,
                                },
                            ),
                        }
                    }
                    Said::Measure(sign) | Said::Value(sign, _) | Said::Degree(sign, _) => {
                        let words = self.sign_words(sign);
                        refuse(
                            phrase.at,
                            Problem::WrongSortOfAnswer {
                                word: "whether",
                                owner: &self.a(kind),
                                phrase: &format!("\"{}\"", phrase.text),
                                one: "not a matter of yes or no",
                                right: &format!("Ask \"{words}\"."),
                            },
                        )
                    }
                }
            }
            Question::HowMuch(word, thing, phrase) => {
                let kind = self.step_part(piece, thing)?;
                let sign = self.sign_of_measure(kind, word, phrase.as_ref())?;
                let at = phrase
                    .as_ref()
                    .map_or(word.at, |phrase| word.at.to(phrase.at));
                self.not_worked_out(sign, at)
            }
            Question::Which(attribute, thing) => {
                let kind = self.step_part(piece, thing)?;
                self.attribute(kind, attribute)
            }
            Question::Count(noun, thing) => {
                let owner = self.step_part(piece, thing)?;
                let part = self.plain(noun)?.kind;
                self.count_of(owner, part, noun)
            }
        }
    }

    /// The sign that counts the parts of an owner.
    pub fn count_of(&self, owner: KindId, part: KindId, noun: &Name) -> Done<SignId> {
        let piece = self.kind(owner).is_piece;
        let counts = |sign: &Sign, part: KindId| {
            sign.asks == Asks::HowMany(part) && crate::vocab::applies(sign.kind, owner, piece)
        };
        let found = self.model.kinds_of(part).find_map(|part| {
            let mut signs = self.model.signs.iter();
            signs.position(|sign| counts(sign, part))
        });
        match found.and_then(|i| u16::try_from(i).ok()) {
            Some(id) => Ok(SignId(id)),
            None if self.tree.member(owner, part).is_none() => {
                Err(Box::new(self.has_not(owner, part, noun)))
            }
            None => refuse(
                noun.at,
                Problem::NotCounted {
                    plural: self.plural(part),
                    owner: &self.a(owner),
                },
            ),
        }
    }
}
