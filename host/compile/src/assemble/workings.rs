//! Measures that are worked out from others.

use std::collections::HashSet;

use tellmark_core::logarithm::log2;
use tellmark_core::pack::{
    AxisHead, NONE, Scale, Sort, TableHead, WorkedOut as Row, Working as How,
};

use super::Writer;
use crate::numbers::{Overflow, numbers};
use tellmark_language::model::{Along, Handbook, Operand, SignId, WorkedOut, Working};

impl Writer<'_> {
    /// Each after what it is worked out from.
    pub(super) fn workings(&self) -> Result<(Vec<Row>, Vec<u32>), Overflow> {
        let signs = numbers().map(SignId).zip(&self.rules.model.signs);
        let read = self.rules.model.places_read();
        let mut rows = Rows::default();
        let mut done = HashSet::new();
        for (sign, record) in signs {
            let is_idle = record.place().is_some() && !read.contains(&sign);
            if record.worked.is_some() && !is_idle {
                self.working(sign, &mut done, &mut rows)?;
            }
        }
        Ok((rows.rows, rows.tables))
    }

    fn working(
        &self,
        sign: SignId,
        done: &mut HashSet<SignId>,
        rows: &mut Rows,
    ) -> Result<(), Overflow> {
        let Some(worked) = &self.rules.model.signs[sign.index()].worked else {
            return Ok(());
        };
        if !done.insert(sign) {
            return Ok(());
        }
        for of in &worked.of {
            self.working(of.sign, done, rows)?;
        }
        let ask = |sign| self.rules.states.ask(sign);
        let kind = |of: &Operand| of.part.map_or(NONE, |part| part.kind.0);
        let which = |of: &Operand| {
            let named = of.part.and_then(|part| part.named);
            named.map_or(0, |named| named.saturating_add(1))
        };
        let (mut first, mut second) = (worked.of.first(), worked.of.get(1));
        let mut table = 0;
        if let Some(handbook) = &worked.handbook {
            // A table says for itself what it reads.
            (first, second) = (None, None);
            table = u16::try_from(rows.tables.len()).map_err(|_| Overflow)?;
            rows.tables.extend(self.sum_table(worked, handbook)?);
        }
        rows.rows.push(Row {
            ask: ask(sign),
            working: match worked.working {
                Working::Difference => How::Difference,
                Working::Sum => How::Sum,
                Working::Share => How::Share,
                Working::Most => How::Most,
                Working::Least => How::Least,
                Working::Number => How::Number,
                Working::FromLast => How::FromLast,
                Working::Handbook => How::Table,
            },
            first_which: first.map_or(0, which),
            second_which: second.map_or(0, which),
            first: first.map_or(ask(sign), |of| ask(of.sign)),
            first_kind: first.map_or(NONE, kind),
            second: second.map_or(NONE, |of| ask(of.sign)),
            second_kind: second.map_or(NONE, kind),
            table,
        });
        Ok(())
    }
}

/// What has been gathered: a row for each measure, and the words of all tables.
#[derive(Default)]
struct Rows {
    rows: Vec<Row>,
    tables: Vec<u32>,
}

impl Writer<'_> {
    /// The words of a sum's table.
    fn sum_table(&self, worked: &WorkedOut, handbook: &Handbook) -> Result<Vec<u32>, Overflow> {
        let table = &handbook.table;
        let scaled = |ticks: i32| match table.is_power {
            true => log2(ticks),
            false => ticks,
        };
        let mut words = Vec::new();
        for (of, along) in worked.of.iter().zip(&table.axes) {
            let named = of.part.and_then(|part| part.named);
            let kind = of.owner.or(of.part.map(|part| part.kind));
            let (sort, readings) = match along {
                Along::Readings(readings) => (Sort::Readings, &readings[..]),
                Along::Values(_) => (Sort::Values, &[][..]),
            };
            let head = AxisHead {
                ask: self.rules.states.ask(of.sign),
                kind: kind.map_or(NONE, |kind| kind.0),
                which: named.map_or(0, |named| named.saturating_add(1)),
                of_owner: of.owner.is_some(),
                count: u8::try_from(along.count()).map_err(|_| Overflow)?,
                sort,
            };
            words.extend(head.words());
            words.extend(
                readings
                    .iter()
                    .map(|&reading| scaled(reading).cast_unsigned()),
            );
        }
        let value = |value: &Option<i32>| value.map_or(i32::MIN, scaled).cast_unsigned();
        words.extend(table.values.iter().map(value));
        let head = TableHead {
            length: u16::try_from(words.len() + 2).map_err(|_| Overflow)?,
            axes: u8::try_from(table.axes.len()).map_err(|_| Overflow)?,
            spread_is_said: handbook.spread_is_said,
            scale: match table.is_power {
                true => Scale::Logarithms,
                false => Scale::Ticks,
            },
        };
        Ok(head.words().into_iter().chain(words).collect())
    }
}
