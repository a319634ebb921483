//! What an answer says was found on a part.

use crate::grammar::answer::{Finding, Stated};
use crate::message::{Message, Problem};
use crate::model::{Asks, Found, KindId, Predicate, SignId, Sure, Tense, Verb};
use crate::number::unit_name;
use crate::resolve::answer::Named;
use crate::resolve::look::{Done, Look, Put, refuse};
use crate::resolve::predicate::frequency_word;
use crate::span::Span;
use crate::syntax::Name;
use crate::vocab::Said;
use crate::words::capital;

impl Look<'_> {
    /// What a finding says of a part.
    pub(super) fn finding(
        &self,
        named: &Named,
        attribute: Option<&Name>,
        finding: &Finding,
        at: Span,
    ) -> Done<Found> {
        match finding {
            Finding::Is(stated) => self.stated(named, attribute, stated),
            Finding::Measured {
                phrase,
                quantity,
                word,
            } => {
                if let Some(no) = named.no {
                    return refuse(no.to(at), Problem::DoubleNegative { right: None });
                }
                let sign =
                    self.sign_read(named.kind, phrase.as_ref(), word.as_ref(), quantity.at)?;
                let sign = self.not_worked_out(sign, at)?;
                Ok(Found::Measure {
                    sign,
                    ticks: self.ticks(sign, quantity)?,
                })
            }
            Finding::Has {
                number,
                number_at,
                noun,
            } => self.counted(named, *number, *number_at, noun),
            Finding::CannotBeSeen => match named.no {
                Some(no) => refuse(no.to(at), Problem::DoubleNegative { right: None }),
                None => Ok(Found::PartCannotBeSeen),
            },
            // "No drawer can be seen": none of them can.
            Finding::CanBeSeen => Ok(match named.no {
                Some(_) => Found::PartCannotBeSeen,
                None => Found::PartCanBeSeen,
            }),
        }
    }

    /// "is stiff", "does not look cracked", "is gimlet-point".
    fn stated(&self, named: &Named, attribute: Option<&Name>, stated: &Stated) -> Done<Found> {
        let (kind, phrase) = (named.kind, &stated.phrase);
        if let Some(often) = &stated.often {
            let word = &frequency_word(often);
            return refuse(often.at, Problem::StrengthInAnswer { word });
        }
        if let (Some(no), false) = (named.no, stated.yes) {
            let right = format!("every {} is {}", self.name(kind), phrase.text);
            let right = Some(right.as_str());
            return refuse(no.to(phrase.at), Problem::DoubleNegative { right });
        }
        let yes = stated.yes && named.no.is_none();
        let said = match attribute {
            Some(attribute) => self.value_of(kind, attribute, phrase)?,
            None => self.said(kind, phrase)?,
        };
        if let Some(found) = self.judged((kind, said), stated, yes)? {
            return Ok(found);
        }
        match said {
            Said::State(state) => {
                let right = self.state(state).verb;
                let wrong = if stated.shows { Verb::Shows } else { Verb::Is };
                let loosely = stated.looks && !stated.shows;
                if right != wrong && !loosely {
                    return self.wrong_verb(right, wrong, phrase, kind);
                }
                let sure = sureness_of(stated);
                Ok(Found::State { state, yes, sure })
            }
            Said::Value(sign, value) if yes && !stated.looks => Ok(Found::Choice { sign, value }),
            Said::Value(sign, _) | Said::Degree(sign, _) => refuse(
                phrase.at,
                Problem::WrongSortOfAnswer {
                    word: if yes { "looks" } else { "not" },
                    owner: &self.a(kind),
                    phrase: &self.sign_words(sign),
                    one: "a choice of one value",
                    right: "Say which one it is.",
                },
            ),
            Said::Measure(sign) => {
                let amount = format!("2 {}", self.unit_of(sign));
                refuse(
                    phrase.at,
                    Problem::AmountMissing {
                        phrase: &phrase.text,
                        amount: &amount,
                    },
                )
            }
        }
    }

    /// The unit a measure is asked in.
    pub(super) fn unit_of(&self, sign: SignId) -> &'static str {
        match &self.sign(sign).asks {
            Asks::HowMuch { unit, .. } => unit_name(*unit),
            _ => "mm",
        }
    }

    /// The measure that "is worn 3 mm" or "is 20 mm thick" reads.
    fn sign_read(
        &self,
        kind: KindId,
        phrase: Option<&Name>,
        word: Option<&Name>,
        at: Span,
    ) -> Done<SignId> {
        if let Some(sign) = self.measure(kind, phrase, word, Put::Said) {
            return Ok(sign);
        }
        let owner = &self.a(kind);
        let Some(phrase) = phrase else {
            return refuse(
                at,
                Problem::UnknownPhrase {
                    phrase: "this measure",
                    owner,
                    near: None,
                    known: None,
                },
            );
        };
        match self.said(kind, phrase)? {
            Said::Measure(sign) if self.sign(sign).asks.tense() != Tense::Is => {
                self.said_in_another_tense(sign, at)
            }
            Said::Measure(sign) => Ok(sign),
            Said::Degree(sign, _) => self.judged_not_measured(sign, at),
            Said::State(state) if self.model.degree_of(state).is_some() => {
                let (sign, _) = self.model.degree_of(state).unwrap_or((SignId(0), 0));
                self.judged_not_measured(sign, at)
            }
            _ => refuse(
                at,
                Problem::WrongSortOfAnswer {
                    word: "a quantity",
                    owner,
                    phrase: &format!("\"{}\"", phrase.text),
                    one: "yes or no",
                    right: &format!("Say \"is {}\".", phrase.text),
                },
            ),
        }
    }

    fn value_of(&self, kind: KindId, attribute: &Name, phrase: &Name) -> Done<Said> {
        let sign = self.attribute(kind, attribute)?;
        match self.values(sign, std::slice::from_ref(phrase), true)? {
            Predicate::Choice { values, .. } => Ok(Said::Value(sign, values[0])),
            _ => refuse(
                phrase.at,
                Problem::Unreadable {
                    read: None,
                    wants: "a value",
                    example: None,
                },
            ),
        }
    }

    fn counted(&self, named: &Named, number: u32, at: Span, noun: &Name) -> Done<Found> {
        let owner = named.kind;
        let part = match self.plain(noun) {
            Err(message) if message.kind.is_unknown_part() => {
                return Err(Box::new(self.unknown_noun(noun, Some(owner))));
            }
            other => other?.kind,
        };
        let part = self.member_meant(owner, noun, part)?;
        let Some(member) = self.tree.own_member(owner, part) else {
            if let Some(way) = self.tree.ways(owner, part).first() {
                return refuse(
                    noun.at,
                    Problem::OnlyThrough {
                        subject_cap: &capital(&self.a(owner)),
                        plural: self.plural(part),
                        through: self.plural(way[0]),
                    },
                );
            }
            return Err(Box::new(self.has_not(owner, part, noun)));
        };
        let number = match (named.no, number) {
            (None, number) => number,
            // "no drawer has a lock"
            (Some(_), 1) => 0,
            (Some(no), _) => {
                return refuse(no.to(noun.at), Problem::DoubleNegative { right: None });
            }
        };
        let (least, most) = (u32::from(member.least), u32::from(member.most));
        if !(least..=most).contains(&number) {
            return Err(Box::new(self.not_so_many(
                owner,
                part,
                number,
                at.to(noun.at),
            )));
        }
        Ok(Found::Count {
            part,
            number: u8::try_from(number).unwrap_or(u8::MAX),
        })
    }

    /// "A chest of drawers has 2 to 10 drawers, so not 12."
    #[must_use]
    pub fn not_so_many(&self, owner: KindId, part: KindId, number: u32, at: Span) -> Message {
        let member = self.tree.own_member(owner, part);
        let (least, most, declared) = member.map_or((0, 0, Span::default()), |m| {
            (u32::from(m.least), u32::from(m.most), m.at)
        });
        Message::new(
            at,
            Problem::NumberOutsideMakeup {
                owner: &capital(&self.a(owner)),
                range: &self.range_words(least, most, part),
                line: &self.line(declared, at),
                number: &number.to_string(),
            },
        )
    }
}

/// How well an answer claims to know.
fn sureness_of(stated: &Stated) -> Sure {
    if stated.looks {
        Sure::Looks
    } else if stated.certain {
        Sure::Certain
    } else {
        Sure::Ordinary
    }
}
