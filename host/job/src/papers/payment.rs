//! What the owner paid: whether a line can say so.

use super::estimate::Estimate;
use super::invoice::Invoice;
use crate::amount::Money;
use crate::record::{Job, PaperKind, Payment};

/// Whether a payment can be noted for a job: it is a sum, and in the money of its papers.
///
/// # Errors
/// A sentence on what is wrong.
pub fn may_be_paid(job: &Job, payment: &Payment) -> Result<(), String> {
    let said = &payment.amount;
    let read = read(payment).filter(|money| !money.amount.is_zero() && money.amount.scale() <= 2);
    let Some(money) = read.filter(|_| !said.contains(';')) else {
        return Err(format!(
            "I cannot read \"{said}\" as a sum of money: 250, 250.00 or 1,200.00 would do."
        ));
    };
    match currency_of(job) {
        Some(known) if !money.may_be_in(&known) => Err(format!(
            "\"{}\" is other money than the papers of this job, which are in {known}.",
            money.currency
        )),
        None if !money.currency.is_empty() => Err(format!(
            "No paper of this job says yet what its money is called, so I cannot tell whether \
             \"{}\" is right. Give the figures alone.",
            money.currency
        )),
        _ => Ok(()),
    }
}

/// What was paid.
pub(super) fn read(payment: &Payment) -> Option<Money> {
    Money::read(&payment.amount)
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
