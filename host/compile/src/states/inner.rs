//! States that nobody can see: they stand between reasons and what comes of them, where
//! several results exclude one another.
//!
//! **One of several results** (`then it is usually lifted or blistered`). The rule brings
//! about a state of its own, that it fired; and that brings about one of the results, which
//! is decided by draws that nothing else hangs on.
//!
//! **States of which there is at most one** (`A bottom is at most one of …`). All reasons
//! for such a state, its start among them, are reasons for a state of its own, that there
//! are reasons for it. Of those for which there are reasons one is so, each as likely as the
//! next: the first of n with one chance in n; if it is not, the next with one in n − 1, and
//! so on.

use std::collections::HashMap;

use tellmark_core::pack::{NONE, Nature, Trial};

use super::{Meant, Signed, StateRow, States};
use crate::numbers::Overflow;
use tellmark_language::model::{AtMostOne, KindId, Model, Rule, StateId};

/// Where these states stand.
#[derive(Clone, Debug, Default)]
pub(super) struct Inner {
    /// Of a state that others exclude: that there are reasons for it.
    reasons: HashMap<StateId, usize>,
    /// Of a rule with several results: that it fired.
    fired: HashMap<usize, usize>,
    /// Reasons that these states give, to be added when all others are known.
    meant: Vec<(usize, Meant)>,
}

impl States {
    /// The state that reasons for a declared state are given to: the state itself, unless
    /// others exclude it.
    #[must_use]
    pub fn reasons(&self, state: StateId) -> usize {
        let reasons = self.inner.reasons.get(&state).copied();
        reasons.unwrap_or_else(|| self.declared(state))
    }

    /// The states whose reasons do not count where a state cannot be.
    #[must_use]
    pub fn closed(&self, model: &Model, state: StateId) -> Vec<usize> {
        match model.degree_of(state) {
            Some(_) => self.with(model, state),
            None => vec![self.reasons(state)],
        }
    }

    /// The state that a rule brings about: its result, or that it fired if it has several.
    #[must_use]
    pub fn result(&self, number: usize, rule: &Rule) -> usize {
        let fired = self.inner.fired.get(&number).copied();
        fired.unwrap_or_else(|| self.reasons(rule.state))
    }

    /// The states of this kind that nobody can see.
    pub(super) fn add_inner(&mut self, model: &Model, kind: KindId) -> Result<(), Overflow> {
        for one in model.at_most_ones.iter().filter(|one| one.kind == kind) {
            self.add_at_most_one(one)?;
        }
        for (number, rule) in model.rules.iter().enumerate() {
            if !rule.or.is_empty() && model.states[rule.state.index()].kind == kind {
                self.add_alternatives(kind, number, rule)?;
            }
        }
        Ok(())
    }

    /// What these states bring about.
    pub(super) fn tie_inner(&mut self) {
        for (row, meant) in std::mem::take(&mut self.inner.meant) {
            self.states[row].meant.push(meant);
        }
    }

    fn add_at_most_one(&mut self, one: &AtMostOne) -> Result<(), Overflow> {
        let rows: Vec<usize> = one.states.iter().map(|&id| self.declared(id)).collect();
        let mut reasons = Vec::new();
        for (&id, &row) in one.states.iter().zip(&rows) {
            let start = std::mem::take(&mut self.states[row].own);
            let there_are = self.push(unseen(one.kind, start))?;
            self.inner.reasons.insert(id, there_are);
            reasons.push(there_are);
        }
        for at in 0..rows.len() {
            let earlier = rows[..at].iter().map(|&row| (row, false));
            let later = &reasons[at + 1..];
            for some in 0..1_usize << later.len() {
                let others = later.iter().enumerate();
                let others = others.map(|(i, &row)| (row, some >> i & 1 == 1));
                let mut when: Vec<Signed> = vec![(reasons[at], true)];
                when.extend(earlier.clone().chain(others));
                let weight = 1.0 / f64::from(1 + some.count_ones());
                self.inner.meant.push((rows[at], Meant { when, weight }));
            }
        }
        Ok(())
    }

    fn add_alternatives(
        &mut self,
        kind: KindId,
        number: usize,
        rule: &Rule,
    ) -> Result<(), Overflow> {
        let fired = self.push(unseen(kind, 0.0))?;
        self.inner.fired.insert(number, fired);
        let mut when: Vec<Signed> = vec![(fired, true)];
        let mut left = 1.0 + f64::from(u8::try_from(rule.or.len()).unwrap_or(u8::MAX));
        for state in rule.results() {
            let mut this: Vec<Signed> = when.clone();
            if left > 1.0 {
                let draw = self.push(unseen(kind, 1.0 / left))?;
                this.push((draw, true));
                when.push((draw, false));
                left -= 1.0;
            }
            let meant = Meant {
                when: this,
                weight: 1.0,
            };
            self.inner.meant.push((self.reasons(state), meant));
        }
        Ok(())
    }
}

/// A state that nothing is asked about.
fn unseen(kind: KindId, start: f64) -> StateRow {
    StateRow {
        kind,
        phrase: String::new(),
        verb: None,
        nature: Nature::Mark,
        ask: NONE,
        whether: None,
        trial: Trial::Yes,
        alone: start,
        own: start,
        share: 0,
        in_use: true,
        meant: Vec::new(),
        missed: None,
        declared: None,
    }
}
