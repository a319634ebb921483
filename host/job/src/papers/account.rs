//! What was invoiced of a job, what was paid, and what is left.

use super::invoice::{Invoice, invoices};
use super::payment::read;
use crate::amount::Money;
use crate::record::{Job, PaperTrouble, Says};
use crate::scripts::as_text;
use rust_decimal::Decimal;
use std::fmt;
use tellmark_language::words::money;

/// A line of the record says an amount that is none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoAmount {
    /// The line.
    pub line: usize,
    /// What it says.
    pub text: String,
}

/// Why nobody can say what is left to pay.
#[derive(Debug)]
pub enum NoAccount {
    /// A paper cannot be gone by.
    Paper(PaperTrouble),
    /// A payment is no sum of money, or in other money.
    Amount(NoAmount),
}

impl fmt::Display for NoAmount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "Line {} of the record says \"{}\", which I cannot read as a sum of money. Add a line \
             that says it in figures, such as \"paid: 250.00\", and put a # before that one.",
            self.line, self.text
        )
    }
}

impl fmt::Display for NoAccount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoAccount::Paper(why) => why.fmt(f),
            NoAccount::Amount(why) => why.fmt(f),
        }
    }
}

impl std::error::Error for NoAccount {}

/// What was invoiced and paid of a job.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Account {
    /// The money of its papers; empty if none says it.
    pub currency: String,
    /// The sum of its invoices that were not taken back, with tax.
    #[serde(with = "as_text")]
    pub invoiced: Decimal,
    /// What was paid, less what was given back.
    #[serde(with = "as_text")]
    pub paid: Decimal,
}

impl Account {
    /// What the papers and the record of a job say; `None` if nothing was invoiced or paid.
    ///
    /// # Errors
    /// See [`NoAccount`].
    pub fn of(job: &Job) -> Result<Option<Account>, NoAccount> {
        let invoices = invoices(job).map_err(NoAccount::Paper)?;
        let is_any = job
            .entries()
            .iter()
            .any(|e| matches!(e.says, Says::Paid(_)));
        if invoices.is_empty() && !is_any {
            return Ok(None);
        }
        let currency = invoices.last().map(|invoice| invoice.currency.clone());
        let currency = currency.or_else(|| super::payment::currency_of(job));
        let paid = paid(job, currency.as_deref()).map_err(NoAccount::Amount)?;
        Ok(Some(Account {
            currency: currency.unwrap_or_default(),
            invoiced: invoiced(&invoices),
            paid,
        }))
    }

    /// Whether somebody owes something.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.invoiced != self.paid
    }

    /// "845.00 marks invoiced, 250.00 paid, 595.00 left to pay"; what was paid over and above is
    /// "the owner's", or "yours".
    #[must_use]
    pub fn in_words(&self, whose: &str) -> String {
        let said = |sum: Decimal| money(&with_cents(sum).to_string());
        let money = match self.currency.as_str() {
            "" => String::new(),
            currency => format!(" {currency}"),
        };
        let (invoiced, paid) = (said(self.invoiced), said(self.paid));
        let left = self.invoiced - self.paid;
        if self.invoiced.is_zero() {
            return format!("{paid}{money} paid, nothing invoiced yet");
        }
        let rest = match left {
            left if left.is_zero() => "all of it paid".to_owned(),
            left if left > Decimal::ZERO => {
                format!("{paid} paid, {} left to pay", said(left))
            }
            left => format!("{paid} paid, {} of it {whose}", said(-left)),
        };
        format!("{invoiced}{money} invoiced, {rest}")
    }
}

fn with_cents(sum: Decimal) -> Decimal {
    let mut sum = sum;
    sum.rescale(sum.scale().max(2));
    sum
}

/// The sum of these invoices, with tax.
pub(super) fn invoiced(invoices: &[Invoice]) -> Decimal {
    invoices.iter().map(|invoice| invoice.total).sum()
}

/// What the owner paid, less what they were given back; in this money, if it is known.
pub(super) fn paid(job: &Job, currency: Option<&str>) -> Result<Decimal, NoAmount> {
    let mut paid = Decimal::ZERO;
    for entry in job.entries() {
        let Says::Paid(payment) = &entry.says else {
            continue;
        };
        let is_ours = |money: &Money| currency.is_none_or(|known| money.may_be_in(known));
        let amount = read(payment).filter(is_ours).map(|money| money.amount);
        let amount = amount.ok_or_else(|| NoAmount {
            line: entry.number,
            text: payment.amount.clone(),
        })?;
        paid += if payment.back { -amount } else { amount };
    }
    Ok(paid)
}
