//! What can be asked of the piece as it is now.

use std::collections::BTreeSet;

use tellmark_core::inspection::Given;

use super::super::{Clash, Origin};
use super::{Later, Mended, is_in_doubt};
use crate::ground::{Claim, Ground};
use crate::moments::{Changed, Pair, certainly, moved};
use tellmark_language::model::StateId;

impl Later {
    /// The chance of each state of the piece now, part by part; `None` where the rules say
    /// nothing of it.
    #[must_use]
    pub fn chances(&self) -> Vec<Option<f64>> {
        self.of_now(self.chances.as_deref())
    }

    /// The same without what one thing told says.
    #[must_use]
    pub fn chances_without(&self, from: Origin) -> Option<Vec<Option<f64>>> {
        let mut likely = self.likely.clone();
        for &(node, pair) in self.without.get(&from).iter().flat_map(|w| &w.likely) {
            likely[node] = pair;
        }
        let chances = self.joint.chances(&likely)?;
        Some(self.of_now(Some(&chances)))
    }

    /// The same with only what these told.
    #[must_use]
    pub fn chances_with(&self, told: &BTreeSet<Origin>) -> Option<Vec<Option<f64>>> {
        let chances = self.joint.chances(&self.likely_with(told))?;
        Some(self.of_now(Some(&chances)))
    }

    /// The same if a state of the piece (by its number) is so now; `None` if it cannot be.
    #[must_use]
    pub fn chances_if(&self, state: usize) -> Option<Vec<Option<f64>>> {
        let mut likely = self.likely.clone();
        likely[self.node(state)].0 = 0.0;
        let chances = self.joint.chances(&likely)?;
        Some(self.of_now(Some(&chances)))
    }

    fn likely_with(&self, told: &BTreeSet<Origin>) -> Vec<Pair> {
        let mut likely = self.likely.clone();
        for (_, without) in self.without.iter().filter(|(from, _)| !told.contains(from)) {
            for &(node, pair) in &without.likely {
                likely[node] = pair;
            }
        }
        likely
    }

    fn of_now(&self, chances: Option<&[Option<f64>]>) -> Vec<Option<f64>> {
        let of = |state| chances.and_then(|all| all[self.node(state)]);
        (0..self.moments.states()).map(of).collect()
    }

    /// A state of the piece as it is now, as a state of the network.
    fn node(&self, state: usize) -> usize {
        self.moments.node(self.moments.last(), state)
    }

    /// What was mended of a state last.
    #[must_use]
    pub fn last_mended(&self, part: usize, state: StateId) -> Option<&Mended> {
        let mut mended = self.mended.iter().rev();
        mended.find(|mended| (mended.part, mended.state) == (part, state))
    }

    /// Everything that was told and bears on what is, and the parts it was told of.
    pub fn told(&self) -> impl Iterator<Item = (Origin, &[usize])> {
        let told = self.without.iter();
        told.map(|(from, without)| (*from, without.parts.as_slice()))
    }

    /// The states of the network that it bears on at first hand.
    pub fn touches(&self, from: Origin) -> impl Iterator<Item = usize> {
        let without = self.without.get(&from).into_iter();
        without.flat_map(|without| without.likely.iter().map(|(node, _)| *node))
    }

    /// What told it, as whoever goes by the facts that count now calls it.
    #[must_use]
    pub fn name(&self, from: Origin) -> Origin {
        match from {
            Origin::Opened => Origin::Opened,
            Origin::Fact(fact) => Origin::Fact(self.names.get(fact).copied().unwrap_or(fact)),
        }
    }

    /// Gives each fact the number by which it goes among those that count now.
    pub fn set_names(&mut self, names: Vec<usize>) {
        self.names = names;
    }

    /// Signs that were seen before something was mended that bears on them, and that may
    /// well be there still: with 15 in 100 or more.
    #[must_use]
    pub fn still(&self) -> &[Given] {
        &self.still
    }

    /// The network of all moments.
    #[must_use]
    pub fn ground(&self) -> &Ground {
        &self.moments.ground
    }

    /// How likely what was noted is, for each state of the network. What is mended and not in
    /// doubt counts as mended.
    #[must_use]
    pub fn likelihoods(&self) -> Vec<Pair> {
        let of = |node: usize| match self.settled(node) {
            None => self.likely[node],
            settled => certainly(settled),
        };
        (0..self.likely.len()).map(of).collect()
    }

    /// A claim about the piece, as one about how it is now.
    #[must_use]
    pub fn now(&self, claim: &Claim) -> Claim {
        let nodes: Vec<usize> = (0..self.moments.states()).map(|s| self.node(s)).collect();
        moved(claim, &nodes)
    }

    /// A state of the piece, as it is now, by its number in the network.
    #[must_use]
    pub fn state_now(&self, state: usize) -> usize {
        self.node(state)
    }

    /// Whether a state of the network is so, or not so, because it was mended or found
    /// again.
    #[must_use]
    pub fn is_known(&self, state: usize) -> bool {
        self.settled(state).is_some()
    }

    /// What a state of the network was changed to, unless a mend is in doubt.
    fn settled(&self, node: usize) -> Option<bool> {
        let Changed { holds, fails } = self.moments.changed(node)?;
        let chance = self.chances.as_ref().and_then(|all| all[node])?;
        let failed = if holds { 1.0 - chance } else { chance };
        (!is_in_doubt(failed, fails)).then_some(holds)
    }

    /// Whether what was noted cannot all be true.
    #[must_use]
    pub fn is_impossible(&self) -> bool {
        self.chances.is_none()
    }

    /// What cannot all be true, if there is such: a group of which none can be left out.
    #[must_use]
    pub fn clash(&self) -> Option<Clash> {
        if self.chances.is_some() {
            return None;
        }
        let mut told: BTreeSet<Origin> = self.without.keys().copied().collect();
        for from in self.without.keys() {
            told.remove(from);
            if self.joint.chances(&self.likely_with(&told)).is_some() {
                told.insert(*from);
            }
        }
        Some(Clash {
            from: told.into_iter().map(|from| self.name(from)).collect(),
        })
    }
}
