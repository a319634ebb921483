//! Numbers of parts of several kinds together: at least two feet, where there are feet and
//! bracket feet, are two feet, or one of each, or two bracket feet.

use crate::model::{Condition, KindId, Mark};

/// At least `n` of several groups together, of which there can be so many each, where
/// `at_least` says it of one of them.
pub(super) fn at_least(
    n: u8,
    mosts: &[u8],
    at_least: &impl Fn(usize, u8) -> Condition,
) -> Condition {
    let splits = splits(n, mosts).into_iter().map(|split| {
        let parts = split.into_iter().enumerate().filter(|(_, n)| *n > 0);
        Condition::All(parts.map(|(group, n)| at_least(group, n)).collect())
    });
    Condition::Any(splits.collect())
}

/// Fewer than `n` of several groups together, where `fewer_than` says it of one of them.
pub(super) fn fewer_than(
    n: u8,
    mosts: &[u8],
    fewer_than: &impl Fn(usize, u8) -> Condition,
) -> Condition {
    let splits = splits(n, mosts).into_iter().map(|split| {
        let parts = split.into_iter().enumerate().filter(|(_, n)| *n > 0);
        Condition::Any(parts.map(|(group, n)| fewer_than(group, n)).collect())
    });
    Condition::All(splits.collect())
}

/// So many members of several kinds together, or not so many.
pub(super) fn has(
    members: &[KindId],
    mosts: &[u8],
    (mark, yes): (Mark, bool),
    has: &impl Fn(KindId, Mark, bool) -> Condition,
) -> Condition {
    let from = |n: u8| Mark {
        at_least: n.into(),
        at_most: None,
    };
    let some = |at: usize, n: u8| has(members[at], from(n), true);
    let few = |at: usize, n: u8| has(members[at], from(n), false);
    let least = number(mark.at_least);
    let over = mark.at_most.map(|most| number(most.saturating_add(1)));
    match (yes, over) {
        (true, None) => at_least(least, mosts, &some),
        (false, None) => fewer_than(least, mosts, &few),
        (true, Some(over)) => Condition::All(vec![
            at_least(least, mosts, &some),
            fewer_than(over, mosts, &few),
        ]),
        (false, Some(over)) => Condition::Any(vec![
            fewer_than(least, mosts, &few),
            at_least(over, mosts, &some),
        ]),
    }
}

/// A number of parts, as parts are counted.
pub(super) fn number(ticks: i32) -> u8 {
    u8::try_from(ticks.max(0)).unwrap_or(u8::MAX)
}

/// In how many ways a number up to `n` can be divided among groups, at the most.
pub(super) fn ways(n: u8, mosts: &[u8]) -> usize {
    let mut ways = vec![0_usize; usize::from(n) + 1];
    ways[0] = 1;
    for &most in mosts {
        let before = ways.clone();
        for (total, ways) in ways.iter_mut().enumerate() {
            let from = total.saturating_sub(most.into());
            let all = before[from..=total].iter();
            *ways = all.fold(0, |sum, ways| sum.saturating_add(*ways));
        }
    }
    ways.into_iter().max().unwrap_or(0)
}

/// Every way to divide a number among groups of which each can have only so many.
fn splits(n: u8, mosts: &[u8]) -> Vec<Vec<u8>> {
    let Some((&most, rest)) = mosts.split_first() else {
        return if n == 0 { vec![Vec::new()] } else { Vec::new() };
    };
    let heads = (0..=n.min(most)).rev();
    let all = heads.flat_map(|head| {
        let rest = splits(n - head, rest).into_iter();
        rest.map(move |mut split| {
            split.insert(0, head);
            split
        })
    });
    all.collect()
}

#[cfg(test)]
mod tests {
    use super::{splits, ways};

    #[test]
    fn a_number_is_divided_in_every_way_there_can_be() {
        assert_eq!(splits(2, &[9, 9]), [[2, 0], [1, 1], [0, 2]]);
        assert_eq!(splits(2, &[1, 9]), [[1, 1], [0, 2]]);
        assert_eq!(splits(0, &[9, 9, 9]), [[0, 0, 0]]);
        assert_eq!(splits(5, &[2, 2]), [[0_u8; 0]; 0]);
        assert_eq!(splits(3, &[9, 9, 9]).len(), 10);
    }

    #[test]
    fn ways_are_counted_before_they_are_written_down() {
        for (n, mosts) in [(3, [9, 9, 9]), (7, [2, 4, 3]), (250, [1, 1, 0])] {
            let most = (0..=n).map(|n| splits(n, &mosts).len()).max();
            assert_eq!(Some(ways(n, &mosts)), most);
        }
        assert!(ways(250, &[250; 8]) > 1_000_000);
    }
}
