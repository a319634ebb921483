//! What speaks for and against a fault: each answer is taken back in turn, and
//! the change of the odds is its weight. One answer at a time, so that a front end
//! can do it in the background.

use heapless::Vec;

use crate::inspection::{Given, Inspection};
use crate::number::{Number, Share};
use crate::shortlist::Suspect;
use crate::slices::insert;

/// Answers listed.
pub const WEIGHTS: usize = 12;
/// Changes of the odds below this, in 256ths of a doubling, are not listed: about
/// a third of a deciban.
const LEAST: u32 = 28;

/// What one answer does to a fault.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Weight {
    /// The answer.
    pub given: Given,
    /// The chance without it.
    pub without: Share,
    /// It speaks for the fault.
    pub speaks_for: bool,
    /// How far it changes the odds, in 256ths of a doubling.
    size: u32,
}

/// The weights of the answers so far.
#[derive(Clone, Debug)]
pub struct Weighing {
    suspect: Suspect,
    /// Answers weighed.
    next: usize,
    done: bool,
    weights: Vec<Weight, WEIGHTS>,
}

impl Weighing {
    /// Nothing is weighed yet.
    #[must_use]
    pub fn of(suspect: Suspect) -> Self {
        Self {
            suspect,
            next: 0,
            done: false,
            weights: Vec::new(),
        }
    }

    /// The fault.
    #[must_use]
    pub fn suspect(&self) -> Suspect {
        self.suspect
    }

    /// The weights found so far, heaviest first.
    #[must_use]
    pub fn weights(&self) -> &[Weight] {
        &self.weights
    }

    /// Whether every answer has been weighed.
    #[must_use]
    pub fn is_done(&self) -> bool {
        self.done
    }

    /// Weighs the next answer.
    pub fn step<N: Number>(&mut self, inspection: &mut Inspection<'_, '_, N>) {
        let pack = *inspection.pack();
        let mut answered = inspection.piece().answered(&pack).skip(self.next);
        let next = loop {
            let Some((part, ask, answer)) = answered.next() else {
                break None;
            };
            self.next += 1;
            if answer.says_something() {
                break Some(Given { part, ask, answer });
            }
        };
        drop(answered);
        let Some(given) = next else {
            self.done = true;
            return;
        };
        let (part, state) = (usize::from(self.suspect.part), self.suspect.state);
        let Ok(without) = inspection.chance_without(given, part, state) else {
            return;
        };
        let (with, before) = (log_odds(self.suspect.chance), log_odds(without));
        let weight = Weight {
            given,
            without,
            speaks_for: with > before,
            size: with.abs_diff(before),
        };
        if weight.size < LEAST {
            return;
        }
        let heavier = |w: &&Weight| w.size >= weight.size;
        let at = self.weights.iter().take_while(heavier).count();
        if self.weights.is_full() && at < self.weights.len() {
            self.weights.pop();
        }
        // A full list keeps what is heavier.
        insert(&mut self.weights, at, weight);
    }
}

/// The binary logarithm of the odds of a chance, in 256ths. Between powers of two
/// it is interpolated linearly (off by less than 23): enough to sort by.
fn log_odds(chance: Share) -> i32 {
    // A millionth, so that what is certain has finite odds.
    const LEAST: u64 = (1 << 32) / 1_000_000;
    let yes = chance.units().clamp(LEAST, Share::WHOLE.units() - LEAST);
    let no = Share::WHOLE.units() - yes;
    log(yes) - log(no)
}

fn log(units: u64) -> i32 {
    let power = units.checked_ilog2().unwrap_or(0);
    let fraction = (units << 8 >> power) & 0xff;
    let whole = i32::try_from(power).unwrap_or(0) * 256;
    whole + i32::try_from(fraction).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::piece::Answer;
    use crate::sample::{answer, with_chest};
    use crate::shortlist;

    #[test]
    fn signs_speak_for_a_fault_or_against_it() {
        with_chest(2, |chest| {
            answer(chest, "drawer 2", "stiff", Answer::Seen(true));
            answer(chest, "chest of drawers", "used daily", Answer::Seen(false));
            let Some(&likeliest) = shortlist::suspects(chest).first() else {
                unreachable!("something is likely")
            };
            let mut weighing = Weighing::of(likeliest);
            while !weighing.is_done() {
                weighing.step(chest);
            }
            let weights = weighing.weights();
            let now = likeliest.chance;
            assert!(weights.is_sorted_by(|a, b| a.size >= b.size));
            assert!(weights.iter().any(|w| w.speaks_for && w.without < now));
            assert!(weights.iter().any(|w| !w.speaks_for && w.without > now));
        });
    }
}
