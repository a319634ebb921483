//! What it costs by the house's own price list, and the hours that rests on.

use super::matter::Matter;
use super::quoted::Quoted;
use super::when::day;
use jiff::ToSpan as _;
use rust_decimal::Decimal;
use serde::Serialize;
use tellmark_job::advice::{Points, WorkPlan};
use tellmark_job::limits;
use tellmark_job::papers::{Agreed, Groups};
use tellmark_job::scripts::{Line, Priced, Tax, tax_names, with_taxes};
use tellmark_language::words::{self, figure, hours, list, money};

/// "£831.00", "831.00 crowns": a sign stands before the amount, a word after it.
pub(super) fn amount(currency: &str, sum: &impl ToString) -> String {
    let sum = money(&sum.to_string());
    if currency.is_empty() || currency.chars().any(char::is_alphabetic) {
        format!("{sum} {currency}").trim_end().to_owned()
    } else {
        format!("{currency}{sum}")
    }
}

/// One line with its price.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Price {
    /// What it is for.
    pub text: String,
    /// "1,240.50".
    pub amount: String,
    /// The owner decides before it.
    pub hold: bool,
}

/// What it costs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Quotation {
    /// The house's currency, as it writes it.
    pub currency: String,
    /// What is fixed.
    pub fixed: Vec<Price>,
    /// Its sum.
    pub fixed_total: String,
    /// What is planned as well, each up to the amount beside it.
    pub planned: Vec<Price>,
    /// The sum of what is fixed and planned; empty if nothing is planned besides what is fixed.
    pub planned_total: String,
    /// The same with what is added; empty if nothing is.
    pub planned_with_taxes: String,
    /// What is added to every sum here: "VAT"; empty if nothing is.
    pub taxes: String,
    /// The sum with that; empty if nothing is added.
    pub fixed_with_taxes: String,
    /// The most that it comes to, with that; empty if nothing is added.
    pub at_most_with_taxes: String,
    /// What may come to it, each up to the amount beside it.
    pub provisional: Vec<Price>,
    /// The most that it comes to without asking again.
    pub at_most: String,
    /// What is taken for granted.
    pub assumptions: Vec<String>,
    /// The last day on which it stands.
    pub until: String,
}

/// So many hours are enough in one, five, eight and nine cases of ten.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Enough {
    /// "All that is planned", "As it may turn out".
    pub what: String,
    /// In 1, 5, 8 and 9 of ten cases.
    pub hours: [String; 4],
}

/// Bench hours over everything that may be hidden, and what they cost.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct HoursAndPrice {
    /// How many hours are enough, and how surely.
    pub enough: Vec<Enough>,
    /// What makes the range wide, widest first.
    pub widens: Vec<String>,
    /// What is in none of the figures, in sentences.
    pub uncounted: Vec<String>,
    /// What it costs; `None` without a price list of the house's own.
    pub quotation: Option<Quotation>,
}

/// How many of the things that widen the range are named.
const WIDENS: usize = 4;

pub(super) fn price(matter: &Matter<'_>, plan: &WorkPlan) -> Option<HoursAndPrice> {
    let Quoted {
        quote,
        priced,
        taxes,
        ..
    } = matter.quoted?;
    // What may still be hidden in a piece that goes home is not on offer.
    let is_all_done = plan.is_empty() && matter.progress.done().next().is_some();
    if is_all_done {
        return None;
    }
    let enough = |what: &str, points: &Points| Enough {
        what: what.to_owned(),
        hours: [points.p10, points.p50, points.p80, points.p90].map(hours),
    };
    let mut rows = Vec::new();
    if quote.has_planned_hours() {
        rows.push(enough("All that is planned", &quote.planned_hours));
    }
    rows.push(enough("As it may turn out", &quote.hours));
    let alike = quote.widens_alike();
    let widens = alike.iter().take(WIDENS).map(|(parts, unseen)| {
        format!(
            "Whether {} {} ({}): {} in all if so, {} if not.",
            list(parts),
            unseen.words,
            figure(unseen.chance),
            hours(unseen.hours_if_so),
            hours(unseen.hours_if_not)
        )
    });
    Some(HoursAndPrice {
        enough: rows,
        widens: widens.collect(),
        uncounted: quote.uncounted_in_words(),
        quotation: priced.map(|priced| quotation(matter, priced, taxes)),
    })
}

/// The most that it comes to without asking again.
pub(super) fn unasked(matter: &Matter<'_>, priced: &Priced) -> Decimal {
    let agreed = Agreed::of(&matter.view.open.job).unwrap_or_default();
    let money = matter.money();
    money.map_or(priced.at_most, |money| {
        limits::unasked(matter.progress, &money, &agreed)
    })
}

fn quotation(matter: &Matter<'_>, priced: &Priced, taxes: &[Tax]) -> Quotation {
    let at_most = unasked(matter, priced);
    let taxed = |sum| match taxes {
        [] => String::new(),
        taxes => money(&with_taxes(sum, taxes).to_string()),
    };
    let items = matter.quoted.map_or(&[][..], |quoted| &quoted.quote.items);
    let groups = Groups::of(priced, items);
    let prices = |lines: &[&Line]| {
        let lines = lines.iter().map(|line| Price {
            text: words::capital(&line.text),
            amount: money(&line.amount.to_string()),
            hold: line.ask_owner,
        });
        lines.collect()
    };
    let days = i64::from(priced.valid_days);
    Quotation {
        currency: priced.currency.clone(),
        fixed: prices(&groups.fixed),
        planned: prices(&groups.planned),
        planned_total: groups
            .planned_total
            .map_or_else(String::new, |sum| money(&sum.to_string())),
        planned_with_taxes: groups.planned_total.map_or_else(String::new, taxed),
        fixed_total: money(&priced.fixed_total.to_string()),
        provisional: prices(&groups.perhaps),
        at_most: money(&at_most.to_string()),
        taxes: tax_names(taxes),
        fixed_with_taxes: taxed(priced.fixed_total),
        at_most_with_taxes: taxed(at_most),
        assumptions: priced.assumptions.clone(),
        until: day(matter.today().saturating_add(days.days())),
    }
}
