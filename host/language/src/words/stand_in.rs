//! One job in the place of another, as one plain sentence.

use super::condition::condition;
use super::entries::{for_each, job_name, plan_hints, source_mark};
use crate::model::{Model, StandIn};

/// "For each piece: when it is going to a museum, plan to support the webbing: 2 h, in the
/// place of “renew the webbing”. \[house\]"
#[must_use]
pub fn stand_in(model: &Model, stand_in: &StandIn) -> String {
    let each = for_each(model, stand_in.subject);
    let when = condition(model, stand_in.subject, &stand_in.when);
    let (job, hints) = (
        job_name(model, stand_in.job),
        plan_hints(model, stand_in.job),
    );
    let replaced = job_name(model, stand_in.replaced);
    let source = source_mark(model, stand_in.source);
    format!(
        "{each}: when {when}, wherever you would plan to {replaced}, plan to {job} in its \
         place{hints}.{source}"
    )
}
