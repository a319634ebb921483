//! The pass upwards: from what was answered about a part and from the messages of its
//! own parts to its message to its owner.

use core::ops::Range;

use super::evidence::{answered, says_something};
use super::memory::{copy, copy_within, cut};
use super::{Belief, Desk, Impossible, circuit, fragment, gather, likelihood};
use crate::number::Number;
use crate::pack::{Fragment, Group, Pack};
use crate::piece::Piece;

impl<N: Number> Belief<'_, N> {
    /// Works out every message upwards that is out of date.
    ///
    /// # Errors
    /// [`Impossible`] if the answers cannot all be true.
    pub fn settle(&mut self, pack: &Pack<'_>, piece: &Piece<'_>) -> Result<(), Impossible> {
        if !self.elsewhere.is_empty() {
            return Ok(());
        }
        if self.stale {
            for part in (0..piece.parts().len()).rev() {
                if self.desks.get(part).is_some_and(|desk| desk.stale) {
                    self.pass_up(pack, piece, part);
                    if let Some(desk) = self.desks.get_mut(part) {
                        desk.stale = false;
                    }
                }
            }
            self.stale = false;
        }
        match self.numbers.first() {
            Some(total) if !total.is_zero() => Ok(()),
            _ => Err(Impossible),
        }
    }

    fn pass_up(&mut self, pack: &Pack<'_>, piece: &Piece<'_>, part: usize) {
        let place = usize::from(piece.record(part).place);
        let reads = fragment(pack, place).reads;
        let (known, holds) = Self::clamped(pack, piece, part, reads);
        if let Some(desk) = self.desks.get_mut(part) {
            desk.known = known;
            desk.holds = holds;
        }
        let mut later = part + 1..piece.parts().len();
        if let Some(other) = later.find(|&other| self.is_given_the_same(piece, part, other)) {
            let (from, to) = (self.message_of(piece, other), self.message_of(piece, part));
            copy_within(self.areas().up, from, to);
            return;
        }
        let known = self.known_reads(part);
        let fragment = self.run(pack, piece, part, None);
        let program = pack.program(&fragment);
        let message = self.message_of(piece, part);
        let areas = self.areas();
        let message = areas.up.get_mut(message).unwrap_or(&mut []);
        circuit::report(&program, known, areas.values, message);
    }

    /// Fills in what a part's program needs and runs it; with one of its states
    /// held true, if that is wanted.
    pub(super) fn run(
        &mut self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        part: usize,
        held: Option<usize>,
    ) -> Fragment {
        let place = usize::from(piece.record(part).place);
        let fragment = fragment(pack, place);
        let program = pack.program(&fragment);
        let (known, holds) = self.known_reads(part);

        for (g, child) in pack.children(place).enumerate() {
            let group = program.group(g);
            let first = program.first_table() + usize::from(group.table);
            let children = piece.children_at(part, child);
            self.gather(&group, children, first);
        }
        let areas = self.areas();
        let values = areas.values;
        for (value, bits) in values.iter_mut().zip(program.constants()) {
            *value = N::from_f64_bits(bits);
        }
        let likelihoods = program.first_likelihood()..program.first_table();
        let likelihoods = values.get_mut(likelihoods).unwrap_or(&mut []);
        if says_something(piece, part) {
            let layout = pack.layout(place);
            let answers = piece.answers_of(part);
            for (pair, state) in likelihoods.chunks_exact_mut(2).zip(layout.states()) {
                let state = pack.state(usize::from(state));
                let (no, yes) = likelihood::of(pack, &layout, &state, &|ask| {
                    answered(&layout, answers, ask)
                });
                copy(pair, &[no, yes]);
            }
        } else {
            likelihoods.fill(N::ONE);
        }
        if let Some(no) = held.and_then(|slot| likelihoods.get_mut(2 * slot)) {
            *no = N::ZERO;
        }
        if known == 0 {
            circuit::forwards(&program, values);
        } else {
            let wanted = (0..fragment.entries()).filter(|entry| entry & known == holds);
            circuit::forwards_for(&program, wanted, values, areas.slopes);
        }
        fragment
    }

    /// Takes in the messages of the parts of one group; the table goes to the
    /// values from `first` on.
    fn gather(&mut self, group: &Group, children: Range<usize>, first: usize) {
        let size = group.entries();
        let message = 1_usize << (group.reads + group.feeds);
        let starts = self
            .desks
            .get(children.clone())
            .and_then(<[Desk]>::first)
            .map_or(0, |desk| desk.message as usize);
        let areas = self.areas();
        let (mut table, rest) = cut(areas.slopes, size);
        let (mut next, spare) = cut(rest, size);
        gather::none(group, table);
        for (i, _) in children.enumerate() {
            // Parts of one kind stand together, and so do their messages.
            let start = starts + i * message;
            let report = areas.up.get(start..start + message).unwrap_or(&[]);
            if i == 0 {
                gather::first_part(group, report, next);
            } else {
                gather::with_part(group, table, report, next, spare);
            }
            core::mem::swap(&mut table, &mut next);
        }
        if let Some(slot) = areas.values.get_mut(first..first + size) {
            copy(slot, table);
        }
    }
}
