//! Marks on measures and counts that rules read without a name.

use tellmark_core::pack::{Nature, Trial};

use super::uses::Uses;
use super::{StateRow, States, usual};
use crate::numbers::Overflow;
use tellmark_language::model::{Asks, KindId, Model, SignId, Tense, Ticks, Towards, Verb};

impl States {
    /// Marks on measures and counts that rules read without a name.
    pub(super) fn add_marks(
        &mut self,
        model: &Model,
        kind: KindId,
        uses: &Uses,
    ) -> Result<(), Overflow> {
        let mut marks: Vec<(SignId, Ticks)> = uses
            .marks
            .iter()
            .copied()
            .filter(|(sign, at)| {
                model.signs[sign.index()].kind == kind && !self.marks.contains_key(&(*sign, *at))
            })
            .collect();
        marks.sort_unstable();
        for (sign, at) in marks {
            if self.marks.contains_key(&(sign, at)) {
                continue;
            }
            let record = &model.signs[sign.index()];
            let (phrase, verb, trial) = match &record.asks {
                Asks::HowMany(part) => {
                    let fewer = at <= usual(model, kind, *part);
                    let plural = &model.kinds[part.index()].plural;
                    if fewer {
                        let phrase = if at == 1 {
                            format!("no {}", model.kinds[part.index()].name)
                        } else {
                            format!("fewer than {at} {plural}")
                        };
                        (phrase, None, Trial::Within(Ticks::MIN, at - 1))
                    } else {
                        let phrase = format!("at least {at} {plural}");
                        (phrase, None, Trial::Within(at, Ticks::MAX))
                    }
                }
                Asks::HowMuch {
                    phrase, word, unit, ..
                } => {
                    let quantity = tellmark_language::words::quantity_short(at, *unit);
                    let word = match record.asks.tense() {
                        Tense::Ago => " ago".to_owned(),
                        Tense::Is if word != "much" && word != "far" => format!(" {word}"),
                        Tense::Is | Tense::Lasting => String::new(),
                    };
                    let of = match record.asks.tense() {
                        Tense::Lasting => " for",
                        Tense::Is | Tense::Ago => "",
                    };
                    let (compared, trial) = match uses.towards(model, sign) {
                        Towards::More => ("at least", Trial::Within(at, Ticks::MAX)),
                        Towards::Less => ("less than", Trial::Within(Ticks::MIN, at - 1)),
                    };
                    let phrase = format!("{phrase}{of} {compared} {quantity}{word}");
                    (phrase, Some(Verb::Is), trial)
                }
                // The degrees of a judgement all have names.
                Asks::Whether(_) | Asks::Which { .. } | Asks::Degrees { .. } => continue,
            };
            let row = self.push(StateRow {
                kind,
                phrase,
                verb,
                nature: Nature::Mark,
                ask: self.signs.get(&sign).copied().unwrap_or_default(),
                whether: None,
                trial,
                alone: 0.0,
                own: 0.0,
                share: 0,
                in_use: true,
                meant: Vec::new(),
                missed: None,
                declared: None,
            })?;
            self.marks.insert((sign, at), row);
        }
        Ok(())
    }
}
