//! The pass downwards: from what the rest of the piece says of a part to the chances of
//! its states, and to what its own parts are told.

use core::ops::Range;

use super::memory::{copy, cut};
use super::{Belief, Desk, circuit, fragment, gather};
use crate::number::Number;
use crate::pack::{Group, NONE, Pack};
use crate::piece::Piece;

impl<N: Number> Belief<'_, N> {
    /// Brings the chances of a part up to date, and those of its owners.
    pub(super) fn look(&mut self, pack: &Pack<'_>, piece: &Piece<'_>, part: usize) {
        if self.desks.get(part).is_some_and(|desk| desk.settled) {
            return;
        }
        let depth = piece.owners(part).count();
        for level in (0..=depth).rev() {
            let at = if level == 0 {
                part
            } else {
                piece.owners(part).nth(level - 1).unwrap_or(0)
            };
            if self.desks.get(at).is_some_and(|desk| !desk.settled) {
                self.pass_down(pack, piece, at);
                if let Some(desk) = self.desks.get_mut(at) {
                    desk.settled = true;
                }
            }
        }
    }

    fn pass_down(&mut self, pack: &Pack<'_>, piece: &Piece<'_>, part: usize) {
        let mut before = 0..part;
        if let Some(other) = before.find(|&other| self.is_told_the_same(piece, part, other)) {
            self.copy_chances(piece, other, part);
            return;
        }
        let fragment = self.run(pack, piece, part, None);
        let program = pack.program(&fragment);
        let desk = self.desks.get(part).copied().unwrap_or_default();
        let record = piece.record(part);
        let areas = self.areas();
        let start = desk.message as usize;
        let message = areas
            .down
            .get_mut(start..start + fragment.entries())
            .unwrap_or(&mut []);
        if record.owner == NONE {
            message.fill(N::ONE);
        }
        let pairs = areas
            .pairs
            .get_mut(desk.pairs as usize..)
            .unwrap_or(&mut []);
        circuit::derive(&program, message, areas.values, areas.slopes, pairs);
        self.tell_parts(pack, piece, part, None);
    }

    /// Tells a part's own parts what the rest of the piece says, in the lent
    /// memory or in memory beside it.
    pub(super) fn tell_parts(
        &mut self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        part: usize,
        mut beside: Option<&mut [N]>,
    ) {
        let place = usize::from(piece.record(part).place);
        let program = pack.program(&fragment(pack, place));
        for (g, child) in pack.children(place).enumerate() {
            let group = program.group(g);
            let first = program.first_table() + usize::from(group.table);
            let children = piece.children_at(part, child);
            self.tell(&group, children, first, beside.as_deref_mut());
        }
    }

    /// Tells the parts of one group what the rest of the piece says of the
    /// states they share with it. The values are written over.
    fn tell(
        &mut self,
        group: &Group,
        children: Range<usize>,
        first: usize,
        beside: Option<&mut [N]>,
    ) {
        let size = group.entries();
        let width = 1_usize << (group.reads + group.feeds);
        let parts = children.len();
        let start = self
            .desks
            .get(children)
            .and_then(<[Desk]>::first)
            .map_or(0, |desk| desk.message as usize);
        let areas = self.areas();
        let messages = start..start + width * parts;
        let (Some(up), Some(down), Some(slopes)) = (
            areas.up.get(messages.clone()),
            beside.unwrap_or(areas.down).get_mut(messages),
            areas.slopes.get(first..first + size),
        ) else {
            return;
        };
        // Two for the derivatives on the way back, one to spare, then the tables
        // before the first part, before the second …
        let (mut after, rest) = cut(areas.values, size);
        let (mut earlier, rest) = cut(rest, size);
        let (spare, before) = cut(rest, size);
        gather::none(group, before.get_mut(..size).unwrap_or(&mut []));
        for (i, report) in up.chunks_exact(width).enumerate() {
            let (known, next) = cut(before, size * (i + 1));
            let known = known.get(size * i..).unwrap_or(&[]);
            let next = next.get_mut(..size).unwrap_or(&mut []);
            if i + 1 == parts {
                break;
            }
            if i == 0 {
                gather::first_part(group, report, next);
            } else {
                gather::with_part(group, known, report, next, spare);
            }
        }
        copy(after, slopes);
        circuit::level(after);
        let report = |part: usize| up.get(width * part..width * (part + 1)).unwrap_or(&[]);
        // With which parts `after` is taken in.
        let mut with = parts;
        for part in (0..parts).rev() {
            let (messages, told) = down
                .split_at_mut_checked(width * (part + 1))
                .unwrap_or_default();
            let message = messages.get_mut(width * part..).unwrap_or(&mut []);
            // Parts that say the same are told the same.
            if let Some(like) = (part + 1..parts).find(|&other| report(other) == report(part)) {
                let like = width * (like - part - 1);
                copy(message, told.get(like..).unwrap_or(&[]));
                continue;
            }
            while with > part + 1 {
                with -= 1;
                gather::slopes_before(group, after, report(with), earlier, spare);
                core::mem::swap(&mut after, &mut earlier);
            }
            if part == 0 {
                gather::slopes_of_first(group, after, message);
            } else {
                let known = before.get(size * part..size * (part + 1)).unwrap_or(&[]);
                gather::slopes_of_part(group, known, after, message, spare);
            }
        }
    }
}
