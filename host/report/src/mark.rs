//! How each part stands: what was found on it, and whether a hidden fault is likely.

use super::matter::Matter;
use super::sense::is_open;
use std::collections::{BTreeMap, BTreeSet};
use tellmark_compile::Built;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Origin, part_ref, resolve};
use tellmark_core::number::UFloat;
use tellmark_core::pack::NONE;
use tellmark_core::piece::SetUpError;
use tellmark_job::advice::{Triage, Unseen, unseen_by_part};
use tellmark_job::worries::{Worries, sense};
use tellmark_language::model::{Fact, KindId, Model, PartRef, Sense};
use tellmark_language::words::{self, reaches};

/// What is known of a part as far as it was looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Mark {
    /// Looked at, and everything that was looked at is as it should be.
    InOrder,
    /// Something was found that is not as it should be, or that the house says nothing of.
    Found,
    /// Not looked at.
    NotLooked,
    /// It cannot be seen.
    OutOfSight,
}

/// A part of the piece.
#[derive(Clone, Debug)]
pub(super) struct Part {
    /// "left runner of drawer 2".
    pub name: String,
    /// "left runner": without what it is built into.
    pub short: String,
    /// How the language names it.
    pub reference: PartRef,
    /// Its kind.
    pub kind_id: KindId,
    /// Its kind, in the singular and the plural.
    pub kind: (String, String),
    /// What it is built into; `None` for the piece itself.
    pub owner: Option<usize>,
    /// How it stands.
    pub mark: Mark,
    /// A hidden fault is probable.
    pub suspected: bool,
    /// The facts that speak of it, in the order of the record.
    pub facts: Vec<usize>,
    /// Those of them that are not as they should be.
    pub wrong: Vec<usize>,
    /// What is still to be looked at.
    pub unseen: Unseen,
}

/// Threshold, in 100, from which a hidden fault is drawn: that of the word "probably".
const DRAWN: u8 = 60;

/// The parts in the order in which one walks around the piece: each owner's own parts
/// follow it.
pub(super) fn in_order(parts: &[Part]) -> Vec<usize> {
    let mut order = Vec::with_capacity(parts.len());
    let mut waiting: Vec<usize> = parts
        .iter()
        .position(|p| p.owner.is_none())
        .into_iter()
        .collect();
    while let Some(at) = waiting.pop() {
        order.push(at);
        let own = (0..parts.len()).filter(|&p| parts[p].owner == Some(at));
        waiting.extend(own.rev());
    }
    order
}

/// Every part of the piece, each owner before its parts.
pub(super) fn parts(matter: &Matter<'_>, triage: &Triage) -> Result<Vec<Part>, SetUpError> {
    let set_up = matter.found.set_up();
    let (model, built): (&Model, &Built) = (set_up.model, set_up.built);
    let mut room = Room::<UFloat>::default();
    let case = set_up.case(matter.found.pack, &mut room)?;
    let unseen = unseen_by_part(&case);
    let worries = Worries::of(model);
    let mut facts: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
    for (fact, found) in set_up.facts.iter().enumerate() {
        for part in resolve(built, &case.inspection, &found.part) {
            facts.entry(part).or_default().insert(fact);
        }
    }
    let standing: BTreeSet<(usize, usize)> = case
        .evidence
        .iter()
        .filter_map(|evidence| match evidence.from {
            Origin::Fact(fact) => Some((evidence.given.part, fact)),
            Origin::Opened => None,
        })
        .collect();
    let suspected: BTreeSet<usize> = triage
        .groups
        .iter()
        .flat_map(|group| &group.suspects)
        .filter(|suspect| !suspect.opened && reaches(suspect.chance, DRAWN))
        .map(|suspect| suspect.part)
        .collect();
    let records = case.inspection.piece().parts();
    let mut parts: Vec<Part> = Vec::with_capacity(records.len());
    for (at, record) in records.iter().enumerate() {
        let reference = part_ref(&built.places, records, at);
        let name = words::part_name(model, &reference);
        let owner = (record.owner != NONE).then_some(usize::from(record.owner));
        let short = owner
            .and_then(|owner| parts.get(owner))
            .and_then(|owner| name.strip_suffix(&owner.name)?.strip_suffix(" of "))
            .unwrap_or(&name)
            .to_owned();
        let kind: KindId = built.places.kind(usize::from(record.place));
        let of_kind = |kind: KindId| {
            let kind = model.kinds.get(kind.index());
            kind.map_or_else(Default::default, |k| (k.name.clone(), k.plural.clone()))
        };
        let own = facts.remove(&at).unwrap_or_default();
        let is_wrong = |fact: &usize| {
            let found = set_up.facts.get(*fact);
            standing.contains(&(at, *fact)) && found.is_some_and(|f| worries.is_one(model, f))
        };
        let wrong: Vec<usize> = own.iter().copied().filter(is_wrong).collect();
        let is_looked_at = own.iter().any(|&fact| {
            let looked = set_up
                .facts
                .get(fact)
                .filter(|fact| is_looked_at(model, fact));
            standing.contains(&(at, fact)) && looked.is_some()
        });
        let unseen = unseen.get(at).copied().unwrap_or_default();
        parts.push(Part {
            short,
            reference,
            kind_id: kind,
            kind: of_kind(kind),
            owner,
            mark: match () {
                () if !wrong.is_empty() => Mark::Found,
                () if record.out_of_sight => Mark::OutOfSight,
                () if is_looked_at => Mark::InOrder,
                () if unseen.out_of_sight > 0 && unseen.left() == 0 => Mark::OutOfSight,
                () => Mark::NotLooked,
            },
            suspected: suspected.contains(&at),
            facts: own.into_iter().collect(),
            wrong,
            unseen,
            name,
        });
    }
    Ok(parts)
}

/// Whether somebody looked: what the owner told, and how many parts there are, is no look.
fn is_looked_at(model: &Model, fact: &Fact) -> bool {
    let told = matches!(sense(model, fact), Some(Sense::Ask | Sense::Count));
    !told && !is_open(fact)
}
