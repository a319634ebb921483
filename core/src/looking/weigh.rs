//! What the checks of a part are worth for one fault.

use core::cmp::Reverse;

use super::costs::{Minutes, costs};
use super::outcomes::{Outcome, Outcomes, RARE, outcomes};
use super::{Candidate, Change};
use crate::belief::{Moved, Stake, with_places_changed};
use crate::inspection::Inspection;
use crate::number::Number;
use crate::pack::{Form, Nature, Pack};
use crate::piece::Piece;

/// A fault that may be there and costs something.
pub(super) struct Fault<N> {
    pub(super) part: usize,
    state: u16,
    /// Which of the states of the part it is.
    pub(super) slot: usize,
    pub(super) stake: Stake<N>,
}

impl<N: Number> Fault<N> {
    pub(super) fn that_may_be(
        inspection: &mut Inspection<'_, '_, N>,
        part: usize,
        slot: usize,
        state: u16,
    ) -> Option<Self> {
        let pack = *inspection.pack();
        let record = pack.state(usize::from(state));
        if record.nature != Nature::Hidden {
            return None;
        }
        let weights = inspection.weights(part, slot).ok()?;
        let (missed, needless) = costs(&pack, state, &record);
        let stake = Stake::new(weights, missed, needless);
        stake.matters().then_some(Self {
            part,
            state,
            slot,
            stake,
        })
    }

    /// What a check with these answers changes, if anything.
    fn change(&self, outcomes: &Outcomes) -> Option<Change> {
        let chance = self.stake.chance();
        let both = |outcome: &Outcome| {
            let all = outcome.before;
            (all, chance.of(outcome.now).min(all))
        };
        let saved = self.stake.saved(outcomes.iter().map(both))?;
        let (mut lowest, mut highest) = (chance.units(), chance.units());
        for (all, with) in outcomes.iter().map(both).filter(|&(all, _)| all > RARE) {
            let chance = (with << 16).checked_div(all >> 16).unwrap_or(0);
            lowest = lowest.min(chance);
            highest = highest.max(chance);
        }
        let sixteenths = |units: u64| u16::try_from(units >> 16).unwrap_or(u16::MAX);
        Some(Change {
            part: number(self.part),
            state: self.state,
            saves: Minutes::from_shares(saved),
            now: sixteenths(chance.units()),
            lowest: sixteenths(lowest),
            highest: sixteenths(highest),
        })
    }
}

fn number(n: usize) -> u16 {
    u16::try_from(n).unwrap_or(u16::MAX)
}

/// Adds what each check of a part is expected to take off the loss of a fault. The same
/// holds, with places changed, for every part that shares its chances, and for the same
/// fault of every part that can change places with the one that has it.
pub(super) fn weigh<N: Number>(
    pack: &Pack<'_>,
    piece: &Piece<'_>,
    fault: &Fault<N>,
    moved: &Moved<'_, N>,
    candidates: &mut [Candidate],
    seen: &mut impl FnMut(&Candidate, Change),
) {
    let first = first_of(candidates, moved.part);
    let layout = pack.layout(usize::from(piece.record(moved.part).place));
    for nth in 0..candidates.len() {
        let candidate = candidates.get(first + nth).copied().unwrap_or_default();
        if usize::from(candidate.part) != moved.part || candidate.minutes == 0 {
            return;
        }
        let slot = usize::from(candidate.slot);
        let ask = pack.ask(usize::from(candidate.ask));
        if ask.form == Form::Whether {
            let pair = |pairs: &[N]| {
                [2 * slot, 2 * slot + 1].map(|at| pairs.get(at).copied().unwrap_or(N::ZERO))
            };
            let (before, now) = (pair(moved.before), pair(moved.now));
            if !fault.stake.depends_on_whether(before, now) {
                continue;
            }
        }
        let outcomes = outcomes(pack, &layout, candidate.ask, slot, moved);
        let Some(change) = fault.change(&outcomes) else {
            continue;
        };
        for part in moved.parts() {
            for instead in moved.instead() {
                let there = with_places_changed(piece, (fault.part, instead), part);
                let at = first_of(candidates, there) + nth;
                let same = candidates.get_mut(at);
                if let Some(same) = same.filter(|c| c.ask == candidate.ask) {
                    let part = number(instead);
                    add(same, Change { part, ..change }, seen);
                }
            }
        }
    }
}

/// The first check of a part; they stand in the order of the parts.
pub(super) fn first_of(candidates: &[Candidate], part: usize) -> usize {
    candidates.partition_point(|c| usize::from(c.part) < part)
}

fn add(candidate: &mut Candidate, change: Change, seen: &mut impl FnMut(&Candidate, Change)) {
    candidate.saves = candidate.saves.plus(change.saves);
    // Of those that read the same, the first.
    let rank = |c: &Change| (Reverse(c.saves.tenths()), c.part, c.state);
    if candidate.most.saves.is_nothing() || rank(&change) < rank(&candidate.most) {
        candidate.most = change;
    }
    seen(candidate, change);
}
