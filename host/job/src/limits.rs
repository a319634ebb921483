//! The owner's limits beside what the work comes to.

use crate::advice::{Progress, WorkPlan};
use crate::papers::amount;
use crate::scripts::{Tax, tax_names, with_taxes};
use rust_decimal::Decimal;
use tellmark_language::model::Minutes;
use tellmark_language::words::{minutes, money};

/// What the work comes to in money.
#[derive(Clone, Copy, Debug)]
pub struct Money<'m> {
    /// The house's currency, as it writes it.
    pub currency: &'m str,
    /// What is done already, at the prices that were agreed.
    pub done: Decimal,
    /// What is fixed of the rest.
    pub fixed: Decimal,
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
    /// Whether what is planned goes over it; `None` where nothing says what it comes to.
    pub is_over: Option<bool>,
    /// "the work takes mostly 16 h 55"; empty where nothing says it.
    pub comes_to: String,
}

/// Every limit of the owner that stands, with what the work comes to. Hours are those of the
/// plan, with what is done; money is known only where there are prices.
#[must_use]
pub fn limits(progress: &Progress, plan: &WorkPlan, price: Option<&Money<'_>>) -> Vec<Compared> {
    let limits = progress.limits.iter().map(|told| {
        let limit = &told.what;
        let compared = match limit.minutes {
            Some(most) => Some(in_hours(most, progress, plan)),
            None => price.and_then(|price| in_money(&limit.words, price)),
        };
        let (is_over, comes_to) = match compared {
            Some((is_over, comes_to)) => (Some(is_over), comes_to),
            None => (None, String::new()),
        };
        Compared {
            limit: limit.words.clone(),
            is_over,
            comes_to,
        }
    });
    limits.collect()
}

fn in_hours(most: Minutes, progress: &Progress, plan: &WorkPlan) -> (bool, String) {
    let taken: Minutes = progress.done().filter_map(|told| told.what.took).sum();
    let mostly = taken.saturating_add(plan.times.certain[1]);
    let with_done = if taken > 0 { "with what is done, " } else { "" };
    let said = format!("{with_done}the work takes mostly {}", minutes(mostly));
    (mostly > most, said)
}

fn in_money(words: &str, price: &Money<'_>) -> Option<(bool, String)> {
    let most = amount(words)?;
    let (_, currency) = words.split_once(char::is_whitespace).unwrap_or((words, ""));
    let currency = currency.trim();
    if !currency.is_empty() && !currency.eq_ignore_ascii_case(price.currency) {
        return None;
    }
    let taxed = |sum: Decimal| with_taxes(price.done + sum, price.taxes);
    let (fixed, at_most) = (taxed(price.fixed), taxed(price.at_most));
    let said = |sum: Decimal| money(&sum.to_string());
    let taxes = match price.taxes.is_empty() {
        true => String::new(),
        false => format!(" with {}", tax_names(price.taxes)),
    };
    let is_over = fixed > most;
    let may_go_over = match at_most > most && !is_over {
        true => format!(", and what may come to it to {}", said(at_most)),
        false => String::new(),
    };
    let with_done = match price.done.is_zero() {
        true => "what is fixed",
        false => "what is done and what is fixed",
    };
    let said = format!(
        "{with_done} comes to {} {}{taxes}{may_go_over}",
        said(fixed),
        price.currency
    );
    Some((is_over, said))
}

impl Compared {
    /// "the owner's limit of 20 hours: the work takes mostly 16 h 55", to go on after a word
    /// on whether that is too much.
    #[must_use]
    pub fn sentence(&self, whose: &str) -> String {
        match (self.is_over, self.comes_to.as_str()) {
            (Some(true), comes_to) => format!("over {whose} limit of {}: {comes_to}", self.limit),
            (Some(false), comes_to) => {
                format!("within {whose} limit of {}: {comes_to}", self.limit)
            }
            (None, _) => format!("{whose} limit: {}", self.limit),
        }
    }
}
