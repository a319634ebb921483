//! Parts that are like each other: of one kind, at one place, with the same
//! answered about them and all that is built into them. Rules do not tell such
//! parts of one owner apart, so whatever holds for one of them holds for the other
//! with their places changed.

use super::Belief;
use crate::number::Number;
use crate::pack::NONE;
use crate::piece::Piece;

impl<N: Number> Belief<'_, N> {
    /// Notes which parts are alike.
    pub(crate) fn find_likenesses(&mut self, piece: &Piece<'_>) {
        // Parts come after their owners, so that theirs are known before.
        for part in (0..self.desks.len()).rev() {
            let own = u16::try_from(part).unwrap_or(NONE);
            let mut others = part + 1..self.desks.len();
            let other = others.find(|&other| self.would_be_alike(piece, part, other));
            let likeness = other.map_or(own, |other| self.likeness(other));
            if let Some(desk) = self.desks.get_mut(part) {
                desk.likeness = likeness;
            }
        }
    }

    fn would_be_alike(&self, piece: &Piece<'_>, one: usize, other: usize) -> bool {
        let (a, b) = (piece.record(one), piece.record(other));
        let first = |part: u16| usize::from(part);
        a.place == b.place
            && a.out_of_sight == b.out_of_sight
            && a.children == b.children
            && piece.answers_of(one) == piece.answers_of(other)
            && (0..usize::from(a.children)).all(|n| {
                let (x, y) = (first(a.first_child) + n, first(b.first_child) + n);
                self.likeness(x) == self.likeness(y)
            })
    }

    fn likeness(&self, part: usize) -> u16 {
        self.desks.get(part).map_or(NONE, |desk| desk.likeness)
    }

    /// The first part of the same owner that is like this one, other than `but`;
    /// the part itself if there is none before it.
    pub(super) fn first_like(&self, piece: &Piece<'_>, part: usize, but: Option<usize>) -> usize {
        let record = piece.record(part);
        let first = usize::from(piece.record(usize::from(record.owner)).first_child);
        let mut before = first..part;
        let is_like =
            |&other: &usize| but != Some(other) && self.likeness(other) == self.likeness(part);
        before.find(is_like).unwrap_or(part)
    }

    /// Whether no part before this one can change places with it, alone or
    /// together with their owners.
    pub(crate) fn comes_first(&self, piece: &Piece<'_>, part: usize) -> bool {
        let mut own_and_owners = core::iter::once(part).chain(piece.owners(part));
        own_and_owners.all(|part| {
            piece.record(part).owner == NONE || self.first_like(piece, part, None) == part
        })
    }

    /// Whether two parts can change places, alone or together with their owners.
    pub(super) fn can_change_places(&self, piece: &Piece<'_>, one: usize, other: usize) -> bool {
        if one == other {
            return true;
        }
        let mut owners = piece.owners(one).zip(piece.owners(other));
        piece.record(one).place == piece.record(other).place
            && self.likeness(one) == self.likeness(other)
            && owners.all(|(a, b)| self.likeness(a) == self.likeness(b))
    }
}

/// Where a part comes to stand when `one` and `other`, which can, change places,
/// with their owners.
pub(crate) fn with_places_changed(
    piece: &Piece<'_>,
    (one, other): (usize, usize),
    part: usize,
) -> usize {
    let depth = piece.owners(part).count();
    let on_the_way = |part: usize, up: usize| {
        let mut own_and_owners = core::iter::once(part).chain(piece.owners(part));
        own_and_owners.nth(up)
    };
    let turning = piece.owners(one).count();
    let number = |part: usize| {
        let owner = usize::from(piece.record(part).owner);
        part.wrapping_sub(usize::from(piece.record(owner).first_child))
    };
    let mut image = 0;
    // Whether the way so far is that to `one`.
    let mut is_on_it = true;
    for level in 1..=depth {
        let Some(here) = on_the_way(part, depth - level) else {
            return part;
        };
        let mut at = number(here);
        let ways = turning
            .checked_sub(level)
            .and_then(|up| Some((on_the_way(one, up)?, on_the_way(other, up)?)));
        if let (true, Some((from, to))) = (is_on_it, ways) {
            let (from_number, to_number) = (number(from), number(to));
            if at == from_number {
                at = to_number;
            } else if at == to_number {
                at = from_number;
            }
            is_on_it = here == from;
        }
        image = usize::from(piece.record(image).first_child) + at;
    }
    image
}
