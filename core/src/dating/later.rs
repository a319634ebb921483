//! The fewest parts that need be later for all dates to agree.

use super::{Evidence, decades};
use crate::pack::NONE;
use crate::piece::Part;

/// "It cannot be."
const NEVER: u8 = u8::MAX;

/// Finds the fewest parts that need be later than what they are built into, so
/// that no bound is broken. `found` is told each of them, outermost first. `None`
/// if even then a bound is broken (no decade is late enough, or too little memory
/// was lent); otherwise the decade of the piece that goes with them, the latest
/// if there are several. That a fitting fits no trace breaks no bound.
///
/// The same walk up the tree of parts as for the chances, with sums in place of
/// products and the least in place of sums. `memory` needs one byte for each part
/// and decade.
pub fn fewest_later(
    parts: &[Part],
    evidence: &[Evidence],
    now: u16,
    memory: &mut [u8],
    mut found: impl FnMut(usize),
) -> Option<usize> {
    let decades = decades(now);
    let memory = memory.get_mut(..parts.len() * decades)?;
    let mut costs = Costs { memory, decades };
    for part in 0..parts.len() {
        for decade in 0..decades {
            let mut on_it = evidence.iter().filter(|e| e.part == part);
            let fits = on_it.all(|e| e.allows(decade));
            costs.set(part, decade, if fits { 0 } else { NEVER });
        }
    }
    for (part, record) in parts.iter().enumerate().rev() {
        if record.owner == NONE {
            continue;
        }
        let owner = usize::from(record.owner);
        for decade in 0..decades {
            let (_, cost) = costs.cheapest(part, decade);
            costs.set(owner, decade, costs.of(owner, decade).saturating_add(cost));
        }
    }
    let piece = (0..decades)
        .rev()
        .min_by_key(|&decade| costs.of(0, decade))
        .filter(|&decade| costs.of(0, decade) < NEVER)?;
    costs.choose(0, piece);
    for (part, record) in parts.iter().enumerate().skip(1) {
        let owner = costs.chosen(usize::from(record.owner));
        let (made, _) = costs.cheapest(part, owner);
        if made != owner {
            found(part);
        }
        costs.choose(part, made);
    }
    Some(piece)
}

/// For each part and each decade that it may have been made in: how many parts
/// in it need be later. Once a part's decade is chosen, that stands in its first
/// place.
struct Costs<'m> {
    memory: &'m mut [u8],
    decades: usize,
}

impl Costs<'_> {
    fn of(&self, part: usize, decade: usize) -> u8 {
        let index = part * self.decades + decade;
        self.memory.get(index).copied().unwrap_or(NEVER)
    }

    fn set(&mut self, part: usize, decade: usize, cost: u8) {
        if let Some(slot) = self.memory.get_mut(part * self.decades + decade) {
            *slot = cost;
        }
    }

    /// The best decade for a part whose owner was made in this one, and what it
    /// costs: the owner's own if that is as good as any later one.
    fn cheapest(&self, part: usize, owner: usize) -> (usize, u8) {
        let mut best = (owner, self.of(part, owner));
        for decade in owner + 1..self.decades {
            let cost = self.of(part, decade).saturating_add(1);
            if cost < best.1 {
                best = (decade, cost);
            }
        }
        best
    }

    fn choose(&mut self, part: usize, decade: usize) {
        self.set(part, 0, u8::try_from(decade).unwrap_or(0));
    }

    fn chosen(&self, part: usize) -> usize {
        usize::from(self.of(part, 0))
    }
}
