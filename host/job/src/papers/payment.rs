//! What the owner paid: whether a line can say so.

use super::estimate::Estimate;
use super::invoice::Invoice;
use crate::amount::amount;
use crate::record::{Job, PaperKind, Payment};
use rust_decimal::Decimal;

/// Whether a payment can be noted for a job: it is a sum, and in the money of its papers.
///
/// # Errors
/// A sentence on what is wrong.
pub fn may_be_paid(job: &Job, payment: &Payment) -> Result<(), String> {
    let said = &payment.amount;
    let is_money = |sum: Decimal| !sum.is_zero() && sum.scale() <= 2;
    if payment.amount.contains(';') || !read(payment).is_some_and(is_money) {
        return Err(format!(
            "I cannot read \"{said}\" as a sum of money: 250, 250.00 or 1,200.00 would do."
        ));
    }
    let currency = currency_of(job);
    match (currency_said(payment), currency) {
        (Some(said), Some(known)) if said != known => Err(format!(
            "\"{said}\" is other money than the papers of this job, which are in {known}."
        )),
        (Some(said), None) => Err(format!(
            "No paper of this job says yet what its money is called, so I cannot tell whether \
             \"{said}\" is right. Give the figures alone."
        )),
        _ => Ok(()),
    }
}

/// The sum, whatever money it is.
pub(super) fn read(payment: &Payment) -> Option<Decimal> {
    amount(&payment.amount)
}

/// What stands behind the figures, if anything.
pub(super) fn currency_said(payment: &Payment) -> Option<&str> {
    let (_, currency) = payment.amount.split_once(char::is_whitespace)?;
    Some(currency.trim()).filter(|currency| !currency.is_empty())
}

/// The money of the last paper of a job that can be gone by.
pub(super) fn currency_of(job: &Job) -> Option<String> {
    let papers = job.papers();
    let mut names = papers.iter().rev().map(|known| known.paper.name);
    names.find_map(|name| match name.kind {
        PaperKind::Estimate | PaperKind::Supplement => {
            Estimate::read(job, name).ok().map(|paper| paper.currency)
        }
        PaperKind::Invoice => Invoice::read(job, name).ok().map(|paper| paper.currency),
        PaperKind::Credit => None,
    })
}
