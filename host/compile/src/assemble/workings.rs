//! Measures that are worked out from others.

use std::collections::HashSet;

use tellmark_core::pack::{NONE, WorkedOut as Row, Working as How};

use super::Writer;
use crate::numbers::{Overflow, numbers};
use tellmark_language::model::{Operand, SignId, Working};

impl Writer<'_> {
    /// Each after what it is worked out from.
    pub(super) fn workings(&self) -> Result<Vec<Row>, Overflow> {
        let signs = numbers().map(SignId).zip(&self.rules.model.signs);
        let read = self.rules.model.places_read();
        let mut rows = Vec::new();
        let mut done = HashSet::new();
        for (sign, record) in signs {
            let is_idle = record.place().is_some() && !read.contains(&sign);
            if record.worked.is_some() && !is_idle {
                self.working(sign, &mut done, &mut rows);
            }
        }
        Ok(rows)
    }

    fn working(&self, sign: SignId, done: &mut HashSet<SignId>, rows: &mut Vec<Row>) {
        let Some(worked) = &self.rules.model.signs[sign.index()].worked else {
            return;
        };
        if !done.insert(sign) {
            return;
        }
        for of in &worked.of {
            self.working(of.sign, done, rows);
        }
        let ask = |sign| self.rules.states.ask(sign);
        let kind = |of: &Operand| of.part.map_or(NONE, |part| part.kind.0);
        let which = |of: &Operand| {
            let named = of.part.and_then(|part| part.named);
            named.map_or(0, |named| named.saturating_add(1))
        };
        let (first, second) = (worked.of.first(), worked.of.get(1));
        rows.push(Row {
            ask: ask(sign),
            working: match worked.working {
                Working::Difference => How::Difference,
                Working::Sum => How::Sum,
                Working::Share => How::Share,
                Working::Most => How::Most,
                Working::Least => How::Least,
                Working::Number => How::Number,
                Working::FromLast => How::FromLast,
            },
            first_which: first.map_or(0, which),
            second_which: second.map_or(0, which),
            first: first.map_or(ask(sign), |of| ask(of.sign)),
            first_kind: first.map_or(NONE, kind),
            second: second.map_or(NONE, |of| ask(of.sign)),
            second_kind: second.map_or(NONE, kind),
        });
    }
}
