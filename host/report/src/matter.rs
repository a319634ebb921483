//! What a report is made from.

use super::quoted::Quoted;
use jiff::civil::DateTime;
use tellmark_compile::set_up::SetUp;
use tellmark_core::pack::Pack;
use tellmark_job::advice::Progress;
use tellmark_job::record::{Finding, Job};
use tellmark_language::model::{Model, Region};
use tellmark_language::words::list;

/// A job with the rules it is judged by.
#[derive(Clone, Copy)]
pub struct Matter<'m> {
    /// The job.
    pub job: &'m Job,
    /// The piece, the rules, and what was found.
    pub set_up: SetUp<'m>,
    /// The rules, compiled.
    pub pack: Pack<'m>,
    /// The findings that stand, oldest first: one for each fact of the set-up.
    pub findings: &'m [Finding],
    /// The findings that a later line put right.
    pub put_right: &'m [Finding],
    /// What the owner wishes and decided, and what was done.
    pub progress: &'m Progress,
    /// Hours and prices, if they were worked out.
    pub quoted: Option<Quoted<'m>>,
    /// Findings that nothing goes by: their lines, and why.
    pub left_out: &'m [(usize, String)],
    /// Where the piece is taken to have been made.
    pub made_in: Option<Region>,
    /// When the report is made.
    pub now: DateTime,
}

impl<'m> Matter<'m> {
    /// The rules.
    pub(super) fn model(&self) -> &'m Model {
        self.set_up.model
    }

    /// The year in which the report is made.
    pub(super) fn year(&self) -> u16 {
        u16::try_from(self.now.year()).unwrap_or(u16::MAX)
    }

    /// What parts are called together; empty for the whole piece.
    pub(super) fn on(&self, parts: &[String]) -> String {
        let kind = self.model().kinds.get(self.set_up.order.kind.index());
        let whole = kind.map_or_else(String::new, |kind| format!("the {}", kind.name));
        if parts == [whole] {
            String::new()
        } else {
            list(parts)
        }
    }

    /// "left runner of drawer 2 is worn 3 mm (line 11)".
    pub(super) fn line(&self, fact: usize) -> String {
        let number = self.findings.get(fact).map_or(0, |f| f.number);
        format!("{} (line {number})", self.text(number))
    }

    /// A line of the record as it was written.
    pub(super) fn text(&self, number: usize) -> &'m str {
        let line = self.job.lines().iter().find(|line| line.number == number);
        line.map_or("", |line| line.text.as_str())
    }
}
