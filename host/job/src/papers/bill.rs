//! What an invoice is made from: what was done, agreed and paid.

use super::account::{NoAmount, invoiced, paid};
use super::agreed::{Agreed, Answered};
use super::estimate::{EstimateJob, PriceLine, folder_name, last_line, to_the_minute};
use super::invoice::{Invoice, InvoiceLine, TaxLine};
use super::parties::Parties;
use super::ticks::{Tick, Ticks};
use super::work_done::by_line;
use crate::record::{Job, PaperName, PaperTrouble};
use crate::scripts::{Charge, InvoiceTerms, Priced};
use jiff::ToSpan as _;
use jiff::civil::DateTime;
use rust_decimal::prelude::ToPrimitive as _;
use rust_decimal::{Decimal, RoundingStrategy};
use std::collections::BTreeMap;
use std::fmt;
use tellmark_language::model::Minutes;
use tellmark_language::words::{self, list, money};

/// What an invoice would say, with what whoever writes it should know.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bill {
    /// The invoice, without a number.
    pub invoice: Invoice,
    /// What was done or agreed and is not charged, with why, in sentences.
    pub not_charged: Vec<String>,
    /// The most that was agreed, before tax, if anything was.
    pub agreed: Option<Decimal>,
    /// How much more than was agreed this job's invoices come to, before tax; nought if not.
    pub over: Decimal,
    /// What earlier invoices come to that were not taken back and not yet paid.
    pub open: Decimal,
}

/// Why there is no invoice.
#[derive(Debug)]
pub enum NoBill {
    /// A paper cannot be gone by.
    Paper(PaperTrouble),
    /// It goes by what was agreed, and nothing was.
    NothingAgreed,
    /// Nothing that is done is to be charged; with what is not, and why.
    Nothing(Vec<String>),
    /// An invoice charges what was ticked and was taken back since.
    TakenBack {
        /// The invoice.
        name: PaperName,
        /// The line of the record that ticked it.
        line: usize,
    },
    /// A line of the record says an amount that is none.
    Amount(NoAmount),
}

impl fmt::Display for NoBill {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoBill::Paper(why) => why.fmt(f),
            NoBill::NothingAgreed => f.write_str(
                "This house charges what was agreed, and the owner has said yes to no paper of \
                 this job. Note the answer to an estimate that was kept (tellmark brief JOB --agreed \
                 \"estimate 1\"), or let the price list say by: \"hours\" in its fn invoice.",
            ),
            NoBill::Nothing(why) => {
                f.write_str("Nothing that is done is to be charged.")?;
                why.iter().try_for_each(|why| write!(f, " {why}"))
            }
            NoBill::TakenBack { name, line } => {
                let number = name.to_string();
                let number = number.split(' ').next_back().unwrap_or_default();
                write!(
                    f,
                    "{} charges what line {line} ticked, and that was taken back since. Take the \
                     invoice back first (tellmark invoice JOB --credit {number}); then what was done \
                     can be charged.",
                    words::capital(&name.to_string())
                )
            }
            NoBill::Amount(why) => why.fmt(f),
        }
    }
}

impl std::error::Error for NoBill {}

/// What is known of the work, for an invoice.
#[derive(Clone, Debug)]
pub struct Known<'k> {
    /// The job.
    pub job: &'k Job,
    /// What was done.
    pub ticks: &'k Ticks,
    /// What the price list asks for the time of each tick that [`to_charge`] names.
    pub priced: &'k Priced,
    /// What the house says of its invoices.
    pub terms: &'k InvoiceTerms,
    /// When it is written.
    pub now: DateTime,
    /// Between whom it is.
    pub parties: Parties,
}

/// The ticks that no invoice has charged that was not taken back.
///
/// # Errors
/// If an invoice cannot be gone by.
pub fn to_charge<'t>(job: &Job, ticks: &'t Ticks) -> Result<Vec<&'t Tick>, PaperTrouble> {
    let earlier = super::invoice::invoices(job)?;
    let is_charged = |tick: &&Tick| {
        let mut lines = earlier.iter().flat_map(|invoice| &invoice.lines);
        lines.any(|line| line.ticks.contains(&tick.line))
    };
    let ticks = ticks.ticks.iter();
    Ok(ticks.filter(|tick| !is_charged(tick)).collect())
}

/// What earlier invoices charge must still be ticked.
fn must_stand(earlier: &[Invoice], ticks: &Ticks) -> Result<(), NoBill> {
    let stands = |line: &usize| ticks.ticks.iter().any(|tick| tick.line == *line);
    for invoice in earlier {
        let mut charged = invoice.lines.iter().flat_map(|line| &line.ticks);
        if let (Some(name), Some(&line)) = (invoice.name, charged.find(|line| !stands(line))) {
            return Err(NoBill::TakenBack { name, line });
        }
    }
    Ok(())
}

/// Works an invoice out.
///
/// # Errors
/// See [`NoBill`].
pub fn bill(known: &Known<'_>) -> Result<Bill, NoBill> {
    let agreed = Agreed::of(known.job).map_err(NoBill::Paper)?;
    let earlier = super::invoice::invoices(known.job).map_err(NoBill::Paper)?;
    must_stand(&earlier, known.ticks)?;
    let ticks = to_charge(known.job, known.ticks).map_err(NoBill::Paper)?;
    let work = Work {
        known,
        earlier: &earlier,
        by_hours: by_line(&ticks, known.priced),
        ticks,
    };
    let (lines, not_charged) = match known.terms.by {
        Charge::Agreed if !agreed.is_any() => return Err(NoBill::NothingAgreed),
        Charge::Agreed => work.by_agreed(&agreed),
        Charge::Hours => work.by_hours(),
    };
    if lines.is_empty() {
        return Err(NoBill::Nothing(not_charged));
    }
    let net: Decimal = lines.iter().map(|line| line.amount).sum();
    let taxes: Vec<TaxLine> = known
        .terms
        .taxes
        .iter()
        .map(|tax| TaxLine {
            amount: tax.on(net, known.priced.fixed_total.scale()),
            percent: tax.percent,
            text: tax.text.clone(),
        })
        .collect();
    let total = net + taxes.iter().map(|tax| tax.amount).sum::<Decimal>();
    let paid = paid(known.job, Some(&known.priced.currency)).map_err(NoBill::Amount)?;
    let left = paid - invoiced(&earlier);
    let paid = left.clamp(Decimal::ZERO, total);
    let of_agreed = |lines: &[InvoiceLine]| -> Decimal {
        let lines = lines
            .iter()
            .filter(|line| agreed.covers(line.agreed.as_ref(), &line.ticks));
        lines.map(|line| line.amount).sum()
    };
    let before: Decimal = earlier
        .iter()
        .map(|invoice| of_agreed(&invoice.lines))
        .sum();
    let charged = before + of_agreed(&lines);
    let most = agreed.is_any().then(|| agreed.at_most());
    let days = i64::from(known.terms.days_to_pay);
    let zero = rounded(Decimal::ZERO, known.priced.fixed_total.scale());
    Ok(Bill {
        over: most.map_or(zero, |most| (charged - most).max(zero)),
        agreed: most,
        open: (-left).max(zero),
        not_charged,
        invoice: Invoice {
            name: None,
            written: to_the_minute(known.now),
            job: folder_name(known.job),
            piece: known.job.header().piece_said(),
            parties: known.parties.clone(),
            pay_by: known.now.date().saturating_add(days.days()),
            currency: known.priced.currency.clone(),
            by: known.terms.by,
            lines,
            net,
            taxes,
            total,
            paid: rounded(paid, known.priced.fixed_total.scale()),
            to_pay: total - paid,
            too_much: rounded((left - total).max(zero), known.priced.fixed_total.scale()),
            how_to_pay: known.terms.how_to_pay.clone(),
            notes: known.terms.notes.clone(),
            line: last_line(known.job),
        },
    })
}

/// To the decimals of the house's prices, halves up.
pub(super) fn rounded(amount: Decimal, decimals: u32) -> Decimal {
    let mut amount =
        amount.round_dp_with_strategy(decimals, RoundingStrategy::MidpointAwayFromZero);
    amount.rescale(decimals);
    amount
}

struct Work<'w> {
    known: &'w Known<'w>,
    earlier: &'w [Invoice],
    by_hours: BTreeMap<usize, Decimal>,
    ticks: Vec<&'w Tick>,
}

/// A job of a paper, with its parts that were done.
struct Group<'g> {
    job: &'g str,
    provisional: bool,
    parts: Vec<String>,
    numbers: Vec<usize>,
    lines: Vec<&'g PriceLine>,
    /// The ticks by their lines of the record, each with how many of these parts it covers, and how
    /// many lines of the paper in all.
    ticks: BTreeMap<usize, (usize, usize)>,
}

impl Work<'_> {
    /// By the hours that were ticked; and what the price list asks for the whole, once.
    fn by_hours(&self) -> (Vec<InvoiceLine>, Vec<String>) {
        let mut lines = Vec::new();
        let mut not_charged = Vec::new();
        for tick in &self.ticks {
            let what = what(&tick.job, &tick.parts);
            match (tick.minutes, self.by_hours.get(&tick.line)) {
                (Some(minutes), Some(&amount)) => lines.push(InvoiceLine {
                    amount,
                    text: format!("{what}, {}", words::minutes(minutes)),
                    ticks: vec![tick.line],
                    agreed: None,
                }),
                (None, _) => not_charged.push(format!(
                    "Nobody said what it took to {what} (line {}): tick it again with --took.",
                    tick.line
                )),
                (Some(_), None) => {
                    not_charged.push(format!("The price list has no line for {what}."));
                }
            }
        }
        let whole = self
            .known
            .priced
            .fixed
            .iter()
            .filter(|line| line.item.is_none());
        for line in whole.filter(|line| !self.is_charged(&line.text)) {
            lines.push(whole_line(line.amount, &line.text, None));
        }
        self.drop_what_stands_alone(&mut lines);
        (lines, not_charged)
    }

    /// What was agreed, for what was done since.
    fn by_agreed(&self, agreed: &Agreed) -> (Vec<InvoiceLine>, Vec<String>) {
        let mut lines = Vec::new();
        let mut not_charged = Vec::new();
        let mut charged: Vec<usize> = Vec::new();
        for answered in agreed.papers() {
            let until = agreed.until(answered);
            for group in self.groups(agreed, answered, until) {
                charged.extend(group.ticks.keys());
                match self.charge(answered, &group) {
                    Ok(charged) => lines.extend(charged),
                    Err(why) => not_charged.push(why),
                }
            }
            if until.is_some() {
                // A later estimate took its place, lines of the whole and all.
                continue;
            }
            let name = answered.paper.name;
            let whole = answered
                .prices()
                .filter(|p| p.job.is_none() && !p.provisional);
            for line in whole.filter(|line| !self.is_charged(&line.text)) {
                lines.push(whole_line(line.amount, &line.text, Some(name)));
            }
            not_charged.extend(self.not_done(answered));
        }
        for tick in self
            .ticks
            .iter()
            .filter(|tick| !charged.contains(&tick.line))
        {
            not_charged.push(format!(
                "Done, and agreed in no paper: {} (line {}). For it to be charged, take the tick \
                 back, have a supplement agreed that has it, and tick it again.",
                what(&tick.job, &tick.parts),
                tick.line
            ));
        }
        self.drop_what_stands_alone(&mut lines);
        (lines, not_charged)
    }

    /// Lines of the whole alone make no invoice.
    fn drop_what_stands_alone(&self, lines: &mut Vec<InvoiceLine>) {
        if lines.iter().all(|line| line.ticks.is_empty()) {
            lines.clear();
        }
    }

    /// Whether a line of the whole was charged before.
    fn is_charged(&self, text: &str) -> bool {
        let mut lines = self.earlier.iter().flat_map(|invoice| &invoice.lines);
        lines.any(|line| line.ticks.is_empty() && line.text == text)
    }

    /// Whether a job of a paper was charged before.
    fn is_job_charged(&self, name: PaperName, number: usize) -> bool {
        let mut lines = self.earlier.iter().flat_map(|invoice| &invoice.lines);
        lines.any(|line| {
            let agreed = line.agreed.as_ref();
            agreed.is_some_and(|(of, jobs)| *of == name && jobs.contains(&number))
        })
    }

    /// The jobs of a paper with a price that were done and not charged yet, those with a fixed
    /// price apart. What was done after a later paper that has the job as well is of that one.
    fn groups<'a>(
        &self,
        agreed: &Agreed,
        answered: &'a Answered,
        until: Option<usize>,
    ) -> Vec<Group<'a>> {
        let (paper, since) = (&answered.paper, answered.paper.rests_on.line);
        let listed: Vec<&EstimateJob> = paper.jobs.iter().collect();
        let mut groups: Vec<Group<'a>> = Vec::new();
        let covered = self.known.ticks.covered(answered.jobs(), &listed, since);
        for job in answered.jobs() {
            let mut prices = answered.paper.prices.iter();
            let price = prices.find(|price| price.job == Some(job.number));
            let Some(price) = price.filter(|_| !self.is_job_charged(paper.name, job.number)) else {
                continue;
            };
            let covering = self.known.ticks.covering(job, &listed, since);
            let again = agreed.again(answered, &job.job, &job.part);
            let last = until.into_iter().chain(again).min();
            let covering = covering.filter(|tick| last.is_none_or(|last| tick.line <= last));
            let open = covering.filter(|tick| self.ticks.iter().any(|t| t.line == tick.line));
            let ticks: Vec<usize> = open.map(|tick| tick.line).collect();
            if ticks.is_empty() {
                continue;
            }
            let at = match groups
                .iter()
                .position(|g| g.job == job.job && g.provisional == price.provisional)
            {
                Some(at) => at,
                None => {
                    groups.push(Group {
                        job: &job.job,
                        provisional: price.provisional,
                        parts: Vec::new(),
                        numbers: Vec::new(),
                        lines: Vec::new(),
                        ticks: BTreeMap::new(),
                    });
                    groups.len() - 1
                }
            };
            let Some(group) = groups.get_mut(at) else {
                continue;
            };
            group.parts.push(job.part.clone());
            group.numbers.push(job.number);
            group.lines.push(price);
            for tick in ticks {
                let all = covered.get(&tick).copied().unwrap_or_default();
                group.ticks.entry(tick).or_insert((0, all)).0 += 1;
            }
        }
        groups
    }

    /// The lines for a job: each fixed price as it was agreed; of what was agreed up to an
    /// amount, what the price list asks for the time, and never more than was agreed.
    fn charge(&self, answered: &Answered, group: &Group<'_>) -> Result<Vec<InvoiceLine>, String> {
        let name = answered.paper.name;
        if !group.provisional {
            let lines = group
                .lines
                .iter()
                .zip(&group.numbers)
                .map(|(line, number)| InvoiceLine {
                    amount: line.amount,
                    text: line.text.clone(),
                    ticks: group.ticks.keys().copied().collect(),
                    agreed: Some((name, vec![*number])),
                });
            return Ok(lines.collect());
        }
        let what = what(group.job, &group.parts);
        let agreed: Decimal = group.lines.iter().map(|line| line.amount).sum();
        let own = self.ticks.iter().filter_map(|tick| {
            let (of, all) = *group.ticks.get(&tick.line)?;
            Some((tick, tick.share(of, all)))
        });
        let (mut asked, mut minutes) = (Decimal::ZERO, Decimal::ZERO);
        for (tick, share) in own {
            let (Some(took), Some(&amount)) = (tick.minutes, self.by_hours.get(&tick.line)) else {
                return Err(format!(
                    "Agreed up to {}, and nobody said what it took: {what} (line {}). Tick it \
                     again with --took.",
                    money(&agreed.to_string()),
                    tick.line
                ));
            };
            asked += amount * share;
            minutes += Decimal::from(took) * share;
        }
        let minutes = minutes.round().to_u32().unwrap_or(Minutes::MAX);
        Ok(vec![InvoiceLine {
            amount: rounded(asked, self.known.priced.fixed_total.scale()).min(agreed),
            text: format!(
                "{what}, {} (agreed up to {})",
                words::minutes(minutes),
                money(&agreed.to_string())
            ),
            ticks: group.ticks.keys().copied().collect(),
            agreed: Some((name, group.numbers.clone())),
        }])
    }

    /// Fixed prices of what was not done.
    fn not_done(&self, answered: &Answered) -> Vec<String> {
        let since = answered.paper.rests_on.line;
        let fixed = answered.prices().filter(|price| !price.provisional);
        let jobs = fixed.filter_map(|price| answered.jobs().find(|j| Some(j.number) == price.job));
        let listed: Vec<&EstimateJob> = answered.paper.jobs.iter().collect();
        let open = jobs.filter(|job| {
            let mut covering = self.known.ticks.covering(job, &listed, since);
            covering.next().is_none()
        });
        let open: Vec<String> = open
            .map(|job| format!("{} ({})", job.job, job.part))
            .collect();
        match open.is_empty() {
            true => Vec::new(),
            false => vec![format!(
                "Agreed at a fixed price in {}, and not ticked: {}.",
                answered.paper.name,
                list(&open)
            )],
        }
    }
}

fn whole_line(amount: Decimal, text: &str, paper: Option<PaperName>) -> InvoiceLine {
    InvoiceLine {
        amount,
        text: text.to_owned(),
        ticks: Vec::new(),
        agreed: paper.map(|name| (name, Vec::new())),
    }
}

/// "wax the runners: drawer 2 and drawer 3".
fn what(job: &str, parts: &[String]) -> String {
    match parts.is_empty() {
        true => job.to_owned(),
        false => format!("{job}: {}", list(parts)),
    }
}
