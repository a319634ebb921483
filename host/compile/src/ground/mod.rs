//! The belief network of one piece, part by part.
//!
//! The same sentences as in a pack, read once more and laid out for every part of a
//! piece, with nothing shared and nothing summed out: a second, independent way to the
//! same chances. Tests enumerate its worlds, other libraries are given it, bench hours
//! are worked out on it, and reasons are found by walking along it.

mod causes;
mod claim;
mod condition;

pub use claim::Claim;

use crate::fitted::Fitted;
use crate::places::Places;
use crate::rules::Rules;
use crate::states::States;
use tellmark_language::model::{Condition, KindId, Model, PIECE, Placing, Working};

/// A part of the piece, in the same order as the core sets parts up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GroundPart {
    /// Its place.
    pub place: usize,
    /// The part it is built into.
    pub owner: Option<usize>,
    /// Which of its owner's parts of this kind, from 1.
    pub number: u8,
}

/// Which sentence gives a reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum SentenceId {
    /// `If … then …`.
    Rule(usize),
    /// `If …, that usually means …`.
    Means(usize),
    /// `If at least two of these …, that usually means …`.
    Together(usize),
    /// `A … can be … only if …`: its start, where it can be at all.
    OnlyIf(usize),
    /// What the words themselves mean.
    Meaning,
}

/// Something that can bring a state about.
#[derive(Clone, Debug, PartialEq)]
pub struct GroundCause {
    /// When it can.
    pub when: Claim,
    /// How often it then does.
    pub weight: f64,
    /// The sentence that says so.
    pub sentence: SentenceId,
}

/// A state of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct GroundState {
    /// The part.
    pub part: usize,
    /// The row of the pack's states.
    pub row: usize,
    /// Its chance when nothing gives a reason for it.
    pub own: f64,
    /// What gives reasons for it.
    pub causes: Vec<GroundCause>,
    /// Whether it takes part in the network.
    pub in_use: bool,
}

/// The belief network of one piece.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ground {
    /// The parts.
    pub parts: Vec<GroundPart>,
    /// The states of all parts.
    pub states: Vec<GroundState>,
    first: Vec<usize>,
}

impl Ground {
    /// The network of a piece with these counts; `count` says how many parts of a
    /// place an owner (its index, and the parts set up so far) has.
    pub(super) fn of(
        rules: Rules<'_>,
        fitted: &Fitted,
        root: usize,
        count: impl FnMut(&[GroundPart], usize, usize) -> u8,
    ) -> Self {
        let mut ground = Self::default();
        ground.add_parts(rules.places, root, count);
        for part in 0..ground.parts.len() {
            ground.first.push(ground.states.len());
            let place = ground.parts[part].place;
            for row in rules.places.states(rules.states, place) {
                let state = &rules.states.states[row];
                ground.states.push(GroundState {
                    part,
                    row,
                    own: fitted.false_alarm(place, row).unwrap_or(state.own),
                    causes: Vec::new(),
                    // Where each part stands is known here; nothing asks for it.
                    in_use: state.in_use && !rules.is_place(row),
                });
            }
        }
        causes::add_all(rules, &mut ground, fitted);
        ground
    }

    /// As it would be if every `that means` sentence had a link from its fault
    /// to its sign: enough to look for circles in.
    #[must_use]
    pub fn assumed(
        rules: Rules<'_>,
        root: usize,
        count: impl FnMut(&[GroundPart], usize, usize) -> u8,
    ) -> Self {
        Self::of(rules, &Fitted::assumed(rules), root, count)
    }

    /// A condition about a part, as a claim about the states of this piece. What the
    /// rules of a network may not say (sureness, what cannot be seen) is taken as in a
    /// world in which everything is known and in sight.
    #[must_use]
    pub fn claim(&self, rules: Rules<'_>, part: usize, condition: &Condition) -> Claim {
        let mut claims = condition::Claims {
            rules,
            ground: self,
        };
        crate::meaning::meaning(&mut claims, &part, condition)
    }

    fn add_parts(
        &mut self,
        places: &Places,
        root: usize,
        mut count: impl FnMut(&[GroundPart], usize, usize) -> u8,
    ) {
        self.parts.push(GroundPart {
            place: root,
            owner: None,
            number: 1,
        });
        let mut at = 0;
        while at < self.parts.len() {
            for child in places.children(self.parts[at].place) {
                let many = count(&self.parts, at, child);
                for number in 1..=many {
                    self.parts.push(GroundPart {
                        place: child,
                        owner: Some(at),
                        number,
                    });
                }
            }
            at += 1;
        }
    }

    /// Whether a part is of this kind.
    #[must_use]
    pub fn is_of(&self, places: &Places, part: usize, kind: KindId) -> bool {
        let record = self.parts[part];
        places.kind(record.place) == kind || (kind == PIECE && record.owner.is_none())
    }

    /// The nearest owner of this kind.
    #[must_use]
    pub fn owner(&self, places: &Places, part: usize, kind: KindId) -> Option<usize> {
        let mut at = self.parts[part].owner;
        while let Some(owner) = at {
            if self.is_of(places, owner, kind) {
                return Some(owner);
            }
            at = self.parts[owner].owner;
        }
        None
    }

    /// The parts down a path of kinds.
    #[must_use]
    pub fn down(&self, places: &Places, part: usize, path: &[KindId]) -> Vec<usize> {
        path.iter().fold(vec![part], |parts, &kind| {
            (0..self.parts.len())
                .filter(|&p| {
                    let record = self.parts[p];
                    record.owner.is_some_and(|o| parts.contains(&o))
                        && places.kind(record.place) == kind
                })
                .collect()
        })
    }

    /// The parts down a path of kinds, of the last kind only those that stand there.
    #[must_use]
    pub fn some_down(
        &self,
        rules: Rules<'_>,
        part: usize,
        (path, only): (&[KindId], Option<&Placing>),
    ) -> Vec<usize> {
        let mut parts = self.down(rules.places, part, path);
        if let Some(only) = only {
            parts.retain(|&part| self.stands(rules.model, part, only));
        }
        parts
    }

    /// Whether a part stands there among its like.
    #[must_use]
    pub fn stands(&self, model: &Model, part: usize, place: &Placing) -> bool {
        let record = self.parts[part];
        let like = self.parts.iter();
        let like = like.filter(|p| p.owner == record.owner && p.place == record.place);
        let last = like.map(|p| p.number).max().unwrap_or(record.number);
        let is_there = place.at.iter().any(|&(sign, number)| {
            let own = match model.signs[sign.index()].place() {
                Some(Working::FromLast) => last + 1 - record.number,
                _ => record.number,
            };
            own == number
        });
        is_there != place.except
    }

    /// The parts of this kind that a part's owner has, but not the part itself.
    #[must_use]
    pub fn others(&self, places: &Places, part: usize, kind: KindId) -> Vec<usize> {
        let Some(owner) = self.parts[part].owner else {
            return Vec::new();
        };
        let mut others = self.down(places, owner, &[kind]);
        others.retain(|&other| other != part);
        others
    }

    /// The number of a row of the pack's states, as a state of this part.
    #[must_use]
    pub fn node(&self, states: &States, places: &Places, part: usize, row: usize) -> Option<usize> {
        let slot = places.slot(states, self.parts[part].place, row)?;
        Some(self.state(part, slot))
    }

    /// The number of a state of a part.
    #[must_use]
    pub fn state(&self, part: usize, slot: usize) -> usize {
        self.first[part] + slot
    }
}
