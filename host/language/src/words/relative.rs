//! What is older than what, as one plain sentence.

use super::condition::condition;
use super::entries::{evidence_word, for_each, source_mark};
use super::part::{kind_name, kind_plural};
use crate::model::{Beside, Model, Relative};

/// "For each door: each of its locks is usually later than it (fair evidence). \[house\]"
#[must_use]
pub fn relative(model: &Model, relative: &Relative) -> String {
    let each = for_each(model, relative.subject);
    let when = relative.when.as_ref().map_or_else(String::new, |when| {
        format!("when {}, ", condition(model, relative.subject, when))
    });
    let parts = kind_plural(model, relative.part);
    let says = match relative.says {
        Beside::EachLater if is_only(model, relative) => {
            format!(
                "its {} is usually later than it",
                kind_name(model, relative.part)
            )
        }
        Beside::EachLater => format!("each of its {parts} is usually later than it"),
        Beside::OneLater => format!("one at least of its {parts} is later than it"),
    };
    let evidence = evidence_word(relative.evidence);
    let source = source_mark(model, relative.source);
    format!("{each}: {when}{says} ({evidence} evidence).{source}")
}

/// Whether there is at most one such part.
fn is_only(model: &Model, relative: &Relative) -> bool {
    let kind = model.kinds.get(relative.subject.index());
    let mut members = kind.into_iter().flat_map(|kind| &kind.members);
    members.any(|member| member.kind == relative.part && member.most == 1)
}
