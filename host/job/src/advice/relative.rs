//! What the house says of the age of parts beside what they are built into, without a year.
//! These datings are in no table of the pack, since dates are worked out on the host alone.

use tellmark_core::dating::{Evidence, Together};
use tellmark_core::pack::{Bound, Pack};
use tellmark_core::piece::Answer;
use tellmark_core::truth::Truth;

use std::ops::Range;

use super::hangs::parts_of_kind;
use tellmark_compile::set_up::{Case, Origin, SetUp};
use tellmark_language::model::{self, Beside, Relative};

/// A dating of parts beside their owner that holds.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Held {
    /// Index in the model.
    pub(super) relative: usize,
    /// The owner.
    pub(super) owner: usize,
    /// Its parts.
    pub(super) parts: Range<usize>,
    /// What gave the answers without which it would not hold, oldest first.
    pub(super) from: Vec<Origin>,
}

/// Every one that is known to hold, owner by owner.
pub(super) fn held(set_up: &SetUp<'_>, case: &mut Case<'_, f64>) -> Vec<Held> {
    let pack = *case.inspection.pack();
    let mut held = Vec::new();
    for (number, relative) in set_up.model.relatives.iter().enumerate() {
        for owner in parts_of_kind(&pack, case.inspection.piece(), relative.subject) {
            if !holds(set_up, case, relative, owner) {
                continue;
            }
            for parts in members(&pack, case, relative, owner) {
                held.push(Held {
                    relative: number,
                    owner,
                    parts,
                    from: behind(set_up, case, relative, owner),
                });
            }
        }
    }
    held
}

/// Whether it is known to hold of an owner.
fn holds(set_up: &SetUp<'_>, case: &mut Case<'_, f64>, relative: &Relative, owner: usize) -> bool {
    let truth = relative.when.as_ref();
    let truth = truth.map(|when| case.truth_of(set_up, when, owner));
    truth.is_none_or(|truth| truth == Truth::True)
}

/// The parts that it is about: those at each place of their kind that has any.
fn members(
    pack: &Pack<'_>,
    case: &Case<'_, f64>,
    relative: &Relative,
    owner: usize,
) -> Vec<Range<usize>> {
    let piece = case.inspection.piece();
    let Some(record) = piece.part(owner) else {
        return Vec::new();
    };
    let places = pack.children(usize::from(record.place));
    let of_kind = places.filter(|&place| pack.place(place).kind == relative.part.0);
    let parts = of_kind.map(|place| piece.children_at(owner, place));
    parts.filter(|parts| !parts.is_empty()).collect()
}

/// What gave the answers without which it would not hold, oldest first.
fn behind(
    set_up: &SetUp<'_>,
    case: &mut Case<'_, f64>,
    relative: &Relative,
    owner: usize,
) -> Vec<Origin> {
    let mut from = Vec::new();
    if relative.when.is_none() {
        return from;
    }
    for evidence in case.evidence.clone() {
        let given = evidence.given;
        let (part, ask) = (given.part, given.ask);
        let _ = case.inspection.answer(part, ask, Answer::NotLooked);
        if !holds(set_up, case, relative, owner) {
            from.push(evidence.from);
        }
        let _ = case.inspection.answer(part, ask, given.answer);
    }
    from.sort_unstable();
    from.dedup();
    from
}

/// What it says of each of the parts; nothing, if it speaks of them together.
pub(super) fn evidence(set_up: &SetUp<'_>, held: &Held) -> Vec<Evidence> {
    let relative = &set_up.model.relatives[held.relative];
    if relative.says != Beside::EachLater {
        return Vec::new();
    }
    let finding = finding(set_up, held.relative);
    let each = held.parts.clone().map(|part| Evidence {
        part,
        finding,
        bound: Bound::Later(relative.subject.0),
        strength: strength(relative.evidence),
    });
    each.collect()
}

/// What it says of the parts together.
pub(super) fn together(set_up: &SetUp<'_>, held: &Held) -> Option<Together> {
    let relative = &set_up.model.relatives[held.relative];
    (relative.says == Beside::OneLater).then(|| Together {
        parts: held.parts.clone(),
        finding: finding(set_up, held.relative),
        strength: strength(relative.evidence),
    })
}

/// A number for what was found that no dating of the pack has: sentences with the same
/// condition about the same kind speak of one finding.
fn finding(set_up: &SetUp<'_>, relative: usize) -> u32 {
    let all = &set_up.model.relatives;
    let same = |other: &Relative| {
        let this = &all[relative];
        other.subject == this.subject && set_up.is_same(other.when.as_ref(), this.when.as_ref())
    };
    let first = all.iter().position(same).unwrap_or(relative);
    u32::MAX - u32::try_from(first).unwrap_or(0)
}

fn strength(evidence: model::Evidence) -> u8 {
    match evidence {
        model::Evidence::Weak => 0,
        model::Evidence::Fair => 1,
        model::Evidence::Strong => 2,
    }
}
