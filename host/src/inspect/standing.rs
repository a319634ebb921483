//! What must be said before anything else: cautions, and answers that clash.

use tellmark_core::inspection::Given;
use tellmark_core::number::Number;
use tellmark_core::truth::Truth;

use super::apply::{Case, SetUp};
use super::parts::part_ref;
use crate::words;

/// A caution that the findings call for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// Stop, rather than take care.
    pub stop: bool,
    /// The parts it is about.
    pub parts: Vec<String>,
    /// What it says.
    pub text: String,
    /// Where it comes from.
    pub source: String,
    /// Index in the model.
    pub caution: usize,
}

/// Answers that cannot all be true under the rules.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clash {
    /// The facts behind them (indices), none of which can be left out; empty if
    /// too many are needed to show it.
    pub facts: Vec<usize>,
}

impl<N: Number> Case<'_, N> {
    /// The cautions that hold, each once, stops first.
    pub fn cautions(&mut self, set_up: &SetUp<'_>) -> Vec<Caution> {
        let mut calls = Vec::new();
        self.inspection.cautions(|call| {
            if call.truth == Truth::True {
                calls.push(call);
            }
        });
        let mut found: Vec<Caution> = Vec::new();
        let parts = self.inspection.piece().parts();
        for call in calls {
            let reference = part_ref(&set_up.built.places, parts, call.part);
            let part = words::part_name(set_up.model, &reference);
            if let Some(known) = found.iter_mut().find(|c| c.caution == call.sentence) {
                known.parts.push(part);
                continue;
            }
            let pack = self.inspection.pack();
            let record = pack.caution(call.sentence);
            found.push(Caution {
                stop: record.stop,
                parts: vec![part],
                text: pack.text(record.text).to_owned(),
                source: pack.text(record.source).to_owned(),
                caution: call.sentence,
            });
        }
        found.sort_by_key(|caution| !caution.stop);
        found
    }

    /// The answers that clash, if they do.
    pub fn clash(&mut self) -> Option<Clash> {
        if self.inspection.settle().is_ok() {
            return None;
        }
        let group = self.inspection.clash();
        let behind = |given: &Given| {
            let same =
                |e: &&super::Evidence| e.given.part == given.part && e.given.ask == given.ask;
            self.evidence.iter().find(same).map(|e| e.fact)
        };
        let mut facts: Vec<usize> = group.iter().filter_map(behind).collect();
        facts.sort_unstable();
        facts.dedup();
        Some(Clash { facts })
    }
}
