//! In which order checks are best made.

use super::Candidate;

/// Puts the checks that are worth something first, the most worth making before
/// the others, and says how many they are. What reads the same stays in the order
/// of the parts. No heap, no recursion: checks are few.
pub(super) fn best_first(checks: &mut [Candidate]) -> usize {
    let tenths = |c: &Candidate| {
        let minutes = u64::from(c.minutes.max(1));
        // The nearest tenth of a minute for each minute.
        let twice = u64::from(c.saves.units()) * 20 / (minutes << 12);
        twice.div_ceil(2)
    };
    checks.sort_unstable_by_key(|c| {
        let worth = if c.saves.is_nothing() {
            None
        } else {
            Some(tenths(c))
        };
        (core::cmp::Reverse(worth), c.part, c.slot, c.ask)
    });
    let used = checks.partition_point(|c| !c.saves.is_nothing());
    gentle_first(checks.get_mut(..used).unwrap_or(&mut []));
    used
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
            moved.rotate_right(1);
        }
    }
}
