//! What the rules read or conclude.

use std::collections::HashSet;

use super::count_sign;
use crate::meaning::tests;
use crate::numbers::numbers;
use tellmark_language::model::{
    Condition, KindId, Mark, Model, Nature, Predicate, Reach, SignId, StateId, Test, Ticks,
};

/// What the rules read or conclude.
#[derive(Default)]
pub(super) struct Uses {
    pub(super) states: HashSet<StateId>,
    /// What rules and `that means` sentences give reasons for.
    pub(super) concluded: HashSet<StateId>,
    pub(super) marks: HashSet<(SignId, Ticks)>,
    pub(super) values: HashSet<(SignId, u8)>,
}

impl Uses {
    pub(super) fn of(model: &Model) -> Self {
        let mut uses = Self::default();
        for rule in &model.rules {
            uses.states.insert(rule.state);
            uses.concluded.insert(rule.state);
            uses.condition(model, &rule.when, rule.subject);
            if let Some(unless) = &rule.unless {
                uses.condition(model, unless, rule.subject);
            }
        }
        for means in &model.means {
            uses.states.insert(means.sign);
            uses.concluded.insert(means.sign);
            uses.states.insert(means.fault);
        }
        for only_if in &model.only_ifs {
            let kind = model.states[only_if.state.index()].kind;
            uses.condition(model, &only_if.when, kind);
        }
        // What is said of a stretch with two ends needs the marks at both.
        for (id, state) in numbers().map(StateId).zip(&model.states) {
            if let Nature::CountsAs { sign, mark } = state.nature
                && mark.at_most.is_some()
                && uses.states.contains(&id)
            {
                uses.mark(sign, mark);
            }
        }
        uses
    }

    fn condition(&mut self, model: &Model, condition: &Condition, subject: KindId) {
        tests(condition, &mut |test| self.test(model, test, subject));
    }

    fn test(&mut self, model: &Model, test: &Test, subject: KindId) {
        match &test.what {
            Predicate::State { state, .. } => {
                self.states.insert(*state);
            }
            Predicate::Measure { sign, mark, .. } => self.mark(*sign, *mark),
            Predicate::Choice { sign, values, .. } => {
                self.values.extend(values.iter().map(|&v| (*sign, v)));
            }
            Predicate::Has { part, mark, .. } => {
                let kind = match &test.whose {
                    Reach::Own => subject,
                    Reach::Up(kind) => *kind,
                    Reach::Down { path, .. } => path.last().copied().unwrap_or(subject),
                };
                if let Some(sign) = count_sign(model, kind, *part) {
                    self.mark(sign, *mark);
                }
            }
            Predicate::CannotBeSeen => {}
        }
    }

    fn mark(&mut self, sign: SignId, mark: Mark) {
        self.marks.insert((sign, mark.at_least));
        if let Some(at_most) = mark.at_most {
            self.marks.insert((sign, at_most.saturating_add(1)));
        }
    }
}
