//! The chances with one state held true, as if it were evidence, worked out beside those
//! without it, which stay as they are.
//!
//! What a part's owners and own parts say of it does not depend on it (its
//! message enters each product once), so the work starts at the part that has the
//! state and spreads from there. It goes no further than it can matter: past a
//! table that a part shares with its owner, nothing can tell more of the state
//! than the table does. If no entry of it, known for certain, would turn round
//! what is best done about the state, nothing beyond is worth working out. Nor is a
//! part that is like another of the same owner: its chances are the same.

use super::memory::{copy, cut};
use super::stake::Stake;
use super::{Belief, Desk, circuit};
use crate::number::Number;
use crate::pack::{NONE, Pack};
use crate::piece::Piece;

/// Where one part's numbers stand.
#[derive(Clone, Copy, Default)]
struct Span {
    message: usize,
    entries: usize,
    pairs: usize,
    states: usize,
}

impl Span {
    fn message<N>(self, table: &[N]) -> &[N] {
        table
            .get(self.message..self.message + self.entries)
            .unwrap_or(&[])
    }

    fn message_mut<N>(self, table: &mut [N]) -> &mut [N] {
        table
            .get_mut(self.message..self.message + self.entries)
            .unwrap_or(&mut [])
    }
}

/// Memory for what follows with the state held, beside what is known without it.
struct Beside<'b, N> {
    /// What each part is told, as in [`super::memory::Areas`].
    down: &'b mut [N],
    /// The weights of no and yes of the states of the part being worked out.
    pairs: &'b mut [N],
}

/// How one part is worked out.
#[derive(Clone, Copy)]
struct Pass {
    part: usize,
    /// Which of its states is held true, if it is one of its own.
    held: Option<usize>,
    /// Where in [`Beside::down`] stands what it is told. `None`: it is told what it was
    /// told before, and its message to its owner goes to its own place there.
    told: Option<Span>,
}

/// A part whose chances were worked out with the state held.
#[derive(Debug)]
pub(crate) struct Moved<'s, N> {
    /// Which part.
    pub(crate) part: usize,
    /// The weights of its states, no and yes of each in turn, as they are.
    pub(crate) before: &'s [N],
    /// The same with the state held.
    pub(crate) now: &'s [N],
    desks: &'s [Desk],
}

impl<N> Moved<'_, N> {
    /// The part, and those whose chances are the same.
    pub(crate) fn parts(&self) -> impl Iterator<Item = usize> + '_ {
        let shares = self.desks.iter().enumerate().skip(self.part + 1);
        let others = shares.filter(|(_, desk)| usize::from(desk.shares) == self.part);
        core::iter::once(self.part).chain(others.map(|(part, _)| part))
    }

    /// The part that has the state, and those that can change places with it.
    pub(crate) fn instead(&self) -> impl Iterator<Item = usize> + '_ {
        let desks = self.desks.iter().enumerate();
        desks.filter(|(_, desk)| desk.instead).map(|(part, _)| part)
    }
}

impl<N: Number> Belief<'_, N> {
    /// Brings the chances of one part up to date that is not; `false` if all are.
    pub(crate) fn look_at_one(&mut self, pack: &Pack<'_>, piece: &Piece<'_>) -> bool {
        // There may be more desks than parts.
        let mut desks = self.desks.iter().take(piece.parts().len());
        let part = desks.position(|desk| !desk.settled);
        if let Some(part) = part {
            self.look(pack, piece, part);
        }
        part.is_some()
    }

    /// Holds a state true (the part's `slot`-th) and gives every part in which an
    /// answer may bring it past the mark. All chances are up to date. `beside`
    /// has [`super::Need::to_hold`] numbers. Everything is left as it was; how
    /// many parts were worked out comes back.
    pub(crate) fn hold(
        &mut self,
        (pack, piece): (&Pack<'_>, &Piece<'_>),
        (part, slot): (usize, usize),
        stake: &Stake<N>,
        beside: &mut [N],
        mut found: impl FnMut(Moved<'_, N>),
    ) -> usize {
        let need = self.need;
        let (down, rest) = cut(beside, need.messages);
        let (kept, pairs) = cut(rest, need.message);
        let mut beside = Beside { down, pairs };
        for other in 0..self.desks.len() {
            let instead = self.can_change_places(piece, part, other);
            if let Some(desk) = self.desks.get_mut(other) {
                desk.instead = instead;
            }
        }
        let (mut at, mut held, mut from) = (part, Some(slot), None);
        let mut worked = 0;
        loop {
            let span = self.span(pack, piece, at);
            let pass = Pass {
                part: at,
                held,
                told: None,
            };
            self.work(pack, piece, pass, &mut beside);
            if let Some(inner) = from {
                self.swap_report(self.span(pack, piece, inner), kept);
            }
            copy(kept, span.message(beside.down));
            for desk in self.desks.iter_mut() {
                desk.reached = false;
                desk.shares = NONE;
            }
            found(self.moved(at, span, beside.pairs));
            worked += 1 + self.spread((pack, piece), (at, from), stake, &mut beside, &mut found);

            let owner = piece.record(at).owner;
            let report = kept.get(..span.entries).unwrap_or(&[]);
            let areas = self.areas();
            let goes_on =
                stake.depends_on(span.message(areas.up), report, span.message(areas.down));
            if owner == NONE || !goes_on {
                return worked;
            }
            self.swap_report(span, kept);
            (from, held, at) = (Some(at), None, usize::from(owner));
        }
    }

    /// Works out everything below a part that can matter, other than what is
    /// built into `from`.
    fn spread(
        &mut self,
        (pack, piece): (&Pack<'_>, &Piece<'_>),
        (at, from): (usize, Option<usize>),
        stake: &Stake<N>,
        beside: &mut Beside<'_, N>,
        found: &mut impl FnMut(Moved<'_, N>),
    ) -> usize {
        self.share_out(piece, at, from);
        let mut worked = 0;
        let first = usize::from(piece.record(at).first_child);
        for inner in first..piece.parts().len() {
            let owner = usize::from(piece.record(inner).owner);
            let desk = self.desks.get(inner).copied().unwrap_or_default();
            let is_near = owner == at || self.desks.get(owner).is_some_and(|desk| desk.reached);
            if usize::from(desk.shares) != inner || !is_near {
                continue;
            }
            let span = self.span(pack, piece, inner);
            let areas = self.areas();
            let (before, rest) = (span.message(areas.down), span.message(areas.up));
            if !stake.depends_on(before, span.message(beside.down), rest) {
                continue;
            }
            let pass = Pass {
                part: inner,
                held: None,
                told: Some(span),
            };
            self.work(pack, piece, pass, beside);
            if let Some(desk) = self.desks.get_mut(inner) {
                desk.reached = true;
            }
            found(self.moved(inner, span, beside.pairs));
            worked += 1;
        }
        worked
    }

    /// Which parts below `at`, other than what is built into `from`, share the
    /// chances of another.
    fn share_out(&mut self, piece: &Piece<'_>, at: usize, from: Option<usize>) {
        let first = usize::from(piece.record(at).first_child);
        for inner in first..piece.parts().len() {
            let owner = usize::from(piece.record(inner).owner);
            let number = |part: usize| {
                let owner = usize::from(piece.record(part).owner);
                part.wrapping_sub(usize::from(piece.record(owner).first_child))
            };
            let shared = |part: usize| self.desks.get(part).map_or(NONE, |desk| desk.shares);
            let likes = if owner == at {
                match from {
                    Some(from) if from == inner => continue,
                    _ => self.first_like(piece, inner, from),
                }
            } else if shared(owner) == NONE {
                continue;
            } else if usize::from(shared(owner)) == owner {
                self.first_like(piece, inner, None)
            } else {
                let like_owner = piece.record(usize::from(shared(owner)));
                let there = usize::from(like_owner.first_child).wrapping_add(number(inner));
                usize::from(shared(there))
            };
            if let Some(desk) = self.desks.get_mut(inner) {
                desk.shares = u16::try_from(likes).unwrap_or(NONE);
            }
        }
    }

    fn span(&self, pack: &Pack<'_>, piece: &Piece<'_>, part: usize) -> Span {
        let fragment = super::fragment(pack, usize::from(piece.record(part).place));
        self.desks.get(part).map_or(Span::default(), |desk| Span {
            message: desk.message as usize,
            entries: fragment.entries(),
            pairs: desk.pairs as usize,
            states: 2 * usize::from(fragment.states),
        })
    }

    /// Works a part out: the weights of its states go to `beside.pairs`, what it tells
    /// its parts to `beside.down`.
    fn work(&mut self, pack: &Pack<'_>, piece: &Piece<'_>, pass: Pass, beside: &mut Beside<'_, N>) {
        let part = pass.part;
        let fragment = self.run(pack, piece, part, pass.held);
        let program = pack.program(&fragment);
        let span = self.span(pack, piece, part);
        let known = self.known_reads(part);
        let areas = self.areas();
        let message = if let Some(span) = pass.told {
            span.message(beside.down)
        } else {
            let message = span.message_mut(beside.down);
            circuit::report(&program, known, areas.values, message);
            span.message(areas.down)
        };
        circuit::derive(&program, message, areas.values, areas.slopes, beside.pairs);
        self.tell_parts(pack, piece, part, Some(beside.down));
    }

    fn swap_report(&mut self, span: Span, kept: &mut [N]) {
        let report = span.message_mut(self.areas().up);
        for (one, other) in report.iter_mut().zip(kept) {
            core::mem::swap(one, other);
        }
    }

    fn moved<'s>(&'s self, part: usize, span: Span, now: &'s [N]) -> Moved<'s, N> {
        let pairs = 2 * self.need.messages + span.pairs;
        let before = self.numbers.get(pairs..pairs + span.states);
        Moved {
            part,
            before: before.unwrap_or(&[]),
            now: now.get(..span.states).unwrap_or(&[]),
            desks: self.desks,
        }
    }
}
