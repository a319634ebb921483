//! What the owner is told, read back.

use super::condition::condition;
use super::entries::{for_each, source_mark};
use super::grammar::quoted;
use crate::model::{Model, Tell};

/// "For each piece: when it is kept near heating, tell the owner: “Keep it from the radiator.”
/// \[house\]"
#[must_use]
pub fn tell(model: &Model, tell: &Tell) -> String {
    let each = for_each(model, tell.subject);
    let when = condition(model, tell.subject, &tell.when);
    let source = source_mark(model, tell.source);
    format!(
        "{each}: when {when}, tell the owner: {}{source}",
        quoted(&tell.text)
    )
}
