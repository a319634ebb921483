//! What gives reasons for each state: rules and `that means` sentences, laid out over
//! the places that they speak of; and where a state cannot be at all.

use std::ops::Range;

use tellmark_language::model::{HowMany, OnlyIf, Placing, Reach, Rule, StateId, Together};

use super::condition::Clauses;
use super::{Cause, Clause, Literal, Network, Role, VarId, Without, weight};
use crate::fitted::Fitted;
use crate::meaning::{Meaning as _, meaning, with_exception};
use crate::rules::Rules;

/// Adds every cause to the network.
pub(super) fn add_all(
    rules: Rules<'_>,
    network: &mut Network,
    fitted: &Fitted,
    without: Without,
    within: &Range<usize>,
) {
    let mut clauses = Clauses { rules, network };
    let of_subject = |kind| {
        let places = rules.places.of_subject(kind);
        places.into_iter().filter(|place| within.contains(place))
    };
    for (i, rule) in rules.model.rules.iter().enumerate() {
        if without != Without::Rule(i) {
            of_subject(rule.subject).for_each(|place| clauses.add_rule(place, i, rule));
        }
    }
    for (i, means) in rules.model.means.iter().enumerate() {
        if without != Without::Means(i) {
            for place in of_subject(means.subject) {
                if let Some(weight) = fitted.link(place, i) {
                    clauses.link(place, &means.whose, (means.fault, means.sign), weight);
                }
            }
        }
    }
    for (i, together) in rules.model.togethers.iter().enumerate() {
        if without != Without::Together(i) {
            for place in of_subject(together.subject) {
                if let Some(weight) = fitted.together(place, i) {
                    clauses.add_together(place, together, weight);
                }
            }
        }
    }
    for only_if in &rules.model.only_ifs {
        let kind = rules.model.states[only_if.state.index()].kind;
        of_subject(kind).for_each(|place| clauses.allow(place, only_if));
    }
}

impl Clauses<'_, '_> {
    fn add_rule(&mut self, place: usize, number: usize, rule: &Rule) {
        let state = self.rules.states.result(number, rule);
        let when = with_exception(self, &place, &rule.when, rule.unless.as_ref());
        self.conclude(place, when, &rule.result, state, weight(&rule.strength));
    }

    /// Lets a state hold only where it can: nothing else counts as a reason for it.
    fn allow(&mut self, place: usize, only_if: &OnlyIf) {
        let can_be = meaning(self, &place, &only_if.when);
        let Rules { model, states, .. } = self.rules;
        for state in states.closed(model, only_if.state) {
            self.allow_state(place, state, &can_be);
        }
    }

    fn allow_state(&mut self, place: usize, state: usize, can_be: &Clause) {
        let Some(index) = self.rules.places.slot(self.rules.states, place, state) else {
            return;
        };
        if let Role::State { own, causes, .. } = &mut self.network.sites[place].vars[index] {
            causes.push(Cause {
                when: Clause::Known(true),
                weight: std::mem::take(own),
            });
            for cause in causes {
                let when = std::mem::replace(&mut cause.when, Clause::Known(true));
                cause.when = Clause::all([can_be.clone(), when]);
            }
        }
    }

    /// The links from the fault to each of several signs.
    fn add_together(&mut self, place: usize, together: &Together, weight: f64) {
        for &sign in &together.signs {
            if together.path.is_empty() {
                self.link(place, &together.whose, (together.fault, sign), weight);
                continue;
            }
            let fault = self.rules.states.declared(together.fault);
            let sign = self.rules.states.reasons(sign);
            let when = self.literal(place, fault, true);
            let parts = Reach::down(together.path.clone(), HowMany::Every);
            self.conclude(place, when, &parts, sign, weight);
        }
    }

    /// The link from a fault to a sign, as strong as it was fitted.
    fn link(
        &mut self,
        place: usize,
        whose: &Reach,
        (fault, sign): (StateId, StateId),
        weight: f64,
    ) {
        let sign = self.rules.states.reasons(sign);
        let fault = self.rules.states.declared(fault);
        let places = self.rules.places;
        match whose {
            Reach::Own => {
                let when = self.literal(place, fault, true);
                self.conclude(place, when, &Reach::Own, sign, weight);
            }
            Reach::Up(kind) => {
                if let Some(owner) = places.owner_of_kind(place, *kind) {
                    let when = self.literal(owner, fault, true);
                    self.conclude(place, when, &Reach::Own, sign, weight);
                }
            }
            Reach::Down { path, only, .. } => {
                let path = places.down(place, path);
                let last = path.and_then(|path| path.last().copied());
                let slot = places.slot(self.rules.states, place, sign);
                if let (Some(last), Some(index)) = (last, slot) {
                    let target = VarId { place, index };
                    let when = self.literal(last, fault, true);
                    let when = self.where_placed(last, only.as_ref(), when);
                    self.event(last, target, Cause { when, weight });
                }
            }
            // The language does not let a sign mean something of the others.
            Reach::Others { .. } => {}
        }
    }

    /// The same clause, of a part that stands there among its like.
    fn where_placed(&mut self, place: usize, only: Option<&Placing>, when: Clause) -> Clause {
        match only {
            Some(only) => Clause::all([self.placed(&place, only), when]),
            None => when,
        }
    }

    /// A reason for each of the others: so many of them have it as there are parts, but for
    /// the part itself, at which it is given.
    fn conclude_others(
        &mut self,
        place: usize,
        at: usize,
        (when, weight): (Clause, f64),
        state: usize,
    ) {
        for n in 1..=usize::from(self.rules.places.most(place)) {
            let when = self.count_others(at, place, when.clone(), n);
            if when != Clause::Known(false) {
                self.add_cause(at, state, Cause { when, weight });
            }
        }
    }

    /// Gives a state a reason.
    fn conclude(&mut self, place: usize, when: Clause, result: &Reach, state: usize, weight: f64) {
        if when == Clause::Known(false) {
            return;
        }
        match result {
            Reach::Own => self.add_cause(place, state, Cause { when, weight }),
            Reach::Up(kind) => {
                let Some(owner) = self.rules.places.owner_of_kind(place, *kind) else {
                    return;
                };
                let Some(index) = self.rules.places.slot(self.rules.states, owner, state) else {
                    return;
                };
                let target = VarId {
                    place: owner,
                    index,
                };
                self.event(place, target, Cause { when, weight });
            }
            Reach::Others { of, .. } => {
                if let Some(at) = self.rules.places.beside(place, *of) {
                    self.conclude_others(place, at, (when, weight), state);
                }
            }
            Reach::Down { path, only, .. } => {
                let Some(path) = self.rules.places.down(place, path) else {
                    return;
                };
                let Some(&last) = path.last() else { return };
                let when = match &when {
                    Clause::Known(_) => when,
                    Clause::Literal(literal) if self.is_plain(literal) => when,
                    _ => {
                        let helper = self.helper(place, when);
                        Clause::Literal(Literal {
                            var: helper,
                            at_least: 1,
                            yes: true,
                        })
                    }
                };
                let when = self.where_placed(last, only.as_ref(), when);
                self.add_cause(last, state, Cause { when, weight });
            }
        }
    }

    fn add_cause(&mut self, place: usize, state: usize, cause: Cause) {
        let Some(index) = self.rules.places.slot(self.rules.states, place, state) else {
            return;
        };
        if let Role::State { causes, .. } = &mut self.network.sites[place].vars[index] {
            causes.push(cause);
        }
    }

    /// Adds a cause to the event that leads from `place` up to `target`, and
    /// makes the way up if this is the first.
    fn event(&mut self, place: usize, target: VarId, cause: Cause) {
        let known = self
            .network
            .events
            .iter()
            .find(|(at, to, _)| *at == place && *to == target)
            .map(|(_, _, index)| *index);
        if let Some(index) = known {
            if let Role::Event(causes) = &mut self.network.sites[place].vars[index] {
                causes.push(cause);
            }
            return;
        }
        let vars = &mut self.network.sites[place].vars;
        vars.push(Role::Event(vec![cause]));
        let index = vars.len() - 1;
        self.network.events.push((place, target, index));
        let mut event = VarId { place, index };
        loop {
            let Some(owner) = self.rules.places.owner(event.place) else {
                return;
            };
            let arrived = self.tally(owner, event, 1);
            if owner == target.place {
                if let Role::State { causes, .. } =
                    &mut self.network.sites[owner].vars[target.index]
                {
                    causes.push(Cause {
                        when: arrived,
                        weight: 1.0,
                    });
                }
                return;
            }
            let Clause::Literal(literal) = arrived else {
                return;
            };
            event = literal.var;
        }
    }
}
