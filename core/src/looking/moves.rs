//! How far each check is expected to move the chance of one state, exactly: over every
//! answer that it can have.

use super::outcomes::{Outcomes, RARE, outcomes};
use super::weigh::first_of;
use super::{Candidate, Looking, NotStarted};
use crate::belief::{Moved, Stake};
use crate::inspection::Inspection;
use crate::number::{Number, Share};
use crate::pack::Pack;
use crate::piece::Piece;

/// What a check that has not been made can do to the chance of a state.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Move {
    /// The lowest chance that an answer leads to.
    pub lowest: Share,
    /// The highest.
    pub highest: Share,
    /// How far the chance is expected to move: the mean over all answers, each counted
    /// by its own chance, of how far it moves.
    pub expected: Share,
}

impl Move {
    /// With this chance of the state, and these answers; `None` if none moves it.
    fn of(chance: Share, outcomes: &Outcomes) -> Option<Self> {
        let (mut lowest, mut highest) = (chance.units(), chance.units());
        let mut expected = 0_u64;
        for outcome in outcomes {
            let all = outcome.before;
            let with = chance.of(outcome.now).min(all);
            expected = expected.saturating_add(with.abs_diff(chance.of(all)));
            if all > RARE {
                let after = (with << 16).checked_div(all >> 16).unwrap_or(0);
                lowest = lowest.min(after);
                highest = highest.max(after);
            }
        }
        let moves = Self {
            lowest: Share::from_units(lowest),
            highest: Share::from_units(highest),
            expected: Share::from_units(expected),
        };
        (expected > 0).then_some(moves)
    }
}

impl<N: Number> Looking<'_, N> {
    /// Calls `seen` with every check that has not been made and can move the chance of
    /// a state (the part's `slot`-th). One pass with the state held true tells all. What
    /// was weighed before is lost.
    ///
    /// # Errors
    /// See [`NotStarted`].
    pub fn moves(
        &mut self,
        inspection: &mut Inspection<'_, '_, N>,
        (part, slot): (usize, usize),
        mut seen: impl FnMut(&Candidate, Move),
    ) -> Result<(), NotStarted> {
        self.start(inspection)?;
        self.started = None;
        let Ok(weights) = inspection.weights(part, slot) else {
            return Ok(());
        };
        let (pack, piece, belief) = inspection.judge_parts();
        while belief.look_at_one(pack, piece) {}
        // Nothing hangs on it: so every table that changes at all is followed.
        let stake = Stake::new(weights, 0, 0);
        let chance = stake.chance();
        let candidates = self.candidates.get(..self.used).unwrap_or(&[]);
        belief.hold((pack, piece), (part, slot), &stake, self.numbers, |moved| {
            of_part(pack, piece, chance, &moved, candidates, &mut seen);
        });
        Ok(())
    }
}

/// What the checks of a part, and of those that share its chances, can do.
fn of_part<N: Number>(
    pack: &Pack<'_>,
    piece: &Piece<'_>,
    chance: Share,
    moved: &Moved<'_, N>,
    candidates: &[Candidate],
    seen: &mut impl FnMut(&Candidate, Move),
) {
    let layout = pack.layout(usize::from(piece.record(moved.part).place));
    let checks = |part: usize| {
        let of_part = candidates.iter().skip(first_of(candidates, part));
        of_part.take_while(move |c| usize::from(c.part) == part)
    };
    for (nth, check) in checks(moved.part).enumerate() {
        let outcomes = outcomes(pack, &layout, check.ask, usize::from(check.slot), moved);
        let Some(moves) = Move::of(chance, &outcomes) else {
            continue;
        };
        for part in moved.parts() {
            // Parts that share chances have the same checks open.
            let same = checks(part).nth(nth).filter(|c| c.ask == check.ask);
            if let Some(same) = same {
                seen(same, moves);
            }
        }
    }
}
