//! The smallest group of findings in which one of them is odd.

use super::scene::{Scene, Usual};
use tellmark_core::inspection::Given;

/// How many of the findings that tell most against the odd one are tried together, two
/// and three at a time.
const TRIED_TOGETHER: usize = 10;

/// One finding, and what it might be odd beside.
struct Search<'s, 'm> {
    bare: &'s mut Scene<'m>,
    given: &'s [Given],
    odd: usize,
    usual: &'s Usual,
}

/// The findings (by their numbers, rising) of a smallest group in which
/// that one is odd: none can be left out. It is odd beside all the others. `bare` is
/// the piece without findings, and is so again. Groups of up to four are the smallest of
/// all, as long as each of them tells something against it by itself.
pub(super) fn smallest(
    bare: &mut Scene<'_>,
    given: &[Given],
    odd: usize,
    usual: &Usual,
) -> Vec<usize> {
    let mut search = Search {
        bare,
        given,
        odd,
        usual,
    };
    let mut beside = search.beside();
    beside.push(odd);
    beside.sort_unstable();
    beside
}

impl Search<'_, '_> {
    fn beside(&mut self) -> Vec<usize> {
        let mut by_weight: Vec<(f64, usize)> = Vec::new();
        for other in 0..self.given.len() {
            if other != self.odd {
                by_weight.push((self.rarer(&[other]), other));
            }
        }
        by_weight.sort_by(|a, b| a.0.total_cmp(&b.0));
        let order: Vec<usize> = by_weight.iter().map(|(_, other)| *other).collect();
        let best = order.get(..TRIED_TOGETHER).unwrap_or(&order);
        for size in 1..=3 {
            // Of one size, the group beside which it is rarest.
            let groups = of_size(if size == 1 { &order } else { best }, size);
            let odd = groups.into_iter().filter(|group| self.is_odd(group));
            let odd: Vec<Vec<usize>> = odd.collect();
            let rarest = odd
                .into_iter()
                .min_by(|a, b| self.rarer(a).total_cmp(&self.rarer(b)));
            if let Some(group) = rarest {
                return group;
            }
        }
        self.thinned(order)
    }

    /// Leaves out whatever can be left out, what tells least first.
    fn thinned(&mut self, mut group: Vec<usize>) -> Vec<usize> {
        for at in (0..group.len()).rev() {
            let mut rest = group.clone();
            rest.remove(at);
            if self.is_odd(&rest) {
                group = rest;
            }
        }
        group
    }

    fn is_odd(&mut self, group: &[usize]) -> bool {
        self.doubt(group).is_some_and(|doubt| doubt.is_odd())
    }

    fn rarer(&mut self, group: &[usize]) -> f64 {
        self.doubt(group).map_or(1.0, |doubt| doubt.rarer)
    }

    fn doubt(&mut self, group: &[usize]) -> Option<super::Doubt> {
        for &i in group {
            self.bare.add(self.given[i]);
        }
        let doubt = self.bare.doubt(self.given[self.odd], self.usual);
        for &i in group {
            self.bare.take_back(self.given[i]);
        }
        doubt
    }
}

/// All choices of so many of these, in order.
fn of_size(all: &[usize], size: usize) -> Vec<Vec<usize>> {
    if size == 0 {
        return vec![Vec::new()];
    }
    let mut groups = Vec::new();
    for (at, &first) in all.iter().enumerate() {
        for mut rest in of_size(&all[at + 1..], size - 1) {
            rest.insert(0, first);
            groups.push(rest);
        }
    }
    groups
}
