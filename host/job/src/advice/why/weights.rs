//! The weight of what was found.

use tellmark_core::number::UFloat;
use tellmark_core::piece::Answer;

use crate::advice::triage::{LEAST_DECIBANS, by_origin, decibans};
use tellmark_compile::ground::SentenceId;
use tellmark_compile::set_up::{Case, Origin};

/// What one thing that was told does to the chance.
#[derive(Clone, Debug, PartialEq)]
pub struct Weight {
    /// What was told: a fact, or how many parts the piece was opened with.
    pub from: Origin,
    /// Weight of evidence, if it were taken back now (decibans).
    pub decibans: f64,
    /// The chance if it were taken back.
    pub without: f64,
    /// Weight of evidence when it was added to what had been found before it
    /// (decibans). These add up to the whole way from the chance before to the
    /// chance now; those for taking back do not where causes compete.
    pub in_order: f64,
    /// The sentences that lead from it to the fault, nearest the fault first;
    /// none for a weight that is hardly felt.
    pub sentences: Vec<SentenceId>,
}

/// What everything that was told does to the chance of a state (by its number) of a part, heaviest
/// first.
pub(super) fn weights(
    case: &mut Case<'_, UFloat>,
    part: usize,
    number: u16,
    chance: f64,
) -> Vec<Weight> {
    let mut found = Vec::new();
    for (from, givens) in by_origin(case) {
        for given in &givens {
            let _ = case
                .inspection
                .answer(given.part, given.ask, Answer::NotLooked);
        }
        let without = case.inspection.chance(part, number);
        for given in &givens {
            let _ = case.inspection.answer(given.part, given.ask, given.answer);
        }
        let Ok(without) = without else { continue };
        let without = without.as_f64();
        found.push(Weight {
            from,
            decibans: decibans(chance, without),
            without,
            in_order: 0.0,
            sentences: Vec::new(),
        });
    }
    set_in_order(case, part, number, &mut found);
    let is_felt = |d: f64| d.abs() >= LEAST_DECIBANS / 5.0;
    found.retain(|w| is_felt(w.decibans) || is_felt(w.in_order));
    found.sort_by(|a, b| b.decibans.abs().total_cmp(&a.decibans.abs()));
    found
}

/// Gives the answers again one fact after the other, as they were found.
fn set_in_order(case: &mut Case<'_, UFloat>, part: usize, number: u16, weights: &mut [Weight]) {
    let all = by_origin(case);
    for (_, givens) in &all {
        for given in givens {
            let _ = case
                .inspection
                .answer(given.part, given.ask, Answer::NotLooked);
        }
    }
    let mut before = case.inspection.chance(part, number).unwrap_or_default();
    for (from, givens) in &all {
        for given in givens {
            let _ = case.inspection.answer(given.part, given.ask, given.answer);
        }
        let after = case.inspection.chance(part, number).unwrap_or(before);
        if let Some(weight) = weights.iter_mut().find(|w| w.from == *from) {
            weight.in_order = decibans(after.as_f64(), before.as_f64());
        }
        before = after;
    }
}
