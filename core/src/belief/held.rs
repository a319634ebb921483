//! The chances with one state held true, worked out beside those that are known,
//! which stay as they are.
//!
//! What a part's owners and own parts say of it does not depend on it (its
//! message enters each product once), so the work starts at the part that has the
//! state and spreads from there. It goes no further than it can matter: past a
//! table that a part shares with its owner, nothing can tell more of the state
//! than the table does. If no entry of it, known for certain, would turn round
//! what is best done about the state, nothing beyond is worth working out.

use super::likelihood::whole;
use super::{Belief, circuit, cut};
use crate::number::{Number, Share};
use crate::pack::{NONE, Pack};
use crate::piece::Piece;

/// Expected savings up to this are nothing: a 1 024th of a minute, in 2⁻³².
const LEAST: u64 = 1 << 22;

/// What hangs on a state: minutes lost if it is there and nobody expects it, and
/// if everybody does and it is not there. The better choice is taken.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stake<N> {
    missed: u32,
    needless: u32,
    chance: Share,
    /// The better choice, as things stand, is to expect it.
    is_expected: bool,
    /// Weight of the state, and of the chance at which both choices cost the
    /// same.
    state: N,
    even: N,
}

impl<N: Number> Stake<N> {
    /// For a state with these weights (no, yes). The minutes are below 2¹⁹.
    pub(crate) fn new((no, yes): (N, N), missed: u32, needless: u32) -> Self {
        let mut weights = [no, yes];
        circuit::level(&mut weights);
        let [no, yes] = weights;
        let mut stake = Self {
            missed,
            needless,
            chance: N::share(yes, no),
            is_expected: false,
            state: yes.times(whole(missed.saturating_add(needless))),
            even: yes.plus(no).times(whole(needless)),
        };
        let (unexpected, expected) = stake.costs(stake.chance.units(), Share::WHOLE.units());
        stake.is_expected = expected < unexpected;
        // A thousandth is allowed for rounding.
        let margin = if stake.is_expected { 1025 } else { 1023 };
        stake.even = stake.even.times(whole::<N>(margin).shifted(-10));
        stake
    }

    /// The state's chance.
    pub(crate) fn chance(&self) -> Share {
        self.chance
    }

    /// Whether it matters at all: it may or may not be there, and the better
    /// choice costs something.
    pub(crate) fn matters(&self) -> bool {
        let (unexpected, expected) = self.costs(self.chance.units(), Share::WHOLE.units());
        self.chance < Share::WHOLE && unexpected.min(expected) > LEAST
    }

    /// What not expecting it costs, and expecting it, in minutes of 2⁻³², where
    /// something has the chance `all` and is so together with the state with the
    /// chance `with`.
    fn costs(&self, with: u64, all: u64) -> (u64, u64) {
        let without = all.saturating_sub(with);
        (
            with.saturating_mul(u64::from(self.missed)),
            without.saturating_mul(u64::from(self.needless)),
        )
    }

    /// What is saved, in minutes of 2⁻³², by knowing which of these is so: each
    /// with its chance, and its chance together with the state. Only those count
    /// that turn the better choice round.
    pub(crate) fn saved(&self, outcomes: impl Iterator<Item = (u64, u64)>) -> Option<u64> {
        let gains = outcomes.map(|(all, with)| {
            let (unexpected, expected) = self.costs(with, all);
            if self.is_expected {
                expected.saturating_sub(unexpected)
            } else {
                unexpected.saturating_sub(expected)
            }
        });
        Some(gains.fold(0, u64::saturating_add)).filter(|&saved| saved > LEAST)
    }

    /// Whether knowing which entry of a table is so could turn the better choice
    /// round. The weight of an entry is its number times that in `rest`; `before`
    /// became `now` when the state was held. With an entry known to be so, the
    /// state's chance is what it is now, times P(entry | state) / P(entry).
    pub(crate) fn depends_on(&self, before: &[N], now: &[N], rest: &[N]) -> bool {
        if before == now {
            return false;
        }
        let sum = |table: &[N]| {
            let both = table.iter().zip(rest);
            both.fold(N::ZERO, |sum, (&a, &b)| sum.plus(a.times(b)))
        };
        let (state, even) = (self.state.times(sum(before)), self.even.times(sum(now)));
        let mut entries = before.iter().zip(now).zip(rest);
        entries.any(|((&before, &now), rest)| {
            let (state, even) = (state.times(now), even.times(before));
            let turns = if self.is_expected {
                state <= even
            } else {
                state >= even
            };
            turns && !before.is_zero() && !rest.is_zero()
        })
    }
}

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

/// A part whose chances were worked out with the state held.
#[derive(Debug)]
pub(crate) struct Moved<'s, N> {
    /// Which part.
    pub(crate) part: usize,
    /// The weights of its states, no and yes of each in turn, as they are.
    pub(crate) before: &'s [N],
    /// The same with the state held.
    pub(crate) now: &'s [N],
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
        let (mut at, mut held, mut from) = (part, Some(slot), None);
        let mut worked = 0;
        loop {
            let span = self.span(pack, piece, at);
            self.work(pack, piece, at, held, None, down, pairs);
            if let Some(inner) = from {
                self.swap_report(self.span(pack, piece, inner), kept);
            }
            let report = kept.get_mut(..span.entries).unwrap_or(&mut []);
            self.report(pack, piece, at, report);
            found(self.moved(at, span, pairs));
            worked += 1 + self.spread((pack, piece), (at, from), stake, down, pairs, &mut found);

            let owner = piece.part(at).owner;
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
        down: &mut [N],
        pairs: &mut [N],
        found: &mut impl FnMut(Moved<'_, N>),
    ) -> usize {
        for desk in self.desks.iter_mut() {
            desk.reached = false;
        }
        let mut worked = 0;
        let first = usize::from(piece.part(at).first_child);
        for inner in first..piece.parts().len() {
            let owner = usize::from(piece.part(inner).owner);
            let is_near = if owner == at {
                from != Some(inner)
            } else {
                self.desks.get(owner).is_some_and(|desk| desk.reached)
            };
            if !is_near {
                continue;
            }
            let span = self.span(pack, piece, inner);
            let areas = self.areas();
            let (before, rest) = (span.message(areas.down), span.message(areas.up));
            if !stake.depends_on(before, span.message(down), rest) {
                continue;
            }
            let message = Some(span);
            self.work(pack, piece, inner, None, message, down, pairs);
            if let Some(desk) = self.desks.get_mut(inner) {
                desk.reached = true;
            }
            found(self.moved(inner, span, pairs));
            worked += 1;
        }
        worked
    }

    fn span(&self, pack: &Pack<'_>, piece: &Piece<'_>, part: usize) -> Span {
        let fragment = super::fragment(pack, usize::from(piece.part(part).place));
        self.desks.get(part).map_or(Span::default(), |desk| Span {
            message: desk.message as usize,
            entries: fragment.entries(),
            pairs: desk.pairs as usize,
            states: 2 * usize::from(fragment.states),
        })
    }

    /// Works a part out: its weights go to `pairs`, what it tells its parts to
    /// `down`. What it is told is as it was, unless its span is given: then it
    /// stands in `down` too.
    #[allow(clippy::too_many_arguments)]
    fn work(
        &mut self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        part: usize,
        held: Option<usize>,
        told: Option<Span>,
        down: &mut [N],
        pairs: &mut [N],
    ) {
        let fragment = self.run(pack, piece, part, held);
        let program = pack.program(&fragment);
        let span = self.span(pack, piece, part);
        let areas = self.areas();
        let message = match told {
            Some(span) => span.message(down),
            None => span.message(areas.down),
        };
        circuit::derive(&program, message, areas.values, areas.slopes, pairs);
        self.tell_parts(pack, piece, part, Some(down));
    }

    /// The message upwards of the part that was worked out last.
    fn report(&mut self, pack: &Pack<'_>, piece: &Piece<'_>, part: usize, message: &mut [N]) {
        let fragment = super::fragment(pack, usize::from(piece.part(part).place));
        let known = self.known_reads(part);
        let program = pack.program(&fragment);
        circuit::report(&program, known, self.areas().values, message);
    }

    fn swap_report(&mut self, span: Span, kept: &mut [N]) {
        let report = span.message_mut(self.areas().up);
        for (one, other) in report.iter_mut().zip(kept) {
            core::mem::swap(one, other);
        }
    }

    fn moved<'s>(&'s mut self, part: usize, span: Span, now: &'s [N]) -> Moved<'s, N> {
        let before = self.areas().pairs;
        Moved {
            part,
            before: before
                .get(span.pairs..span.pairs + span.states)
                .unwrap_or(&[]),
            now: now.get(..span.states).unwrap_or(&[]),
        }
    }
}
