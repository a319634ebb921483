//! Numbers of parts of several kinds together: at least two feet, where there are feet and
//! bracket feet, are two feet, or one of each, or two bracket feet.

use crate::model::{Condition, KindId, Mark};

/// At least `n` of `groups` together, where `at_least` says it of one of them.
pub(super) fn at_least(
    n: u8,
    groups: usize,
    at_least: &impl Fn(usize, u8) -> Condition,
) -> Condition {
    let splits = splits(n, groups).into_iter().map(|split| {
        let parts = split.into_iter().enumerate().filter(|(_, n)| *n > 0);
        Condition::All(parts.map(|(group, n)| at_least(group, n)).collect())
    });
    Condition::Any(splits.collect())
}

/// Fewer than `n` of `groups` together, where `fewer_than` says it of one of them.
pub(super) fn fewer_than(
    n: u8,
    groups: usize,
    fewer_than: &impl Fn(usize, u8) -> Condition,
) -> Condition {
    let splits = splits(n, groups).into_iter().map(|split| {
        let parts = split.into_iter().enumerate().filter(|(_, n)| *n > 0);
        Condition::Any(parts.map(|(group, n)| fewer_than(group, n)).collect())
    });
    Condition::All(splits.collect())
}

/// So many members of several kinds together.
pub(super) fn has(
    members: &[KindId],
    mark: Mark,
    yes: bool,
    has: &impl Fn(KindId, Mark, bool) -> Condition,
) -> Condition {
    let from = |n: u8| Mark {
        at_least: n.into(),
        at_most: None,
    };
    let some = |at: usize, n: u8| has(members[at], from(n), true);
    let few = |at: usize, n: u8| has(members[at], from(n), false);
    let number = |ticks: i32| u8::try_from(ticks.max(0)).unwrap_or(u8::MAX);
    let least = number(mark.at_least);
    let over = mark.at_most.map(|most| number(most.saturating_add(1)));
    let groups = members.len();
    match (yes, over) {
        (true, None) => at_least(least, groups, &some),
        (false, None) => fewer_than(least, groups, &few),
        (true, Some(over)) => Condition::All(vec![
            at_least(least, groups, &some),
            fewer_than(over, groups, &few),
        ]),
        (false, Some(over)) => Condition::Any(vec![
            fewer_than(least, groups, &few),
            at_least(over, groups, &some),
        ]),
    }
}

/// Every way to divide a number among groups.
fn splits(n: u8, groups: usize) -> Vec<Vec<u8>> {
    if groups <= 1 {
        return vec![vec![n; groups]];
    }
    let heads = (0..=n).rev();
    let all = heads.flat_map(|head| {
        let rest = splits(n - head, groups - 1).into_iter();
        rest.map(move |mut split| {
            split.insert(0, head);
            split
        })
    });
    all.collect()
}

#[cfg(test)]
mod tests {
    use super::splits;

    #[test]
    fn a_number_is_divided_in_every_way() {
        assert_eq!(splits(2, 2), [[2, 0], [1, 1], [0, 2]]);
        assert_eq!(splits(0, 3), [[0, 0, 0]]);
        assert_eq!(splits(3, 3).len(), 10);
    }
}
