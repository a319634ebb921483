//! Values of choices that rules read.

use tellmark_core::pack::{Nature, Trial};

use super::uses::Uses;
use super::{Meaning, StateRow, States};
use crate::numbers::Overflow;
use tellmark_language::model::{Asks, KindId, Model, SignId};

impl States {
    /// Values of choices that rules read. Every value is as likely as the next,
    /// and they exclude each other.
    pub(super) fn add_values(
        &mut self,
        model: &Model,
        kind: KindId,
        uses: &Uses,
    ) -> Result<(), Overflow> {
        let mut values: Vec<(SignId, u8)> = uses
            .values
            .iter()
            .copied()
            .filter(|(sign, _)| model.signs[sign.index()].kind == kind)
            .collect();
        values.sort_unstable();
        let mut earlier: Vec<usize> = Vec::new();
        let mut of_sign = None;
        for (sign, value) in values {
            let Asks::Which {
                attribute,
                values: words,
            } = &model.signs[sign.index()].asks
            else {
                continue;
            };
            if of_sign != Some(sign) {
                earlier.clear();
                of_sign = Some(sign);
            }
            let left = words.len().saturating_sub(earlier.len()).max(1);
            #[allow(clippy::cast_precision_loss)]
            let chance = 1.0 / left as f64;
            let word = words.get(usize::from(value)).map_or("", String::as_str);
            let row = self.push(StateRow {
                kind,
                phrase: format!("{word} {attribute}"),
                verb: None,
                nature: Nature::Mark,
                ask: self.signs.get(&sign).copied().unwrap_or_default(),
                whether: None,
                trial: Trial::Value(value),
                alone: 0.0,
                own: 0.0,
                share: 0,
                in_use: true,
                meanings: vec![Meaning {
                    when: earlier.iter().map(|&row| (row, false)).collect(),
                    weight: chance,
                }],
                missed: None,
                declared: None,
            })?;
            self.values.insert((sign, value), row);
            earlier.push(row);
        }
        Ok(())
    }
}
