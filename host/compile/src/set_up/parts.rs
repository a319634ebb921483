//! Which parts of the piece a record's words mean, and what each part is
//! called.

use tellmark_core::pack::NONE;
use tellmark_core::piece::Part;

use crate::places::Places;
use tellmark_language::model::{KindId, PIECE, PartRef, PartStep, Which};

/// Whether these words mean this part.
///
/// The steps go outwards; an owner that is not named may be any.
pub(super) fn is_meant(places: &Places, parts: &[Part], part: usize, meant: &PartRef) -> bool {
    let mut steps = meant.steps.iter();
    let Some(first) = steps.next() else {
        return false;
    };
    if !fits(places, parts, part, first) {
        return false;
    }
    let mut at = part;
    steps.all(|step| {
        while let Some(owner) = owner(parts, at) {
            at = owner;
            if is_of(places, parts, at, step.kind) {
                return fits(places, parts, at, step);
            }
        }
        false
    })
}

fn owner(parts: &[Part], part: usize) -> Option<usize> {
    let owner = parts.get(part)?.owner;
    (owner != NONE).then_some(usize::from(owner))
}

fn is_of(places: &Places, parts: &[Part], part: usize, kind: KindId) -> bool {
    let Some(record) = parts.get(part) else {
        return false;
    };
    places.kind(usize::from(record.place)) == kind || (kind == PIECE && record.owner == NONE)
}

fn fits(places: &Places, parts: &[Part], part: usize, step: &PartStep) -> bool {
    let number = parts.get(part).map_or(0, |p| p.number);
    is_of(places, parts, part, step.kind)
        && match step.which {
            Which::Only | Which::Every => true,
            Which::Number(n) => number == n,
            Which::Named(n) => usize::from(number) == usize::from(n) + 1,
        }
}

/// The words for a part: "left runner of drawer 2". The piece itself is "the
/// chest of drawers".
#[must_use]
pub fn part_ref(places: &Places, parts: &[Part], part: usize) -> PartRef {
    let mut steps = Vec::new();
    let mut at = Some(part);
    while let Some(index) = at {
        let Some(record) = parts.get(index) else {
            break;
        };
        at = owner(parts, index);
        if at.is_none() && !steps.is_empty() {
            break;
        }
        let place = places.get(usize::from(record.place));
        let which = match &place.member {
            None => Which::Only,
            Some(member) if usize::from(record.number) <= member.names.len() => {
                Which::Named(record.number.saturating_sub(1))
            }
            Some(member) if member.most <= 1 => Which::Only,
            Some(_) => Which::Number(record.number),
        };
        steps.push(PartStep {
            kind: place.kind,
            which,
        });
    }
    PartRef {
        steps,
        at: tellmark_language::span::Span::default(),
    }
}
