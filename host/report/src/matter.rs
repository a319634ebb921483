//! What a report is made from.

use super::kind::Kind;
use super::quoted::Quoted;
use jiff::civil::Date;
use tellmark_compile::set_up::Origin;
use tellmark_job::advice::{Now, Progress, Wait, WorkPlan, said_when, setting, waits};
use tellmark_job::house::Workshop;
use tellmark_job::limits::{Money, Work};
use tellmark_job::open_job::JobView;
use tellmark_job::papers::Groups;
use tellmark_job::record::{Job, Shelf};
use tellmark_language::model::{Model, Region};
use tellmark_language::words::list;

/// An open job, and what is to be said of it besides.
#[derive(Clone, Copy)]
pub struct Matter<'m> {
    /// The job, as the piece stands now.
    pub view: &'m JobView<'m>,
    /// The same as the piece was found; the two differ once something was mended.
    pub found: &'m JobView<'m>,
    /// What the owner wishes and decided, and what was done.
    pub progress: &'m Progress,
    /// Hours and prices, if they were worked out.
    pub quoted: Option<Quoted<'m>>,
    /// Where the piece is taken to have been made.
    pub made_in: Option<Region>,
    /// The kind that is asked for; `None`: what the moment calls for.
    pub kind: Option<Kind>,
    /// Whose paper it is.
    pub workshop: &'m Workshop,
    /// When the report is made.
    pub now: Now,
}

impl<'m> Matter<'m> {
    /// The job's folder.
    pub(super) fn job(&self) -> &'m Job {
        &self.view.open.job
    }

    /// What the work comes to in money, if the house has prices.
    pub(super) fn money(&self) -> Option<Money<'m>> {
        let quoted = self.quoted?;
        let priced = quoted.priced?;
        Some(Money {
            currency: &priced.currency,
            done: quoted.done,
            fixed: priced.fixed_total,
            planned: Groups::of(priced, &quoted.quote.items)
                .planned_total
                .unwrap_or(priced.fixed_total),
            at_most: priced.at_most,
            taxes: quoted.taxes,
        })
    }

    /// What is to be done, to stand beside the owner's limits.
    pub(super) fn work<'w>(&self, plan: &'w WorkPlan, waits: &'w [Wait]) -> Work<'w>
    where
        'm: 'w,
    {
        Work {
            plan,
            quote: self.quoted.map(|quoted| quoted.quote),
            price: self.money(),
            waits,
        }
    }

    /// The rules.
    pub(super) fn model(&self) -> &'m Model {
        self.view.open.model()
    }

    /// The year in which the report is made.
    pub(super) fn year(&self) -> u16 {
        u16::try_from(self.now.wall.year()).unwrap_or(u16::MAX)
    }

    /// The day on which the report is made.
    pub(super) fn today(&self) -> Date {
        self.now.wall.date()
    }

    /// What the piece waits for. What sets does so wherever it is.
    pub(super) fn waits(&self) -> Vec<Wait> {
        let entries = self.job().entries();
        match said_when(entries) {
            Some((Shelf::HandedBack, _)) => setting(self.model(), self.progress, self.now),
            _ => waits(self.model(), entries, self.progress, self.now),
        }
    }

    /// What parts are called together; empty for the whole piece.
    pub(super) fn on(&self, parts: &[String]) -> String {
        let whole = self.view.open.piece_name();
        if parts == [whole] {
            String::new()
        } else {
            list(parts)
        }
    }

    /// "left runner of drawer 2 is worn 3 mm (line 11)".
    pub(super) fn written(&self, from: Origin) -> String {
        let written = self.view.written(from);
        format!("{} ({})", written.text, written.place())
    }

    /// The same of what was found of the piece as it came in.
    pub(super) fn written_of_found(&self, from: Origin) -> String {
        let written = self.found.written(from);
        format!("{} ({})", written.text, written.place())
    }

    /// Whether something was mended.
    pub(super) fn is_mended(&self) -> bool {
        self.view.later().is_some()
    }

    /// A line of the record as it was written.
    pub(super) fn text(&self, number: usize) -> &'m str {
        self.view.open.line_text(number)
    }
}
