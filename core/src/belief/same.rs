//! Parts whose chances come from the very same numbers: then they are worked out
//! once and copied. Before anything is answered about them, most drawers of a chest
//! are such parts.

use core::ops::Range;

use super::Belief;
use super::memory::copy_within;
use crate::number::Number;
use crate::piece::Piece;

impl<N: Number> Belief<'_, N> {
    /// Where a part's message stands.
    pub(super) fn message_of(&self, piece: &Piece<'_>, part: usize) -> Range<usize> {
        self.messages(piece, part..part + 1)
    }

    /// Where the messages of the parts built into one stand.
    fn messages_within(&self, piece: &Piece<'_>, part: usize) -> Range<usize> {
        let record = piece.record(part);
        let first = usize::from(record.first_child);
        self.messages(piece, first..first + usize::from(record.children))
    }

    fn messages(&self, piece: &Piece<'_>, parts: Range<usize>) -> Range<usize> {
        // There may be more desks than parts.
        let used = self.desks.get(..piece.parts().len()).unwrap_or(&[]);
        let start = |part: usize| used.get(part).map(|desk| desk.message as usize);
        let end = start(parts.end).unwrap_or(self.need.messages);
        start(parts.start).unwrap_or(end)..end
    }

    /// Whether the message of another part that stands at the same place comes from
    /// the same answers and the same messages, and is up to date.
    pub(super) fn is_given_the_same(&self, piece: &Piece<'_>, part: usize, other: usize) -> bool {
        let (a, b) = (piece.record(part), piece.record(other));
        if a.place != b.place || a.children != b.children {
            return false;
        }
        let (Some(one), Some(two)) = (self.desks.get(part), self.desks.get(other)) else {
            return false;
        };
        let places = |part: usize| {
            let record = piece.record(part);
            let first = usize::from(record.first_child);
            let inner = first..first + usize::from(record.children);
            let inner = piece.parts().get(inner).unwrap_or(&[]);
            inner.iter().map(|part| part.place)
        };
        let up = |range: Range<usize>| self.numbers.get(range);
        !two.stale
            && (one.known, one.holds) == (two.known, two.holds)
            && piece.answers_of(part) == piece.answers_of(other)
            && places(part).eq(places(other))
            && up(self.messages_within(piece, part)) == up(self.messages_within(piece, other))
    }

    /// Whether the chances of another part come from the same, on the way down too,
    /// and are up to date.
    pub(super) fn is_told_the_same(&self, piece: &Piece<'_>, part: usize, other: usize) -> bool {
        let down = |part: usize| {
            let message = self.message_of(piece, part);
            let messages = self.need.messages;
            self.numbers
                .get(message.start + messages..message.end + messages)
        };
        piece.record(part).place == piece.record(other).place
            && self.desks.get(other).is_some_and(|desk| desk.settled)
            && down(part) == down(other)
            && self.is_given_the_same(piece, part, other)
    }

    /// Gives a part the chances of another, and its parts what those of the other
    /// are told.
    pub(super) fn copy_chances(&mut self, piece: &Piece<'_>, from: usize, to: usize) {
        let pairs = |part: usize| self.pairs_of(piece, part);
        let ((pairs_from, pairs_to), (from, to)) = (
            (pairs(from), pairs(to)),
            (
                self.messages_within(piece, from),
                self.messages_within(piece, to),
            ),
        );
        let areas = self.areas();
        copy_within(areas.pairs, pairs_from, pairs_to);
        copy_within(areas.down, from, to);
    }
}
