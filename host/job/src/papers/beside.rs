//! An estimate beside what was taken: job by job, and in all.

use super::agreed::Agreed;
use super::bill::rounded;
use super::estimate::{Estimate, EstimateJob, HoursRange, PriceLine};
use super::ticks::{Tick, Ticks};
use super::work_done::{DoneWork, by_line};
use crate::record::{Job, PaperName, PaperTrouble};
use crate::scripts::{Priced, as_text};
use rust_decimal::Decimal;
use serde::Serialize;
use std::collections::BTreeMap;
use tellmark_language::model::Minutes;

/// What became of a job of a paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Became {
    /// It was done.
    Done,
    /// It is still to be done.
    NotDone,
    /// It was not ticked, and nothing calls for it now.
    NotCalledFor,
    /// It was done, and stands in no paper.
    InNoPaper,
}

/// A job, for all parts that became the same.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Row {
    /// The job.
    pub job: String,
    /// The parts.
    pub parts: Vec<String>,
    /// What became of it.
    pub became: Became,
    /// What the paper expected, in minutes: quickest, usual, slowest; `None` if it does not say.
    pub expected: Option<[Minutes; 3]>,
    /// What was taken; `None` if nobody said.
    pub taken: Option<Minutes>,
    /// The price in the paper; of what may only come, the most.
    #[serde(with = "as_text::maybe")]
    pub price: Option<Decimal>,
    /// That price is only the most.
    pub up_to: bool,
    /// What the house's price list asks for the time that was taken.
    #[serde(with = "as_text::maybe")]
    pub by_hours: Option<Decimal>,
}

/// An estimate, with what was added to it, beside what was taken.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Beside {
    /// The papers.
    pub papers: Vec<PaperName>,
    /// Whether the owner said yes to them.
    pub agreed: bool,
    /// The house's currency.
    pub currency: String,
    /// Job by job, in the order of the paper.
    pub rows: Vec<Row>,
    /// The hours that the estimate gave, over everything that may be hidden.
    pub hours: Option<HoursRange>,
    /// Everything that was taken since the estimate, in minutes.
    pub taken: Minutes,
    /// Ticks since then of which nobody said what they took.
    pub untimed: usize,
    /// Nothing that was found is left to do.
    pub is_over: bool,
    /// Sum of what is fixed in the papers.
    #[serde(with = "as_text")]
    pub fixed: Decimal,
    /// The most that the papers come to.
    #[serde(with = "as_text")]
    pub at_most: Decimal,
}

/// What papers are put beside the work, and what is left out of them.
#[derive(Clone, Debug, Default)]
pub struct Against {
    papers: Vec<(Estimate, Vec<usize>)>,
    agreed: bool,
    fixed: Decimal,
    at_most: Decimal,
}

impl Against {
    /// The papers that the owner said yes to and that count; else the last estimate that was
    /// kept. `None` if there is no paper.
    ///
    /// # Errors
    /// If a paper cannot be gone by.
    pub fn of(job: &Job) -> Result<Option<Against>, PaperTrouble> {
        let agreed = Agreed::of(job)?;
        let standing = agreed.standing();
        if !standing.is_empty() {
            return Ok(Some(Against {
                fixed: agreed.fixed(),
                at_most: agreed.at_most(),
                agreed: true,
                papers: standing
                    .into_iter()
                    .map(|answered| (answered.paper.clone(), answered.except.clone()))
                    .collect(),
            }));
        }
        let papers = job.papers();
        let last = papers
            .iter()
            .map(|known| known.paper.name)
            .rfind(|name| name.kind == crate::record::PaperKind::Estimate);
        let Some(name) = last else {
            return Ok(None);
        };
        let paper = Estimate::read(job, name)?;
        Ok(Some(Against {
            fixed: paper.fixed_total,
            at_most: paper.at_most,
            agreed: false,
            papers: vec![(paper, Vec::new())],
        }))
    }

    /// The last line of the record that the first of them rests on: what is noted after it is
    /// put beside them.
    #[must_use]
    pub fn since(&self) -> usize {
        self.papers
            .first()
            .map_or(0, |(paper, _)| paper.rests_on.line)
    }

    /// The ticks that are put beside them.
    #[must_use]
    pub fn ticks<'t>(&self, ticks: &'t Ticks) -> Vec<&'t Tick> {
        let ticks = ticks.ticks.iter();
        ticks.filter(|tick| tick.line > self.since()).collect()
    }

    /// What is done already, by what the price list asks for each tick (by its line).
    pub(super) fn done(&self, ticks: &Ticks, by_hours: &BTreeMap<usize, Decimal>) -> DoneWork {
        if !self.agreed {
            return DoneWork::by_hours(ticks.ticks.iter(), by_hours);
        }
        let beside = self.by_line(ticks, by_hours, false);
        let agreed = self.agreed_of_done(ticks, by_hours);
        let is_in_none = |tick: &&Tick| {
            tick.line <= self.since() || {
                let mut rows = beside.that(Became::InNoPaper);
                rows.any(|row| row.job == tick.job)
            }
        };
        DoneWork {
            agreed,
            ..DoneWork::by_hours(ticks.ticks.iter().filter(is_in_none), by_hours)
        }
    }

    /// What the papers name of what is done, as an invoice charges it: fixed prices as they are, and
    /// of what may come only no more than its share of the time is worth.
    fn agreed_of_done(&self, ticks: &Ticks, by_hours: &BTreeMap<usize, Decimal>) -> Decimal {
        let jobs = self.jobs();
        let listed: Vec<&EstimateJob> = jobs.iter().map(|(job, _)| *job).collect();
        let covering = |job| ticks.covering(job, &listed, self.since());
        let covered = ticks.covered(listed.iter().copied(), &listed, self.since());
        let mut sum = Decimal::ZERO;
        // Of each job, the most that was agreed, and what the time is worth, where that is known.
        let mut up_to: BTreeMap<&str, (Decimal, Option<Decimal>)> = BTreeMap::new();
        for (job, price) in &jobs {
            let Some(price) = price.filter(|_| covering(job).next().is_some()) else {
                continue;
            };
            if !price.provisional {
                sum += price.amount;
                continue;
            }
            let worth = covering(job).map(|tick| {
                let all = covered.get(&tick.line).copied().unwrap_or_default();
                Some(*by_hours.get(&tick.line)? * tick.share(1, all))
            });
            let worth: Option<Decimal> = worth.sum();
            let known = up_to
                .entry(&job.job)
                .or_insert((Decimal::ZERO, Some(Decimal::ZERO)));
            known.0 += price.amount;
            known.1 = known.1.zip(worth).map(|(one, other)| one + other);
        }
        let up_to = up_to.into_values();
        sum + up_to
            .map(|(most, worth)| worth.map_or(most, |worth| rounded(worth, most.scale()).min(most)))
            .sum::<Decimal>()
    }

    /// Each job for each part once, the latest paper's.
    fn jobs(&self) -> Vec<(&EstimateJob, Option<&PriceLine>)> {
        let mut all: Vec<(&EstimateJob, Option<&PriceLine>)> = Vec::new();
        for (paper, except) in &self.papers {
            for job in paper
                .jobs
                .iter()
                .filter(|job| !except.contains(&job.number))
            {
                let mut prices = paper.prices.iter();
                let price = prices.find(|price| price.job == Some(job.number));
                let is_same = |known: &&mut (&EstimateJob, Option<&PriceLine>)| {
                    known.0.job == job.job && known.0.part == job.part
                };
                match all.iter_mut().find(is_same) {
                    Some(known) => *known = (job, price.or(known.1)),
                    None => all.push((job, price)),
                }
            }
        }
        all
    }

    /// Puts them beside the work. `priced` is what the price list asks for the time of each of
    /// [`Against::ticks`].
    #[must_use]
    pub fn beside(&self, ticks: &Ticks, priced: Option<&Priced>, is_over: bool) -> Beside {
        let since = self.ticks(ticks);
        let by_hours = priced.map_or_else(BTreeMap::new, |priced| by_line(&since, priced));
        self.by_line(ticks, &by_hours, is_over)
    }

    fn by_line(&self, ticks: &Ticks, by_hours: &BTreeMap<usize, Decimal>, is_over: bool) -> Beside {
        let since = self.ticks(ticks);
        let mut rows: Vec<Row> = Vec::new();
        let mut used: Vec<usize> = Vec::new();
        let jobs = self.jobs();
        let listed: Vec<&EstimateJob> = jobs.iter().map(|(job, _)| *job).collect();
        for (job, price) in jobs {
            let mut covering = ticks.covering(job, &listed, self.since());
            let is_done = covering.next().is_some();
            let is_counted_on = job.certain || price.is_some();
            let became = match (is_done, is_over) {
                (true, _) => Became::Done,
                (false, _) if !is_counted_on => continue,
                (false, true) => Became::NotCalledFor,
                (false, false) => Became::NotDone,
            };
            let mut known = rows.iter_mut();
            match known.find(|row| row.job == job.job && row.became == became) {
                Some(row) => row.add(job, price),
                None => rows.push(Row::of(job, price, became)),
            }
        }
        for row in rows.iter_mut().filter(|row| row.became == Became::Done) {
            let own: Vec<&&Tick> = since.iter().filter(|tick| tick.job == row.job).collect();
            used.extend(own.iter().map(|tick| tick.line));
            row.take(&own, by_hours);
        }
        let others = since.iter().filter(|tick| !used.contains(&tick.line));
        for tick in others {
            let known = rows
                .iter_mut()
                .find(|row| row.became == Became::InNoPaper && row.job == tick.job);
            let at = match known {
                Some(row) => row,
                None => {
                    rows.push(Row::in_no_paper(tick));
                    let Some(row) = rows.last_mut() else { continue };
                    row
                }
            };
            at.parts.extend(tick.parts.iter().cloned());
            at.taken = sum_of(at.taken, tick.minutes);
            at.by_hours = sum_of(at.by_hours, by_hours.get(&tick.line).copied());
        }
        Beside {
            papers: self.papers.iter().map(|(paper, _)| paper.name).collect(),
            agreed: self.agreed,
            currency: self
                .papers
                .first()
                .map_or(String::new(), |(p, _)| p.currency.clone()),
            hours: self
                .papers
                .first()
                .and_then(|(paper, _)| paper.hours.clone()),
            taken: since.iter().filter_map(|tick| tick.minutes).sum(),
            untimed: since.iter().filter(|tick| tick.minutes.is_none()).count(),
            rows,
            is_over,
            fixed: self.fixed,
            at_most: self.at_most,
        }
    }
}

fn sum_of<T: std::ops::Add<Output = T>>(one: Option<T>, other: Option<T>) -> Option<T> {
    match (one, other) {
        (Some(one), Some(other)) => Some(one + other),
        (one, other) => one.or(other),
    }
}

impl Row {
    fn of(job: &EstimateJob, price: Option<&PriceLine>, became: Became) -> Row {
        Row {
            job: job.job.clone(),
            parts: vec![job.part.clone()],
            became,
            expected: job.minutes,
            taken: None,
            price: price.map(|price| price.amount),
            up_to: price.is_some_and(|price| price.provisional),
            by_hours: None,
        }
    }

    fn in_no_paper(tick: &Tick) -> Row {
        Row {
            job: tick.job.clone(),
            parts: Vec::new(),
            became: Became::InNoPaper,
            expected: None,
            taken: None,
            price: None,
            up_to: false,
            by_hours: None,
        }
    }

    /// One more part of the same.
    fn add(&mut self, job: &EstimateJob, price: Option<&PriceLine>) {
        self.parts.push(job.part.clone());
        self.expected = match (self.expected, job.minutes) {
            (Some(one), Some(other)) => Some([0, 1, 2].map(|at| one[at] + other[at])),
            _ => None,
        };
        self.price = sum_of(self.price, price.map(|price| price.amount));
        self.up_to |= price.is_some_and(|price| price.provisional);
    }

    fn take(&mut self, ticks: &[&&Tick], by_hours: &BTreeMap<usize, Decimal>) {
        for tick in ticks {
            self.taken = sum_of(self.taken, tick.minutes);
            self.by_hours = sum_of(self.by_hours, by_hours.get(&tick.line).copied());
        }
    }
}

impl Beside {
    /// The rows that became so.
    pub fn that(&self, became: Became) -> impl Iterator<Item = &Row> {
        self.rows.iter().filter(move |row| row.became == became)
    }

    /// What was expected of the jobs that were done and have a time, and what they took.
    #[must_use]
    pub fn compared(&self) -> Option<([Minutes; 3], Minutes)> {
        let both = self.that(Became::Done);
        let mut both = both
            .filter_map(|row| Some((row.expected?, row.taken?)))
            .peekable();
        both.peek()?;
        Some(both.fold(([0; 3], 0), |(sum, taken), (expected, took)| {
            ([0, 1, 2].map(|at| sum[at] + expected[at]), taken + took)
        }))
    }

    /// Sum of the prices in the papers of what was done of them, and of what the price list asks for
    /// the time that took.
    #[must_use]
    pub fn money(&self) -> (Decimal, Decimal) {
        let done = || self.that(Became::Done);
        let price = done().filter_map(|row| row.price).sum();
        let by_hours = done().filter_map(|row| row.by_hours).sum();
        (price, by_hours)
    }

    /// The share of such pieces that take less than was taken here, by what the estimate
    /// gave; `None` if it gave no hours or nothing has a time.
    #[must_use]
    pub fn share_below(&self) -> Option<f64> {
        let hours = self.hours.as_ref().filter(|_| self.taken > 0)?;
        Some(share_below(&hours.twentieths, f64::from(self.taken) / 60.0))
    }
}

/// The share of a distribution that lies below a value, by the values at each twentieth;
/// never less than one in a hundred nor more than ninety-nine, which the twentieths cannot
/// tell.
fn share_below(twentieths: &[f64], value: f64) -> f64 {
    let mut before = (0.0, 0.01);
    for (n, &at) in (1..).zip(twentieths) {
        let share = f64::from(n) / 20.0;
        if value < at {
            let wide = at - before.0;
            let part = if wide > 0.0 {
                (value - before.0) / wide
            } else {
                1.0
            };
            return (before.1 + part * (share - before.1)).max(0.01);
        }
        before = (at, share);
    }
    0.99_f64.min(0.95 + 0.04 * (value - before.0) / before.0.max(1.0))
}

#[cfg(test)]
mod tests {
    use super::share_below;

    #[test]
    fn the_place_of_some_hours_in_a_range() {
        let twentieths: Vec<f64> = (1..20).map(f64::from).collect();
        for (hours, share) in [
            (0.0, 0.01),
            (1.0, 0.05),
            (10.0, 0.5),
            (10.5, 0.525),
            (19.0, 0.95),
        ] {
            assert!(
                (share_below(&twentieths, hours) - share).abs() < 1e-9,
                "{hours}"
            );
        }
        assert!(share_below(&twentieths, 40.0) > 0.95);
        assert!(share_below(&twentieths, 4000.0) <= 0.99);
        // What takes the same in several twentieths.
        assert!((share_below(&[2.0, 2.0, 3.0], 2.0) - 0.1).abs() < 1e-9);
    }
}
