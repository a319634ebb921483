//! In which order to sum variables out (an elimination order: min-fill, min-size and
//! variants of both, greedily); the cheapest outcome is taken.

use std::collections::BTreeSet;

use tellmark_core::limits::MAX_TABLE;

/// An order, and the sum of the sizes of the tables it makes.
#[derive(Clone, Debug)]
pub struct Order {
    /// Variables, first to be summed out first.
    pub variables: Vec<usize>,
    /// Entries of all tables on the way.
    pub cost: usize,
}

#[derive(Clone, Copy)]
enum Greed {
    /// Fewest new links between neighbours.
    Fill,
    /// Smallest table.
    Size,
    /// New links first, then size of the table.
    FillThenLast,
    /// Size of the table, latest variable first.
    SizeThenLast,
}

/// The best order found for summing out all variables but those to `keep`; `None` if
/// every one that was tried costs more than `limit`.
#[must_use]
pub fn best(
    scopes: &[Vec<usize>],
    sizes: &[usize],
    keep: &BTreeSet<usize>,
    limit: usize,
) -> Option<Order> {
    [
        Greed::Fill,
        Greed::Size,
        Greed::FillThenLast,
        Greed::SizeThenLast,
    ]
    .into_iter()
    .filter_map(|greed| greedy(scopes, sizes, keep, greed, limit))
    .min_by_key(|order| order.cost)
}

/// What summing out costs in the order of fewest new links.
#[must_use]
pub fn cost(scopes: &[Vec<usize>], sizes: &[usize], keep: &BTreeSet<usize>) -> usize {
    let order = greedy(scopes, sizes, keep, Greed::Fill, usize::MAX);
    order.map_or(usize::MAX, |order| order.cost)
}

fn greedy(
    scopes: &[Vec<usize>],
    sizes: &[usize],
    keep: &BTreeSet<usize>,
    greed: Greed,
    limit: usize,
) -> Option<Order> {
    let mut near: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); sizes.len()];
    let link = |near: &mut Vec<BTreeSet<usize>>, scope: &[usize]| {
        for &a in scope {
            for &b in scope {
                if a != b {
                    near[a].insert(b);
                }
            }
        }
    };
    for scope in scopes {
        link(&mut near, scope);
    }
    let kept: Vec<usize> = keep.iter().copied().collect();
    link(&mut near, &kept);

    let mut left: BTreeSet<usize> = scopes
        .iter()
        .flatten()
        .copied()
        .filter(|v| !keep.contains(v))
        .collect();
    let mut order = Order {
        variables: Vec::new(),
        cost: 0,
    };
    let key = |near: &[BTreeSet<usize>], v: usize| {
        let size = table_size(&near[v], sizes, v);
        match greed {
            Greed::Fill => (fill(near, v), size, v),
            Greed::Size => (size, fill(near, v), v),
            Greed::FillThenLast => (fill(near, v), size, usize::MAX - v),
            Greed::SizeThenLast => (size, fill(near, v), usize::MAX - v),
        }
    };
    let mut keys: Vec<_> = (0..sizes.len()).map(|v| key(&near, v)).collect();
    while let Some(next) = left.iter().copied().min_by_key(|&v| keys[v]) {
        left.remove(&next);
        order.cost = order
            .cost
            .saturating_add(table_size(&near[next], sizes, next));
        if order.cost > limit {
            return None;
        }
        let around: Vec<usize> = std::mem::take(&mut near[next]).into_iter().collect();
        for &n in &around {
            near[n].remove(&next);
        }
        link(&mut near, &around);
        // Only these have other neighbours now, or neighbours that are linked.
        let mut changed: BTreeSet<usize> = around.iter().copied().collect();
        for &n in &around {
            changed.extend(&near[n]);
        }
        for v in changed {
            keys[v] = key(&near, v);
        }
        order.variables.push(next);
    }
    Some(order)
}

fn table_size(around: &BTreeSet<usize>, sizes: &[usize], v: usize) -> usize {
    around
        .iter()
        .fold(sizes[v], |size, &n| size.saturating_mul(sizes[n]))
}

/// With more neighbours than this, a variable's table has more entries than
/// [`MAX_TABLE`]: it comes last, and its links are not counted.
const NEIGHBOURS: usize = MAX_TABLE.ilog2() as usize - 1;

/// New links between its neighbours.
fn fill(near: &[BTreeSet<usize>], v: usize) -> usize {
    if near[v].len() > NEIGHBOURS {
        return usize::MAX;
    }
    let around: Vec<usize> = near[v].iter().copied().collect();
    let mut missing = 0;
    for (i, a) in around.iter().enumerate() {
        missing += around[i + 1..]
            .iter()
            .filter(|b| !near[*a].contains(b))
            .count();
    }
    missing
}
