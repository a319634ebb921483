//! The lines of a quotation by how sure they are: fixed, planned, only perhaps.

use crate::advice::Item;
use crate::scripts::{Line, Priced};
use rust_decimal::Decimal;

/// The lines of a quotation by how sure they are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Groups<'p> {
    /// What has a fixed price.
    pub fixed: Vec<&'p Line>,
    /// What the order of work calls for, and what was seen does not make certain: up to the
    /// amount.
    pub planned: Vec<&'p Line>,
    /// What only may come to it, up to the amount.
    pub perhaps: Vec<&'p Line>,
    /// What is fixed and what is planned; `None` if nothing is planned besides what is fixed.
    pub planned_total: Option<Decimal>,
}

impl<'p> Groups<'p> {
    /// Groups the lines; `items` are those that the prices were asked for.
    #[must_use]
    pub fn of(priced: &'p Priced, items: &[Item]) -> Groups<'p> {
        let provisional = priced.provisional.iter();
        let (planned, perhaps): (Vec<&Line>, Vec<&Line>) =
            provisional.partition(|line| is_planned(line, items));
        let more: Decimal = planned.iter().map(|line| line.amount).sum();
        Groups {
            fixed: priced.fixed.iter().collect(),
            planned_total: (!planned.is_empty()).then(|| priced.fixed_total + more),
            planned,
            perhaps,
        }
    }
}

/// Whether the order of work calls for what a line is for.
fn is_planned(line: &Line, items: &[Item]) -> bool {
    let item = line.item.and_then(|item| items.get(item));
    item.is_some_and(|item| item.called)
}
