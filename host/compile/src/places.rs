//! Where kinds of part stand in the tree of each piece.

use tellmark_core::limits::MAX_DEPTH;

use crate::numbers::{Number as _, numbers};
use crate::problem::{Capacity, TooMuch};
use crate::states::States;
use tellmark_language::model::{KindId, Member, Model, PIECE};

/// A kind where it stands in the tree of a piece.
#[derive(Clone, Debug)]
pub struct Place {
    /// The kind.
    pub kind: KindId,
    /// The place it is built into; `None` for a whole piece.
    pub owner: Option<usize>,
    /// One past the last place built into it.
    pub end: usize,
    /// The makeup sentence's words on it; `None` for a whole piece.
    pub member: Option<Member>,
}

/// The places of all pieces, each owner before its parts.
#[derive(Clone, Debug, Default)]
pub struct Places {
    places: Vec<Place>,
}

impl Places {
    /// Lists them.
    ///
    /// # Errors
    /// [`TooMuch`] if parts are built into one another too deeply, or there are more
    /// places than a pack has numbers for.
    pub fn of(model: &Model) -> Result<Self, TooMuch> {
        let mut all = Self::default();
        for (kind_id, kind) in numbers().map(KindId).zip(&model.kinds) {
            if kind.is_piece && kind_id != PIECE {
                all.add(model, kind_id, None, None, 1)?;
            }
        }
        Ok(all)
    }

    fn add(
        &mut self,
        model: &Model,
        kind: KindId,
        owner: Option<usize>,
        member: Option<Member>,
        depth: usize,
    ) -> Result<(), TooMuch> {
        let at = self.places.len();
        if at.half().is_err() {
            return Err(TooMuch {
                what: Capacity::Places,
                found: at + 1,
                most: at,
                at: member.map(|m| m.at),
            });
        }
        if depth > MAX_DEPTH {
            return Err(TooMuch {
                what: Capacity::Depth,
                found: depth,
                most: MAX_DEPTH,
                at: member.map(|m| m.at),
            });
        }
        self.places.push(Place {
            kind,
            owner,
            end: at + 1,
            member,
        });
        for member in &model.kinds[kind.index()].members {
            let inner = Some(member.clone());
            self.add(model, member.kind, Some(at), inner, depth + 1)?;
        }
        self.places[at].end = self.places.len();
        Ok(())
    }

    /// How many there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.places.len()
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.places.is_empty()
    }

    /// One place.
    #[must_use]
    pub fn get(&self, place: usize) -> &Place {
        &self.places[place]
    }

    /// Its kind.
    #[must_use]
    pub fn kind(&self, place: usize) -> KindId {
        self.places[place].kind
    }

    /// What it is built into.
    #[must_use]
    pub fn owner(&self, place: usize) -> Option<usize> {
        self.places[place].owner
    }

    /// The whole piece that it belongs to.
    #[must_use]
    pub fn root(&self, place: usize) -> usize {
        let mut at = place;
        while let Some(owner) = self.owner(at) {
            at = owner;
        }
        at
    }

    /// The most parts that can stand at a place in one owner.
    #[must_use]
    pub fn most(&self, place: usize) -> u8 {
        let member = self.places[place].member.as_ref();
        member.map_or(1, |member| member.most)
    }

    /// Where its owner has parts of this kind.
    #[must_use]
    pub fn beside(&self, place: usize, kind: KindId) -> Option<usize> {
        let mut beside = self.children(self.owner(place)?);
        beside.find(|&at| self.kind(at) == kind)
    }

    /// The places built directly into it.
    pub fn children(&self, place: usize) -> impl Iterator<Item = usize> + '_ {
        (place + 1..self.places[place].end)
            .filter(move |&child| self.places[child].owner == Some(place))
    }

    /// The places a sentence about this kind speaks of.
    #[must_use]
    pub fn of_subject(&self, kind: KindId) -> Vec<usize> {
        (0..self.places.len())
            .filter(|&place| self.is_of_kind(place, kind))
            .collect()
    }

    fn is_of_kind(&self, place: usize, kind: KindId) -> bool {
        let record = &self.places[place];
        record.kind == kind || (kind == PIECE && record.owner.is_none())
    }

    /// The nearest owner of this kind.
    #[must_use]
    pub fn owner_of_kind(&self, place: usize, kind: KindId) -> Option<usize> {
        let mut at = self.places[place].owner;
        while let Some(owner) = at {
            if self.is_of_kind(owner, kind) {
                return Some(owner);
            }
            at = self.places[owner].owner;
        }
        None
    }

    /// The places down a path of kinds.
    #[must_use]
    pub fn down(&self, place: usize, path: &[KindId]) -> Option<Vec<usize>> {
        let mut at = place;
        path.iter()
            .map(|&kind| {
                at = self.children(at).find(|&c| self.places[c].kind == kind)?;
                Some(at)
            })
            .collect()
    }

    /// Its states: those of its kind and, for a whole piece, before them those
    /// that any piece has.
    pub fn states<'s>(
        &'s self,
        states: &'s States,
        place: usize,
    ) -> impl Iterator<Item = usize> + use<'s> {
        let record = &self.places[place];
        let shared = if record.owner.is_none() {
            states.of_kind.first().cloned().unwrap_or(0..0)
        } else {
            0..0
        };
        let own = states
            .of_kind
            .get(record.kind.index())
            .cloned()
            .unwrap_or(0..0);
        shared.chain(own)
    }

    /// Which of the states of a place this one is.
    #[must_use]
    pub fn slot(&self, states: &States, place: usize, state: usize) -> Option<usize> {
        self.states(states, place).position(|row| row == state)
    }
}
