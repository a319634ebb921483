//! Values of choices that rules read.

use tellmark_core::pack::{Nature, Trial};

use super::uses::Uses;
use super::{Meant, StateRow, States};
use crate::numbers::Overflow;
use tellmark_language::model::{Asks, KindId, Model, SignId, Thousandths};

impl States {
    /// Values of choices that rules read. They exclude each other, and every value is as
    /// likely as the next, but for one that the house says is usual.
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
        // How often it is one of those.
        let mut taken = 0.0;
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
                taken = 0.0;
                of_sign = Some(sign);
            }
            let of_all = share(value, words.len(), model.signs[sign.index()].usually);
            let chance = (of_all / (1.0 - taken)).min(1.0);
            taken += of_all;
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
                meant: vec![Meant {
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

/// How often a choice has a value before anything is found.
#[allow(clippy::cast_precision_loss)]
fn share(value: u8, values: usize, usually: Option<(u8, Thousandths)>) -> f64 {
    match usually {
        None => 1.0 / values.max(1) as f64,
        Some((usual, often)) => {
            let usual_share = f64::from(often.0) / 1000.0;
            if value == usual {
                usual_share
            } else {
                (1.0 - usual_share) / values.saturating_sub(1).max(1) as f64
            }
        }
    }
}
