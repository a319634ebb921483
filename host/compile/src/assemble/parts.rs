//! Kinds, places, states and asks.

use tellmark_core::pack::{
    Ask, Form, Kind, Lineage, NONE, Nature as PackNature, Place, State, Touch, Verb as PackVerb,
    Way,
};

use super::Writer;
use crate::bytes::Texts;
use crate::numbers::{Number as _, Overflow, numbers};
use crate::states::{AskRow, Asked, count_sign};
use tellmark_language::model::{Asks, Disturbs, Nature, Sense, Unit, Verb};
use tellmark_language::words;

impl Writer<'_> {
    pub(super) fn kinds(&mut self) -> Result<Vec<Kind>, Overflow> {
        let model = self.rules.model;
        model
            .kinds
            .iter()
            .enumerate()
            .map(|(i, kind)| {
                let states = &self.rules.states.of_kind[i];
                let asks = &self.rules.states.asks_of_kind[i];
                Ok(Kind {
                    name: self.texts.add(&kind.name)?,
                    plural: self.texts.add(&kind.plural)?,
                    first_state: states.start.half()?,
                    states: states.len().half()?,
                    first_ask: asks.start.half()?,
                    asks: asks.len().half()?,
                })
            })
            .collect()
    }

    pub(super) fn lineages(&self) -> Vec<Lineage> {
        let kinds = numbers().zip(&self.rules.model.kinds);
        let special = kinds.filter_map(|(kind, record)| {
            let general = record.general?.0;
            Some(Lineage { kind, general })
        });
        special.collect()
    }

    pub(super) fn places(&mut self, fragments: &[u16]) -> Result<Vec<Place>, Overflow> {
        let places = self.rules.places;
        (0..places.len())
            .map(|i| {
                let place = places.get(i);
                let member = place.member.as_ref();
                let names = member.map_or(&[][..], |m| &m.names);
                let counted_by = place.owner.and_then(|owner| {
                    let sign = count_sign(self.rules.model, places.kind(owner), place.kind)?;
                    Some(self.rules.states.ask(sign))
                });
                Ok(Place {
                    kind: place.kind.0,
                    owner: place.owner.map_or(Ok(NONE), |owner| owner.half())?,
                    end: place.end.half()?,
                    fragment: fragments[i],
                    least: member.map_or(1, |m| m.least),
                    most: member.map_or(1, |m| m.most),
                    usual: member.map_or(1, |m| m.usual),
                    names: names.len().byte()?,
                    first_name: self.texts.add_row(names)?,
                    counted_by: counted_by.unwrap_or(NONE),
                })
            })
            .collect()
    }

    pub(super) fn states(&mut self) -> Result<Vec<State>, Overflow> {
        let rows = &self.rules.states.states;
        rows.iter()
            .map(|row| {
                Ok(State {
                    phrase: self.texts.add(&row.phrase)?,
                    kind: row.kind.0,
                    ask: row.ask,
                    whether: row.whether.unwrap_or(NONE),
                    verb: match row.verb {
                        Some(Verb::Is) => PackVerb::Is,
                        Some(Verb::Shows) => PackVerb::Shows,
                        None => PackVerb::Has,
                    },
                    nature: row.nature,
                    risk: row.missed.map_or(0, |m| m.risk),
                    trial: row.trial,
                    missed: row.missed.map_or(Ok(0), |m| m.minutes.amount())?,
                    own: if row.nature == PackNature::Divides {
                        row.share
                    } else {
                        thousandths(row.alone)
                    },
                })
            })
            .collect()
    }

    pub(super) fn asks(&mut self) -> Result<Vec<Ask>, Overflow> {
        let rows: Vec<AskRow> = self.rules.states.asks.clone();
        rows.iter().map(|row| self.ask(row)).collect()
    }

    fn ask(&mut self, row: &AskRow) -> Result<Ask, Overflow> {
        let model = self.rules.model;
        let sign = match row.what {
            Asked::Sign(sign) => &model.signs[sign.index()],
            Asked::State(state) => {
                let state = &model.states[state.index()];
                let hidden = matches!(state.nature, Nature::Hidden { .. });
                return Ok(Ask {
                    kind: row.kind.0,
                    question: 0,
                    how: 0,
                    phrase: self.texts.add(&state.phrase)?,
                    word: 0,
                    way: if hidden { Way::Open } else { Way::See },
                    touch: if hidden { Touch::ALot } else { Touch::Nothing },
                    minutes: 0,
                    slip: 10,
                    form: Form::Whether,
                });
            }
        };
        let text = |texts: &mut Texts, text: &Option<String>| {
            texts.add(text.as_deref().unwrap_or_default())
        };
        let (phrase, word, form) = match &sign.asks {
            Asks::Whether(state) => (
                model.states[state.index()].phrase.as_str(),
                "",
                Form::Whether,
            ),
            Asks::Which { attribute, values } => {
                let first = self.texts.add_row(values)?;
                (
                    attribute.as_str(),
                    "",
                    Form::Which {
                        first,
                        values: values.len().half()?,
                    },
                )
            }
            Asks::HowMuch {
                word,
                phrase,
                unit,
                least,
                most,
                gauge,
            } => (
                phrase.as_str(),
                word.as_str(),
                Form::HowMuch {
                    least: *least,
                    most: *most,
                    gauge: gauge.amount()?,
                    unit: unit_number(*unit),
                },
            ),
            Asks::Degrees { word, phrase, .. } => {
                let degrees = words::every_degree(&sign.asks);
                let first = self.texts.add_row(&degrees)?;
                let values = degrees.len().half()?;
                (
                    phrase.as_str(),
                    word.as_str(),
                    Form::Degrees { first, values },
                )
            }
            Asks::HowMany(part) => (
                model.kinds[part.index()].plural.as_str(),
                "",
                Form::HowMany { part: part.0 },
            ),
        };
        Ok(Ask {
            kind: row.kind.0,
            question: text(&mut self.texts, &sign.ask)?,
            how: text(&mut self.texts, &sign.how)?,
            phrase: self.texts.add(phrase)?,
            word: self.texts.add(word)?,
            way: match sign.sense {
                _ if sign.worked.is_some() => Way::WorkOut,
                Sense::See => Way::See,
                Sense::Feel => Way::Feel,
                Sense::Hear => Way::Hear,
                Sense::Smell => Way::Smell,
                Sense::Ask => Way::Ask,
                Sense::Measure => Way::Measure,
                Sense::Count => Way::Count,
            },
            touch: match sign.disturbs {
                Disturbs::Nothing => Touch::Nothing,
                Disturbs::ALittle => Touch::ALittle,
                Disturbs::ALot => Touch::ALot,
            },
            minutes: sign.takes.map_or(Ok(0), |takes| takes.amount())?,
            slip: sign.slip.0,
            form,
        })
    }
}

/// The number of a unit in a pack.
#[must_use]
pub fn unit_number(unit: Unit) -> u8 {
    match unit {
        Unit::Mm => 0,
        Unit::Cm => 1,
        Unit::M => 2,
        Unit::In => 3,
        Unit::Ft => 4,
        Unit::Percent => 5,
        Unit::Day => 6,
        Unit::Week => 7,
        Unit::Month => 8,
        Unit::Year => 9,
        Unit::Kg => 10,
        Unit::Lb => 11,
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn thousandths(chance: f64) -> u16 {
    (chance * 1000.0).round() as u16
}
