//! What hangs on a state that may be there or not, and whether knowing something
//! else would change what is best done about it.

use super::circuit;
use crate::number::{Number, Share};

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
            state: yes.times(N::from_whole(missed.saturating_add(needless).into())),
            even: yes.plus(no).times(N::from_whole(needless.into())),
        };
        let (unexpected, expected) = stake.costs(stake.chance.units(), Share::WHOLE.units());
        stake.is_expected = expected < unexpected;
        // A thousandth is allowed for rounding.
        let margin = if stake.is_expected { 1025 } else { 1023 };
        stake.even = stake.even.times(N::from_whole(margin).shifted(-10));
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
        let entries = || {
            let both = before.iter().zip(now).zip(rest);
            let counts = both.filter(|((before, _), rest)| !before.is_zero() && !rest.is_zero());
            counts.map(|((&before, &now), &rest)| (before, now, rest))
        };
        let nothing = (N::ZERO, N::ZERO);
        let sums = entries().fold(nothing, |(old, new), (before, now, rest)| {
            (old.plus_product(before, rest), new.plus_product(now, rest))
        });
        self.turns_round(sums, entries().map(|(before, now, _)| (before, now)))
    }

    /// As [`Self::depends_on`] for the weights of no and yes.
    pub(crate) fn depends_on_whether(&self, before: [N; 2], now: [N; 2]) -> bool {
        let sum = |[no, yes]: [N; 2]| no.plus(yes);
        let entries = before.into_iter().zip(now);
        let mut counts = entries.filter(|(before, _)| !before.is_zero());
        before != now && self.turns_round((sum(before), sum(now)), &mut counts)
    }

    fn turns_round(
        &self,
        (before, now): (N, N),
        mut entries: impl Iterator<Item = (N, N)>,
    ) -> bool {
        let (state, even) = (self.state.times(before), self.even.times(now));
        // A product is at least the one power of two, and below the other.
        let apart = even.exponent() - state.exponent();
        entries.any(|(before, now)| {
            let apart = apart + before.exponent() - now.exponent();
            let is_sure = !now.is_zero() && !state.is_zero() && !even.is_zero();
            if is_sure && apart.abs() >= 2 {
                return (apart < 0) != self.is_expected;
            }
            let (state, even) = (state.times(now), even.times(before));
            if self.is_expected {
                state <= even
            } else {
                state >= even
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A state that is there in one of four cases; a minute is lost either way.
    fn stake() -> Stake<f64> {
        Stake::new((3.0, 1.0), 1, 1)
    }

    #[test]
    fn a_saving_counts_from_more_than_a_1024th_of_a_minute() {
        // An outcome with which the state is certain turns the choice round.
        assert_eq!(stake().saved([(LEAST, LEAST)].into_iter()), None);
        let more = LEAST + 1;
        assert_eq!(stake().saved([(more, more)].into_iter()), Some(more));
        // One with which it is as it was turns nothing round.
        assert_eq!(stake().saved([(4 * more, more)].into_iter()), None);
    }

    #[test]
    fn what_cannot_be_or_costs_nothing_does_not_matter() {
        assert!(stake().matters());
        assert!(!Stake::new((1.0, 0.0), 1, 1).matters());
        assert!(!Stake::new((0.0, 1.0), 1, 1).matters());
        assert!(!Stake::new((3.0, 1.0), 0, 1).matters());
        assert!(!Stake::new((3.0, 1.0), 1, 0).matters());
        // The better choice costs a minute in 2048 cases: too little.
        assert!(!Stake::new((2047.0, 1.0), 1, 1).matters());
        assert!(Stake::new((1000.0, 1.0), 1, 1).matters());
    }

    #[test]
    fn the_choice_turns_round_where_the_chance_passes_the_mark() {
        // The choice is turned where the state is likelier than not: at an even chance.
        let held = |with: f64, without: f64| {
            // Weights of no and yes of something else: before, and with the state held.
            stake().depends_on_whether([8.0 - with - without, with + without], [2.0 - with, with])
        };
        // Yes comes with the state in 1.5 of 2 cases and without it in 1 of 6: it turns.
        assert!(held(1.5, 1.0));
        // In 1 of 2 and 3 of 6: no news of the state.
        assert!(!held(1.0, 3.0));
    }
}
