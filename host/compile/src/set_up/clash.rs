//! Answers that cannot all be true under the rules.

use tellmark_core::inspection::Given;
use tellmark_core::number::Number;

use super::{Case, Evidence, Origin};

/// Answers that cannot all be true under the rules.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clash {
    /// What gave them, none of which can be left out; empty if too many are needed to
    /// show it.
    pub from: Vec<Origin>,
}

impl<N: Number> Case<'_, N> {
    /// Whether the answers cannot all be true.
    pub fn is_impossible(&mut self) -> bool {
        match self.later {
            Some(later) => later.is_impossible(),
            None => self.inspection.settle().is_err(),
        }
    }

    /// The answers that clash, if they do.
    pub fn clash(&mut self) -> Option<Clash> {
        if let Some(later) = self.later {
            return later.clash();
        }
        if self.inspection.settle().is_ok() {
            return None;
        }
        let group = self.inspection.clash();
        let behind = |given: &Given| {
            let same = |e: &&Evidence| e.given.part == given.part && e.given.ask == given.ask;
            self.evidence.iter().find(same).map(|e| e.from)
        };
        let mut from: Vec<Origin> = group.iter().filter_map(behind).collect();
        from.sort_unstable();
        from.dedup();
        Some(Clash { from })
    }
}
