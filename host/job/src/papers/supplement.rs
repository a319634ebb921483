//! A supplement: only what is new against what was agreed.

use super::agreed::Agreed;
use super::estimate::{Estimate, PriceLine};
use super::ticks::Ticks;
use crate::record::PaperKind;
use rust_decimal::Decimal;

/// What of an estimate, worked out anew, is in nothing that was agreed; `None` if there is
/// nothing new.
///
/// A job for a part is new if no paper that counts has a price for it, or only one up to a lower
/// amount; and if it was done since, and is called for again. A fixed price stands. A line of the whole is new if no such paper has
/// one with these words.
#[must_use]
pub fn supplement(whole: &Estimate, agreed: &Agreed, ticks: &Ticks) -> Option<Estimate> {
    let standing = agreed.standing();
    let is_new = |line: &&PriceLine| {
        let job = line.job.and_then(|number| whole.job(number));
        let Some(job) = job else {
            let mut known = standing.iter().flat_map(|a| &a.paper.prices);
            return known.all(|k| k.job.is_some() || k.text != line.text);
        };
        match agreed.line(&job.job, &job.part) {
            Some((answered, _, Some(known))) => {
                let since = answered.paper.rests_on.line;
                let listed: Vec<_> = answered.paper.jobs.iter().collect();
                let is_done = ticks.covering(job, &listed, since).next().is_some();
                is_done || (known.provisional && line.amount > known.amount)
            }
            _ => true,
        }
    };
    let lines: Vec<&PriceLine> = whole.prices.iter().filter(is_new).collect();
    if lines.is_empty() {
        return None;
    }
    let is_priced = |number: usize| lines.iter().any(|line| line.job == Some(number));
    let jobs: Vec<_> = whole
        .jobs
        .iter()
        .filter(|job| is_priced(job.number))
        .collect();
    let renumbered = |number: usize| jobs.iter().position(|job| job.number == number);
    let prices: Vec<PriceLine> = lines
        .iter()
        .map(|line| PriceLine {
            job: line.job.and_then(renumbered).map(|at| at + 1),
            ..(*line).clone()
        })
        .collect();
    let fixed_total: Decimal = prices
        .iter()
        .filter(|p| !p.provisional)
        .map(|p| p.amount)
        .sum();
    let planned = prices.iter().filter(|p| p.planned).map(|p| p.amount);
    let planned: Option<Decimal> = planned.reduce(|a, b| a + b).map(|sum| fixed_total + sum);
    let mut decide: Vec<String> = Vec::new();
    for job in jobs.iter().filter(|job| job.ask_owner) {
        if !decide.contains(&job.job) {
            decide.push(job.job.clone());
        }
    }
    let mut name = whole.name;
    name.kind = PaperKind::Supplement;
    Some(Estimate {
        name,
        adds_to: standing
            .iter()
            .map(|answered| answered.paper.name)
            .collect(),
        fixed_total,
        planned_total: planned,
        at_most: prices.iter().map(|price| price.amount).sum(),
        prices,
        decide,
        jobs: (1..)
            .zip(&jobs)
            .map(|(number, job)| super::estimate::EstimateJob {
                number,
                ..(*job).clone()
            })
            .collect(),
        unlisted: 0,
        hours: None,
        left_alone: Vec::new(),
        not_done: Vec::new(),
        uncounted: Vec::new(),
        ..whole.clone()
    })
}

/// Lets a supplement promise no more than `left`, which the owner's limit leaves for everything
/// that is still to be done; `done` is what the papers name of what is done. What is fixed is
/// promised, whatever the limit. Gives back by how much all of it together still goes past the
/// limit.
#[must_use]
pub fn keep_within(
    supplement: &mut Estimate,
    agreed: &Agreed,
    done: Decimal,
    left: Decimal,
) -> Decimal {
    let over = |supplement: &Estimate| {
        let whole = agreed.with(supplement).at_most() - done;
        (whole - left).max(Decimal::ZERO)
    };
    let most = supplement.at_most - over(supplement);
    supplement.at_most = most.max(supplement.fixed_total).min(supplement.at_most);
    over(supplement)
}
