//! In which order checks are best made.

use super::Candidate;
use crate::slices::last_to_front;

/// Puts the checks that are worth something first, the most worth making before
/// the others, and says how many they are. What reads the same stays in the order
/// that it came in.
pub(super) fn best_first(checks: &mut [Candidate]) -> usize {
    let mut used = 0;
    for at in 0..checks.len() {
        let Some(next) = checks.get(at).filter(|c| !c.saves.is_nothing()).copied() else {
            continue;
        };
        let worth = tenths(&next);
        let sorted = checks.get(..used).unwrap_or(&[]);
        let place = sorted.partition_point(|c| tenths(c) >= worth);
        // Over one that is worth nothing, or is itself; then into its place.
        if let Some(free) = checks.get_mut(used) {
            *free = next;
        }
        used += 1;
        if let Some(moved) = checks.get_mut(place..used) {
            last_to_front(moved);
        }
    }
    gentle_first(checks.get_mut(..used).unwrap_or(&mut []));
    used
}

/// The nearest tenth of a minute for each minute.
fn tenths(check: &Candidate) -> u64 {
    let minutes = u64::from(check.minutes.max(1));
    let twice = u64::from(check.saves.units()) * 20 / (minutes << 12);
    twice.div_ceil(2)
}

/// Moves each check behind the last gentler one whose main fault is the same.
fn gentle_first(checks: &mut [Candidate]) {
    let main = |c: &Candidate| (c.most.part, c.most.state);
    for at in 0..checks.len() {
        let waiting = checks.get_mut(at..).unwrap_or(&mut []);
        let has_gentler = |one: &Candidate| {
            waiting
                .iter()
                .any(|other| other.touch < one.touch && main(other) == main(one))
        };
        let next = waiting
            .iter()
            .position(|one| !has_gentler(one))
            .unwrap_or(0);
        if let Some(moved) = waiting.get_mut(..=next) {
            last_to_front(moved);
        }
    }
}
