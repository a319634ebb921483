//! The owner's limits, and what was invoiced and paid.

use super::Gathering;
use crate::kind::Kind;
use tellmark_job::limits;
use tellmark_job::papers::Account;
use tellmark_language::words::capital;

/// "Within your limit of 20 hours: the work takes mostly 16 h 55." Once the piece goes home, what
/// it took and cost is told instead.
pub(super) fn limits(g: &Gathering<'_>) -> Vec<String> {
    if g.kind == Kind::HandBack {
        return Vec::new();
    }
    let limits = limits::limits(
        g.matter.progress,
        &g.matter.work(g.plan, &g.matter.waits()),
        g.matter.today(),
    );
    let said = limits.iter().filter(|limit| !limit.comes_to.is_empty());
    said.map(|limit| format!("{}.", capital(&limit.sentence("your"))))
        .collect()
}

/// "845.00 marks invoiced, 250.00 paid, 595.00 left to pay." A paper that cannot be gone by says
/// nothing here.
pub(super) fn account(g: &Gathering<'_>) -> String {
    match Account::of(g.matter.job()) {
        Ok(Some(account)) => format!("{}.", capital(&account.in_words("yours"))),
        _ => String::new(),
    }
}
