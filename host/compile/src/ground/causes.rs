//! What gives reasons for each state of each part.

use tellmark_language::model::{OnlyIf, Reach, Rule};

use super::condition::Claims;
use super::{Claim, Ground, GroundCause, SentenceId};
use crate::fitted::Fitted;
use crate::meaning::{meaning, with_exception};
use crate::network::weight;
use crate::rules::Rules;

/// Adds every cause to the states of a piece.
pub(super) fn add_all(rules: Rules<'_>, ground: &mut Ground, fitted: &Fitted) {
    let mut causes = Causes { rules, ground };
    causes.add_meanings();
    for (i, rule) in rules.model.rules.iter().enumerate() {
        causes.add_rule(i, rule);
    }
    causes.add_means(fitted);
    causes.add_together(fitted);
    for (i, only_if) in rules.model.only_ifs.iter().enumerate() {
        causes.allow(only_if, SentenceId::OnlyIf(i));
    }
}

struct Causes<'m, 'g> {
    rules: Rules<'m>,
    ground: &'g mut Ground,
}

impl Causes<'_, '_> {
    fn node(&self, part: usize, row: usize) -> Option<usize> {
        let Rules { states, places, .. } = self.rules;
        self.ground.node(states, places, part, row)
    }

    /// What the words themselves mean: a wider mark is implied by a narrower one, and
    /// a value of a choice is so where no other is.
    fn add_meanings(&mut self) {
        for node in 0..self.ground.states.len() {
            let (part, row) = (self.ground.states[node].part, self.ground.states[node].row);
            let meant = &self.rules.states.states[row].meant;
            for meant in meant {
                let claims = meant.when.iter();
                let claims =
                    claims.filter_map(|&(row, yes)| Some(Claim::State(self.node(part, row)?, yes)));
                let when = Claim::all(claims.collect());
                self.ground.states[node].causes.push(GroundCause {
                    when,
                    weight: meant.weight,
                    sentence: SentenceId::Meaning,
                });
            }
        }
    }

    fn add_rule(&mut self, number: usize, rule: &Rule) {
        let sentence = SentenceId::Rule(number);
        let row = self.rules.states.result(number, rule);
        for part in 0..self.ground.parts.len() {
            if !self.ground.is_of(self.rules.places, part, rule.subject) {
                continue;
            }
            let mut claims = Claims {
                rules: self.rules,
                ground: self.ground,
            };
            let when = with_exception(&mut claims, &part, &rule.when, rule.unless.as_ref());
            for target in self.reached(part, &rule.result) {
                self.conclude(target, row, when.clone(), weight(&rule.strength), sentence);
            }
        }
    }

    /// Lets a state hold only where it can: nothing else counts as a reason for it.
    fn allow(&mut self, only_if: &OnlyIf, sentence: SentenceId) {
        let Rules { model, states, .. } = self.rules;
        for row in states.closed(model, only_if.state) {
            self.allow_row(only_if, row, sentence);
        }
    }

    fn allow_row(&mut self, only_if: &OnlyIf, row: usize, sentence: SentenceId) {
        let kind = self.rules.model.states[only_if.state.index()].kind;
        for part in 0..self.ground.parts.len() {
            let node = self.node(part, row);
            let is_of = self.ground.is_of(self.rules.places, part, kind);
            let Some(node) = node.filter(|_| is_of) else {
                continue;
            };
            let mut claims = Claims {
                rules: self.rules,
                ground: self.ground,
            };
            let can_be = meaning(&mut claims, &part, &only_if.when);
            let state = &mut self.ground.states[node];
            state.causes.push(GroundCause {
                when: Claim::Known(true),
                weight: std::mem::take(&mut state.own),
                sentence,
            });
            for cause in &mut state.causes {
                let when = std::mem::replace(&mut cause.when, Claim::Known(true));
                cause.when = Claim::all(vec![can_be.clone(), when]);
            }
        }
    }

    fn reached(&self, part: usize, reach: &Reach) -> Vec<usize> {
        let places = self.rules.places;
        match reach {
            Reach::Own => vec![part],
            Reach::Up(kind) => self.ground.owner(places, part, *kind).into_iter().collect(),
            Reach::Down { path, only, .. } => {
                let meant = (path.as_slice(), only.as_ref());
                self.ground.some_down(self.rules, part, meant)
            }
            Reach::Others { of, .. } => self.ground.others(places, part, *of),
        }
    }

    /// Gives a state of a part a reason, unless it can never hold.
    fn conclude(
        &mut self,
        part: usize,
        row: usize,
        when: Claim,
        weight: f64,
        sentence: SentenceId,
    ) {
        let node = self.node(part, row);
        if let Some(node) = node.filter(|_| when != Claim::Known(false)) {
            self.ground.states[node].causes.push(GroundCause {
                when,
                weight,
                sentence,
            });
        }
    }

    fn add_means(&mut self, fitted: &Fitted) {
        for (i, means) in self.rules.model.means.iter().enumerate() {
            let sign = self.rules.states.declared(means.sign);
            let fault = self.rules.states.declared(means.fault);
            for part in 0..self.ground.parts.len() {
                if !self.ground.is_of(self.rules.places, part, means.subject) {
                    continue;
                }
                let place = self.ground.parts[part].place;
                let Some(link) = fitted.link(place, i) else {
                    continue;
                };
                for cause in self.reached(part, &means.whose) {
                    if let Some(node) = self.node(cause, fault) {
                        let when = Claim::State(node, true);
                        self.conclude(part, sign, when, link, SentenceId::Means(i));
                    }
                }
            }
        }
    }

    fn add_together(&mut self, fitted: &Fitted) {
        for (i, together) in self.rules.model.togethers.iter().enumerate() {
            let fault = self.rules.states.declared(together.fault);
            for part in 0..self.ground.parts.len() {
                if !self.ground.is_of(self.rules.places, part, together.subject) {
                    continue;
                }
                let place = self.ground.parts[part].place;
                let Some(link) = fitted.together(place, i) else {
                    continue;
                };
                let faults = self.reached(part, &together.whose);
                let faults: Vec<usize> =
                    faults.iter().filter_map(|&p| self.node(p, fault)).collect();
                let places = self.rules.places;
                let shown = self.ground.down(places, part, &together.path);
                for &sign in &together.signs {
                    let row = self.rules.states.reasons(sign);
                    for &part in &shown {
                        for &node in &faults {
                            let when = Claim::State(node, true);
                            self.conclude(part, row, when, link, SentenceId::Together(i));
                        }
                    }
                }
            }
        }
    }
}
