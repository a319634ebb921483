//! The owner's limits beside what the work comes to.

use crate::advice::{Progress, Quote, Wait, WorkPlan};
use crate::limit::{Limit, On};
use crate::papers::{Agreed, DoneWork};
use crate::scripts::{Tax, tax_names, with_taxes, without_taxes};
use jiff::civil::Date;
use rust_decimal::Decimal;
use tellmark_language::model::Minutes;
use tellmark_language::words::{self, minutes, minutes_range, money, some_of};

/// What the work comes to in money.
#[derive(Clone, Copy, Debug)]
pub struct Money<'m> {
    /// The house's currency, as it writes it.
    pub currency: &'m str,
    /// What is done already.
    pub done: DoneWork,
    /// What is fixed of the rest.
    pub fixed: Decimal,
    /// The same with what is planned as well, each up to its amount.
    pub planned: Decimal,
    /// The most that the rest may come to.
    pub at_most: Decimal,
    /// What is added to all of that.
    pub taxes: &'m [Tax],
}

/// One of the owner's limits.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Compared {
    /// "20 hours", in the owner's words.
    pub limit: String,
    /// Whether what is planned goes over it; `None` where nothing says so.
    pub is_over: Option<bool>,
    /// Whether it may go over it though what is planned does not.
    pub may_be_over: bool,
    /// "the work takes mostly 16 h 55"; empty where nothing says it.
    pub comes_to: String,
    /// "it is no time, sum or day": why it is not compared; empty if it is.
    pub not_compared: String,
}

/// What a limit comes to, before it stands beside its words.
struct Beside {
    is_over: Option<bool>,
    may_be_over: bool,
    comes_to: String,
}

/// What is to be done, as it stands beside the limits.
#[derive(Clone, Copy, Debug)]
pub struct Work<'w> {
    /// What is planned.
    pub plan: &'w WorkPlan,
    /// The hours as the quotation has them; without it, those of the plan are told.
    pub quote: Option<&'w Quote>,
    /// What it comes to in money, if that is known.
    pub price: Option<Money<'w>>,
    /// What the piece waits for already: what sets, what somebody waits for.
    pub waits: &'w [Wait],
}

/// Every limit of the owner that stands, with what the work comes to and what was done of it.
#[must_use]
pub fn limits(progress: &Progress, work: &Work<'_>, today: Date) -> Vec<Compared> {
    let limits = progress.limits.iter().map(|told| {
        let limit = &told.what;
        let beside = match &limit.on {
            On::Hours(most) => Ok(in_hours(*most, progress, work)),
            On::Sum { amount, currency } => in_money(*amount, currency, work.price.as_ref()),
            On::Day(day) => Ok(by_day(*day, work, today)),
            On::Unread => Err(UNREAD.to_owned()),
        };
        beside_words(limit, beside)
    });
    limits.collect()
}

const UNREAD: &str = "it is not read as a time, a sum or a day";

fn beside_words(limit: &Limit, beside: Result<Beside, String>) -> Compared {
    let (beside, not_compared) = match beside {
        Ok(beside) => (Some(beside), String::new()),
        Err(why) => (None, why),
    };
    Compared {
        limit: limit.words.clone(),
        is_over: beside.as_ref().and_then(|beside| beside.is_over),
        may_be_over: beside.as_ref().is_some_and(|beside| beside.may_be_over),
        comes_to: beside.map_or_else(String::new, |beside| beside.comes_to),
        not_compared,
    }
}

fn in_hours(most: Minutes, progress: &Progress, work: &Work<'_>) -> Beside {
    let taken: Minutes = progress.done().filter_map(|told| told.what.took).sum();
    let with_done = |more: Minutes| taken.saturating_add(more);
    let done = if taken > 0 { "with what is done, " } else { "" };
    if let Some(quote) = work.quote {
        let hours = |hours: f64| f64::from(taken) / 60.0 + hours;
        let (planned, all) = (&quote.planned_hours, &quote.hours);
        let (least, longest, all) = (hours(planned.p10), hours(planned.p90), hours(all.p90));
        let limit = f64::from(most) / 60.0;
        let is_over = hours(planned.p50) > limit;
        let may_be_over = !is_over && all.max(longest) > limit;
        let range = match (words::hours(least), words::hours(longest)) {
            (least, longest) if least == longest => least,
            (least, longest) => format!("{least} to {longest}"),
        };
        let more = match may_be_over && all > longest {
            true => format!(", and with what may come to it up to {}", words::hours(all)),
            false => String::new(),
        };
        return Beside {
            is_over: Some(is_over),
            may_be_over,
            comes_to: format!("{done}what is planned takes {range}{more}"),
        };
    }
    let [_, mostly, longest] = work.plan.times.certain;
    let [_, _, perhaps] = work.plan.times.perhaps;
    let mostly = with_done(mostly);
    let (longest, all) = (
        with_done(longest),
        with_done(longest.saturating_add(perhaps)),
    );
    let is_over = mostly > most;
    // What it can be beyond the limit, the nearest first.
    let more = match () {
        () if is_over => None,
        () if longest > most => Some(format!("it may take up to {}", minutes(longest))),
        () if all > most => Some(format!(
            "with all that may come to it up to {}",
            minutes(all)
        )),
        () => None,
    };
    let said = format!("{done}the work takes mostly {}", minutes(mostly));
    Beside {
        is_over: Some(is_over),
        may_be_over: more.is_some(),
        comes_to: match more {
            Some(more) => format!("{said}, and {more}"),
            None => said,
        },
    }
}

/// The most that what is left comes to without asking again: what the owner agreed to, if that is
/// less than what everything may come to, and no more than their limit.
#[must_use]
pub fn unasked(progress: &Progress, money: &Money<'_>, agreed: &Agreed) -> Decimal {
    let most = match agreed.is_any() {
        true => {
            let left = agreed.at_most() - money.done.agreed;
            left.max(Decimal::ZERO).min(money.at_most)
        }
        false => money.at_most,
    };
    within_limit(most, progress, money)
}

/// A sum for what is left, and no more than the owner's limit leaves, or than what is fixed, where
/// that is more already. The limit is of what they pay, taxes and what is done already among it.
#[must_use]
pub fn within_limit(most: Decimal, progress: &Progress, money: &Money<'_>) -> Decimal {
    let taxed = |sum: Decimal| with_taxes(sum + money.done.sum(), money.taxes);
    match limit_in(progress, money.currency) {
        Some(limit) if taxed(money.fixed) > limit => most.min(money.fixed),
        Some(limit) if taxed(most) > limit => without_taxes(limit, money.taxes) - money.done.sum(),
        _ => most,
    }
}

/// What the owner's limit leaves for what is still to be done, before taxes; `None` if they set
/// none in this currency.
#[must_use]
pub fn left_by_limit(progress: &Progress, money: &Money<'_>) -> Option<Decimal> {
    let limit = limit_in(progress, money.currency)?;
    Some(without_taxes(limit, money.taxes) - money.done.sum())
}

/// The sum that the owner set as a limit, in this currency or in none.
fn limit_in(progress: &Progress, ours: &str) -> Option<Decimal> {
    limit_told(progress, ours).map(|(limit, _)| limit)
}

/// The same, with the line of the record that says so.
fn limit_told(progress: &Progress, ours: &str) -> Option<(Decimal, usize)> {
    progress.limits.iter().find_map(|told| match &told.what.on {
        On::Sum { amount, currency } => {
            let is_ours = currency.is_empty() || currency.eq_ignore_ascii_case(ours);
            is_ours.then_some((*amount, told.line))
        }
        _ => None,
    })
}

/// A sentence, if a sum that the owner is to pay in all goes past their limit.
#[must_use]
pub fn past_limit(progress: &Progress, currency: &str, in_all: Decimal) -> Option<String> {
    let (limit, line) = limit_told(progress, currency)?;
    let said = |sum: Decimal| money(&sum.to_string());
    (in_all > limit).then(|| {
        format!(
            "With what was invoiced before this comes to {} {currency}, which is {} more than the \
             owner's limit of {} (line {line}). Speak to them before you send it.",
            said(in_all),
            said(in_all - limit),
            said(limit)
        )
    })
}

fn in_money(most: Decimal, currency: &str, price: Option<&Money<'_>>) -> Result<Beside, String> {
    let Some(price) = price else {
        return Err("what the work costs stands in the quotation".to_owned());
    };
    if !currency.is_empty() && !currency.eq_ignore_ascii_case(price.currency) {
        return Err(format!("the prices are in {}", price.currency));
    }
    let taxed = |sum: Decimal| with_taxes(price.done.sum() + sum, price.taxes);
    let [fixed, planned, at_most] = [price.fixed, price.planned, price.at_most].map(taxed);
    let said = |sum: Decimal| money(&sum.to_string());
    let taxes = match price.taxes.is_empty() {
        true => String::new(),
        false => format!(" with {}", tax_names(price.taxes)),
    };
    let is_over = planned > most;
    let may_be_over = at_most > most && !is_over;
    let mut more = match planned > fixed {
        true => format!(", with what is planned as well up to {}", said(planned)),
        false => String::new(),
    };
    if may_be_over {
        more.push_str(&format!(
            ", and with all that may come to it up to {}",
            said(at_most)
        ));
    }
    let with_done = match price.done.sum().is_zero() {
        true => "what is fixed",
        false => "what is done and what is fixed",
    };
    let unpriced = match price.done.unpriced {
        0 => String::new(),
        1 => "; a job that is done has no price, and is not in it".to_owned(),
        jobs => format!("; {jobs} jobs that are done have no price, and are not in it"),
    };
    Ok(Beside {
        is_over: Some(is_over),
        may_be_over,
        comes_to: format!(
            "{with_done} comes to {} {}{taxes}{more}{unpriced}",
            said(fixed),
            price.currency
        ),
    })
}

/// A day is surely too early if it is over, or what must set and dry takes longer. How many hours
/// a workshop gives a piece each day, nobody says.
fn by_day(day: Date, work: &Work<'_>, today: Date) -> Beside {
    let plan = work.plan;
    let days = today.until(day).map_or(0, |span| span.get_days());
    let [waits, waits_most] = plan.times.waits.certain;
    let [_, mostly, _] = plan.times.certain;
    // The last of what it waits for already.
    let runs = work.waits.iter().filter_map(|wait| wait.until);
    let runs = runs.map(|until| until.date()).max();
    let runs = runs.filter(|until| *until > today);
    let said_runs = runs.map_or_else(String::new, |until| {
        format!(
            "it waits until {} at the least",
            until.strftime("%-d %B %Y")
        )
    });
    let is_late = days < 0 || runs.is_some_and(|until| until > day);
    if mostly == 0 && waits == 0 {
        return Beside {
            is_over: is_late.then_some(true),
            may_be_over: false,
            comes_to: match (days, runs) {
                (..0, _) => "that day is over".to_owned(),
                (_, Some(_)) => said_runs,
                (_, None) => "nothing that is planned is left to do".to_owned(),
            },
        };
    }
    let waiting = match waits {
        0 => String::new(),
        least => format!(
            ", and what must be left alone {}",
            minutes_range(least, waits_most)
        ),
    };
    let there = match u32::try_from(days) {
        Err(_) => "that day is over".to_owned(),
        Ok(0) => "that is today".to_owned(),
        Ok(days) => format!("that is in {}", some_of(days, "day", "days")),
    };
    const DAY: i64 = 24 * 60;
    let is_over = is_late || i64::from(waits) > i64::from(days).saturating_add(1) * DAY;
    let and_runs = match said_runs.as_str() {
        "" => String::new(),
        said => format!("; {said}"),
    };
    Beside {
        is_over: is_over.then_some(true),
        may_be_over: false,
        comes_to: format!(
            "{there}; what is left to do takes mostly {} at the bench{waiting}{and_runs}",
            minutes(mostly)
        ),
    }
}

impl Compared {
    /// "Within the owner's limit of 20 hours: the work takes mostly 16 h 55".
    #[must_use]
    pub fn sentence(&self, whose: &str) -> String {
        let Compared {
            limit, comes_to, ..
        } = self;
        match (self.is_over, self.may_be_over, comes_to.as_str()) {
            (Some(true), ..) => format!("over {whose} limit of {limit}: {comes_to}"),
            (Some(false), true, _) => {
                format!("within {whose} limit of {limit} as planned: {comes_to}")
            }
            (Some(false), false, _) => format!("within {whose} limit of {limit}: {comes_to}"),
            (None, _, "") => format!(
                "{whose} limit: {limit} (not compared: {})",
                self.not_compared
            ),
            (None, ..) => format!("{whose} limit: {limit}; {comes_to}"),
        }
    }
}

/// What a limit will be compared with, in a sentence for whoever notes it.
#[must_use]
pub fn comes_to(limit: &Limit) -> String {
    match &limit.on {
        On::Hours(most) => format!(
            "It is compared with the hours of the plan, as {}.",
            minutes(*most)
        ),
        On::Sum { amount, currency } => {
            let sum = format!("{} {currency}", money(&amount.to_string()));
            let sum = sum.trim();
            let if_ours = match currency.as_str() {
                "" => String::new(),
                currency => format!(", if your price list is in {currency}"),
            };
            format!("It is compared with what the quotation comes to, as {sum}{if_ours}.")
        }
        On::Day(day) => format!(
            "It is compared with what is left to do and what must be left alone, as {}.",
            day.strftime("%-d %B %Y")
        ),
        On::Unread => format!(
            "It is shown where limits are, and compared with nothing, since {UNREAD}. \"20 hours\", \
             \"900\" or \"1 March 2027\" would be."
        ),
    }
}
