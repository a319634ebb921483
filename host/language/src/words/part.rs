//! Names of the single parts of a piece.

use crate::model::{KindId, Model, PartRef, PartStep, Which};

/// The kind's own word, "?" if there is no such kind.
pub(super) fn kind_name(model: &Model, kind: KindId) -> &str {
    model
        .kinds
        .get(kind.index())
        .map_or("?", |k| k.name.as_str())
}

/// The kind's plural.
pub(super) fn kind_plural(model: &Model, kind: KindId) -> &str {
    model
        .kinds
        .get(kind.index())
        .map_or("?", |k| k.plural.as_str())
}

/// "runner 1 of drawer 2", "left runner of drawer 2", "the top", "every runner
/// of drawer 2".
#[must_use]
pub fn part_name(model: &Model, part: &PartRef) -> String {
    named(model, part, "every")
}

/// The same with another word for "every", such as "no".
pub(super) fn named(model: &Model, part: &PartRef, every: &str) -> String {
    let mut words = Vec::with_capacity(part.steps.len());
    for (at, step) in part.steps.iter().enumerate() {
        let owner = part.steps.get(at + 1).map(|s| s.kind);
        let every = if at == 0 { every } else { "every" };
        words.push(step_name(model, step, owner, every));
    }
    words.join(" of ")
}

fn step_name(model: &Model, step: &PartStep, owner: Option<KindId>, every: &str) -> String {
    let name = kind_name(model, step.kind);
    match step.which {
        Which::Only => format!("the {name}"),
        Which::Number(n) => format!("{name} {n}"),
        Which::Every => format!("{every} {name}"),
        Which::Named(n) => match given_name(model, step.kind, owner, n) {
            Some(given) => format!("{given} {name}"),
            None => format!("{name} {}", u32::from(n) + 1),
        },
    }
}

/// "left": the name that the makeup of the owner gives the part. Without an
/// owner any makeup that names such parts will do.
fn given_name(model: &Model, kind: KindId, owner: Option<KindId>, n: u8) -> Option<&str> {
    let owners = match owner.and_then(|o| model.kinds.get(o.index())) {
        Some(owner) => std::slice::from_ref(owner),
        None => model.kinds.as_slice(),
    };
    owners
        .iter()
        .flat_map(|k| &k.members)
        .filter(|m| m.kind == kind)
        .find_map(|m| m.names.get(usize::from(n)))
        .map(String::as_str)
}
