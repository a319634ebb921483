//! Measures: which one, and their marks in ticks.

use crate::message::{Message, Problem};
use crate::model::{Asks, KindId, Mark, SignId, Tense, Ticks, Unit};
use crate::number::{Quantity, UnitWord, in_unit, to_ticks, unit_name};
use crate::resolve::look::{Done, Look, Put, refuse};
use crate::resolve::time::kept;
use crate::span::Span;
use crate::syntax::{Clause, Compare, Name, Saying};
use crate::vocab::Said;
use crate::words::capital;

impl Look<'_> {
    /// The measure, its mark, and whether it must be passed.
    pub fn measured(
        &self,
        kind: KindId,
        phrase: Option<&Name>,
        compare: &Compare,
        word: Option<&Name>,
        clause: &Clause,
    ) -> Done<(SignId, Mark, bool)> {
        let sign = match self.measure(kind, phrase, word, Put::Said) {
            Some(sign) => sign,
            None => return self.no_measure(kind, phrase, clause),
        };
        let ticks = |quantity: &Quantity| self.ticks(sign, quantity);
        let from = |t: Ticks| Mark {
            at_least: t,
            at_most: None,
        };
        Ok(match compare {
            Compare::MoreThan(q) => (sign, from(ticks(q)?.saturating_add(1)), true),
            Compare::AtMost(q) => (sign, from(ticks(q)?.saturating_add(1)), false),
            Compare::AtLeast(q) => (sign, from(ticks(q)?), true),
            Compare::LessThan(q) => (sign, from(ticks(q)?), false),
            Compare::Between(low, high) => {
                let (from, to) = (ticks(low)?, ticks(high)?);
                if from > to {
                    let unit = high.unit.map_or("", unit_text);
                    let right = format!("between {} and {} {unit}", high.number, low.number);
                    return refuse(
                        low.at.to(high.at),
                        Problem::LargerFirst {
                            right: right.trim_end(),
                        },
                    );
                }
                (
                    sign,
                    Mark {
                        at_least: from,
                        at_most: Some(to),
                    },
                    true,
                )
            }
        })
    }

    fn no_measure(
        &self,
        kind: KindId,
        phrase: Option<&Name>,
        clause: &Clause,
    ) -> Done<(SignId, Mark, bool)> {
        let Some(phrase) = phrase else {
            return refuse(
                clause.saying_at,
                Problem::UnknownPhrase {
                    phrase: "this measure",
                    owner: &self.a(kind),
                    near: None,
                    known: None,
                },
            );
        };
        // Known of another part, or not a measure, or not known at all.
        let said = self.said(kind, phrase)?;
        if let Said::Degree(sign, _) = said {
            return self.judged_not_measured(sign, clause.saying_at);
        }
        if let Said::State(state) = said
            && let Some((sign, _)) = self.model.degree_of(state)
        {
            return self.judged_not_measured(sign, clause.saying_at);
        }
        match said {
            Said::Measure(sign) if self.sign(sign).asks.tense() != Tense::Is => {
                self.said_in_another_tense(sign, clause.saying_at)
            }
            Said::Measure(sign) => {
                let right = self.sign_words(sign);
                let word = match &clause.saying {
                    Saying::Measured { word: Some(w), .. } => w.clone(),
                    _ => phrase.clone(),
                };
                refuse(
                    word.at,
                    Problem::UnknownWord {
                        word: &word.text,
                        near: None,
                        figure: None,
                        read: Some(&phrase.text),
                        wants: Some(&format!("the word of \"{right}\"")),
                    },
                )
            }
            _ => refuse(
                clause.saying_at,
                Problem::WrongSortOfAnswer {
                    word: "this",
                    owner: &self.a(kind),
                    phrase: &format!("\"{}\"", phrase.text),
                    one: "yes or no, not a quantity",
                    right: &format!("Say \"is {}\".", phrase.text),
                },
            ),
        }
    }

    /// A quantity in ticks of a measure, inside its range.
    pub fn ticks(&self, sign: SignId, quantity: &Quantity) -> Done<Ticks> {
        let Asks::HowMuch {
            unit, least, most, ..
        } = &self.sign(sign).asks
        else {
            if let Asks::Degrees { .. } = &self.sign(sign).asks {
                return self.judged_not_measured(sign, quantity.at);
            }
            return refuse(
                quantity.at,
                Problem::Unreadable {
                    read: None,
                    wants: "a measure",
                    example: None,
                },
            );
        };
        let unit_word = unit_name(*unit);
        let number = quantity.number.to_string();
        let written = match quantity.unit {
            None => {
                return Err(Box::new(
                    Message::new(
                        quantity.at,
                        Problem::UnitMissing {
                            number: &number,
                            unit: unit_word,
                        },
                    )
                    .with_fix(
                        Span {
                            start: quantity.at.end,
                            ..quantity.at
                        },
                        format!(" {unit_word}"),
                        false,
                    ),
                ));
            }
            Some(written) if written.of_measure().map(dimension) == Some(dimension(*unit)) => {
                written.of_measure().unwrap_or(*unit)
            }
            Some(other) => {
                return refuse(
                    quantity.unit_at.unwrap_or(quantity.at),
                    Problem::OtherDimension {
                        kind: dimension(*unit),
                        other: match other {
                            UnitWord::Time(_) if unit.is_time() => "hours or minutes",
                            UnitWord::Time(_) => "a time",
                            UnitWord::Weight => "a weight",
                            UnitWord::Measure(unit) => dimension(unit),
                        },
                        sign: &capital(&self.sign_words(sign)),
                        unit: unit_word,
                    },
                );
            }
        };
        kept(quantity.number, written, quantity.at)?;
        let ticks = to_ticks(quantity.number, written);
        if let Some(ticks) = ticks.filter(|t| (*least..=*most).contains(t)) {
            return Ok(ticks);
        }
        let amount = format!("{number} {}", unit_name(written));
        let converted = match ticks {
            Some(ticks) if written != *unit => {
                format!(" is {} {unit_word}, which", in_unit(ticks, *unit))
            }
            _ => String::new(),
        };
        let (low, high) = (in_unit(*least, *unit), in_unit(*most, *unit));
        let words = self.sign_words(sign);
        let line = self.line(self.sign(sign).at, quantity.at);
        let near = to_ticks(quantity.number, *unit)
            .filter(|t| written != *unit && (*least..=*most).contains(t))
            .map(|_| format!("{number} {unit_word}"));
        let problem = Problem::OutsideRange {
            amount: &amount,
            converted: &converted,
            least: &low,
            most: &high,
            unit: unit_word,
            sign: &words,
            line: &line,
            near: near.as_deref(),
        };
        let mut message = Message::new(quantity.at, problem).with_also(self.sign(sign).at);
        if near.is_some()
            && let Some(at) = quantity.unit_at
        {
            message = message.with_fix(at, unit_word, false);
        }
        Err(Box::new(message))
    }
}

/// "a length", "a share".
#[must_use]
pub fn dimension(unit: Unit) -> &'static str {
    match unit {
        Unit::Percent => "a share",
        Unit::Day | Unit::Week | Unit::Month | Unit::Year => "a time",
        Unit::Kg | Unit::Lb => "a weight",
        _ => "a length",
    }
}

fn unit_text(unit: UnitWord) -> &'static str {
    unit.of_measure().map_or("", unit_name)
}
