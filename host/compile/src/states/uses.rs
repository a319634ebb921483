//! What the rules read or conclude.

use std::collections::HashSet;

use super::{count_sign, limits};
use crate::meaning::tests;
use crate::numbers::numbers;
use tellmark_language::model::{
    Condition, KindId, Mark, Model, Nature, Placing, Predicate, Reach, SignId, StateId, Test,
    Ticks, Towards,
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
            uses.states.extend(rule.results());
            uses.concluded.extend(rule.results());
            uses.reach(model, &rule.result);
            uses.condition(model, &rule.when, rule.subject);
            if let Some(unless) = &rule.unless {
                uses.condition(model, unless, rule.subject);
            }
        }
        for means in &model.means {
            uses.states.insert(means.sign);
            uses.concluded.insert(means.sign);
            uses.states.insert(means.fault);
            uses.reach(model, &means.whose);
        }
        for together in &model.togethers {
            uses.states.extend(&together.signs);
            uses.concluded.extend(&together.signs);
            uses.states.insert(together.fault);
        }
        for one in &model.at_most_ones {
            uses.states.extend(&one.states);
        }
        for only_if in &model.only_ifs {
            let kind = model.states[only_if.state.index()].kind;
            uses.states.insert(only_if.state);
            uses.condition(model, &only_if.when, kind);
        }
        let of_state = |id: &StateId| match model.states.get(id.index())?.nature {
            Nature::CountsAs { sign, .. } => Some(sign),
            _ => None,
        };
        let measured: HashSet<SignId> = uses.states.iter().filter_map(of_state).collect();
        let marked = uses.marks.iter().map(|(sign, _)| *sign);
        let measured: HashSet<SignId> = measured.into_iter().chain(marked).collect();
        // What follows from levels needs the marks at its ends.
        for (id, state) in numbers().map(StateId).zip(&model.states) {
            if let Nature::CountsAs { sign, mark } = state.nature
                && model.towards(state) != Some(uses.towards(model, sign))
                && (uses.states.contains(&id) || measured.contains(&sign))
            {
                uses.mark(model, sign, mark);
            }
        }
        uses
    }

    /// Which way the levels of a measure go.
    pub(super) fn towards(&self, model: &Model, sign: SignId) -> Towards {
        model.measured_towards(sign, |state| self.concluded.contains(&state))
    }

    fn condition(&mut self, model: &Model, condition: &Condition, subject: KindId) {
        tests(condition, &mut |test| self.test(model, test, subject));
    }

    /// Takes in the numbers of parts that stand somewhere among their like.
    fn placing(&mut self, model: &Model, place: &Placing) {
        for &(sign, number) in &place.at {
            let number = Ticks::from(number);
            let mark = Mark {
                at_least: number,
                at_most: Some(number),
            };
            self.mark(model, sign, mark);
        }
    }

    fn reach(&mut self, model: &Model, reach: &Reach) {
        if let Reach::Down {
            only: Some(only), ..
        } = reach
        {
            self.placing(model, only);
        }
    }

    fn test(&mut self, model: &Model, test: &Test, subject: KindId) {
        self.reach(model, &test.whose);
        match &test.what {
            Predicate::State { state, .. } => {
                self.states.insert(*state);
            }
            Predicate::Measure { sign, mark, .. } => self.mark(model, *sign, *mark),
            Predicate::Choice { sign, values, .. } => {
                // What no rule names is to be alike; so what is usual is named.
                let usual = model.signs[sign.index()].usually;
                let values = values.iter().copied().chain(usual.map(|(value, _)| value));
                self.values.extend(values.map(|value| (*sign, value)));
            }
            Predicate::Has { part, mark, .. } => {
                let kind = test.whose.kind(subject);
                if let Some(sign) = count_sign(model, kind, *part) {
                    self.mark(model, sign, *mark);
                }
            }
            Predicate::Placed { place, .. } => self.placing(model, place),
            Predicate::CannotBeSeen => {}
        }
    }

    /// Takes in both ends of a mark, but for an end that every quantity lies within: what
    /// is always so divides nothing.
    fn mark(&mut self, model: &Model, sign: SignId, mark: Mark) {
        let Some((least, most)) = limits(model, sign) else {
            return;
        };
        let beyond = mark.at_most.map(|at_most| at_most.saturating_add(1));
        let ends = [Some(mark.at_least), beyond].into_iter().flatten();
        let inside = ends.filter(|&at| least < at && at <= most);
        self.marks.extend(inside.map(|at| (sign, at)));
    }
}
