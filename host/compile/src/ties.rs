//! What jobs say themselves, by `First:` and `Then:`, of the order of work.

use std::collections::BTreeSet;
use tellmark_core::pack::Force;
use tellmark_language::model::{JobId, Model};
use tellmark_language::span::Span;

use crate::numbers::numbers;

/// One job before another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Tie {
    /// Comes first.
    pub(crate) before: JobId,
    /// Comes after it.
    pub(crate) after: JobId,
    /// How it is said.
    pub(crate) force: Force,
    /// The job that says so.
    pub(crate) at: Span,
}

/// Everything that jobs say of the order of work.
///
/// What needs a job first is done before what must follow that job: a door frame is glued
/// while the doors are off. So is what must follow in its turn, as a pane that is set in again.
pub(crate) fn ties(model: &Model) -> Vec<Tie> {
    let jobs = || numbers().map(JobId).zip(&model.jobs);
    let mut all = Vec::new();
    for (id, job) in jobs() {
        let tie = |before, after, force| Tie {
            before,
            after,
            force,
            at: job.at,
        };
        all.extend(job.first.iter().map(|&first| tie(first, id, Force::First)));
        all.extend(job.then.iter().map(|&then| tie(id, then, Force::Then)));
    }
    let said: BTreeSet<(JobId, JobId)> = all.iter().map(|tie| (tie.before, tie.after)).collect();
    let orders = model.orders.iter().filter(|order| order.always);
    let orders: BTreeSet<(JobId, JobId)> = orders.map(|o| (o.before, o.after)).collect();
    for (id, job) in jobs().filter(|(_, job)| !job.then.is_empty()) {
        for (other, meanwhile) in jobs().filter(|(_, other)| other.first.contains(&id)) {
            let between = std::iter::once(&other).chain(&meanwhile.then);
            for (&before, &after) in between.flat_map(|one| job.then.iter().map(move |t| (one, t)))
            {
                let is_said = said.contains(&(before, after))
                    || said.contains(&(after, before))
                    || orders.contains(&(after, before));
                if before != after && !is_said {
                    all.push(Tie {
                        before,
                        after,
                        force: Force::Always,
                        at: meanwhile.at,
                    });
                }
            }
        }
    }
    all
}

/// Whether one job always comes before another: by an order of work, or by what jobs say
/// themselves.
#[must_use]
pub fn always_before(model: &Model, before: JobId, after: JobId) -> bool {
    let mut orders = model.orders.iter().filter(|order| order.always);
    let is_it = |one: JobId, other: JobId| (one, other) == (before, after);
    orders.any(|order| is_it(order.before, order.after))
        || ties(model).iter().any(|tie| is_it(tie.before, tie.after))
}
