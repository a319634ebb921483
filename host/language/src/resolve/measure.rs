//! Measures: which one, and their marks in ticks.

use crate::message::Message;
use crate::model::{Asks, KindId, Mark, SignId, Ticks, Unit};
use crate::number::{Quantity, UnitWord, in_unit, to_ticks, unit_name};
use crate::resolve::look::{Done, Look, refuse};
use crate::span::Span;
use crate::syntax::{Clause, Compare, Name, Saying};
use crate::vocab::{Said, capital};

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
        let sign = match self.measure(kind, phrase, word) {
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
                    return refuse(37, low.at.to(high.at), &[("right", right.trim_end())]);
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
                77,
                clause.saying_at,
                &[("phrase", "this measure"), ("owner", &self.a(kind))],
            );
        };
        // Known of another part, or not a measure, or not known at all.
        let said = self.said(kind, phrase)?;
        match said {
            Said::Measure(sign) => {
                let right = self.sign_words(sign);
                let word = match &clause.saying {
                    Saying::Measured { word: Some(w), .. } => w.clone(),
                    _ => phrase.clone(),
                };
                refuse(
                    17,
                    word.at,
                    &[
                        ("word", &word.text),
                        ("read", &phrase.text),
                        ("wants", &format!("the word of \"{right}\"")),
                    ],
                )
            }
            _ => refuse(
                120,
                clause.saying_at,
                &[
                    ("word", "this"),
                    ("owner", &self.a(kind)),
                    ("phrase", &format!("\"{}\"", phrase.text)),
                    ("one", "yes or no, not a quantity"),
                    ("right", &format!("Say \"is {}\".", phrase.text)),
                ],
            ),
        }
    }

    /// A quantity in ticks of a measure, inside its range.
    pub fn ticks(&self, sign: SignId, quantity: &Quantity) -> Done<Ticks> {
        let Asks::HowMuch {
            unit, least, most, ..
        } = &self.sign(sign).asks
        else {
            return refuse(78, quantity.at, &[("wants", "a measure")]);
        };
        let unit_word = unit_name(*unit);
        let number = quantity.number.to_string();
        let written = match quantity.unit {
            None => {
                return Err(Box::new(
                    Message::new(33, quantity.at, &[("number", &number), ("unit", unit_word)])
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
            Some(UnitWord::Measure(written)) if dimension(written) == dimension(*unit) => written,
            Some(other) => {
                return refuse(
                    35,
                    quantity.unit_at.unwrap_or(quantity.at),
                    &[
                        ("kind", dimension(*unit)),
                        (
                            "other",
                            match other {
                                UnitWord::Time(_) => "a time",
                                UnitWord::Weight => "a weight",
                                UnitWord::Measure(unit) => dimension(unit),
                            },
                        ),
                        ("sign", &capital(&self.sign_words(sign))),
                        ("unit", unit_word),
                    ],
                );
            }
        };
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
        let mut blanks = vec![
            ("amount", amount.as_str()),
            ("converted", &converted),
            ("least", &low),
            ("most", &high),
            ("unit", unit_word),
            ("sign", &words),
            ("line", &line),
        ];
        if let Some(near) = &near {
            blanks.push(("near", near));
        }
        let mut message = Message::new(34, quantity.at, &blanks).with_also(self.sign(sign).at);
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
        _ => "a length",
    }
}

fn unit_text(unit: UnitWord) -> &'static str {
    match unit {
        UnitWord::Measure(unit) => unit_name(unit),
        _ => "",
    }
}
