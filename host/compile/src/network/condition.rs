//! Conditions as clauses over the variables of places.
//!
//! A clause speaks of a place and its owners. What it asks of parts below becomes a
//! tally that the place keeps: at how many of the parts something is so.

use tellmark_core::pack::condition::Many;
use tellmark_language::model::{KindId, Mark, SignId, StateId, Sureness};

use super::{Clause, Literal, Network, Role, VarId};
use crate::formula::Negate;
use crate::meaning::{Counting, Meaning, Opposite, by_counting, is_within};
use crate::rules::Rules;
use crate::states::{Signed, count_sign, range};

/// The form of conditions over the variables of the network, to which it adds the
/// helpers that they take.
pub(super) struct Clauses<'m, 'n> {
    pub(super) rules: Rules<'m>,
    pub(super) network: &'n mut Network,
}

/// The parts below a place: the place, and the places on the way down from it; `None`
/// where a piece has no such parts.
pub(super) struct Below {
    owner: usize,
    path: Option<Vec<usize>>,
}

impl Meaning for Clauses<'_, '_> {
    type Part = usize;
    type Group = Below;
    type Value = Clause;

    fn known(&mut self, so: bool) -> Clause {
        Clause::Known(so)
    }

    fn is_not(&mut self, value: Clause) -> Clause {
        value.negated()
    }

    fn all(&mut self, values: Vec<Clause>) -> Clause {
        Clause::all(values)
    }

    fn any(&mut self, values: Vec<Clause>) -> Clause {
        Clause::any(values)
    }

    fn at_least_of(&mut self, n: usize, values: Vec<Clause>) -> Clause {
        Clause::at_least(n, &values)
    }

    fn owner(&mut self, place: &usize, kind: KindId) -> Option<usize> {
        self.rules.places.owner_of_kind(*place, kind)
    }

    fn group(&mut self, place: &usize, path: &[KindId]) -> Below {
        Below {
            owner: *place,
            path: self.rules.places.down(*place, path),
        }
    }

    fn quantified(
        &mut self,
        many: Many,
        group: &Below,
        is_so: &dyn Fn(&mut Self, &usize) -> Clause,
    ) -> Clause {
        by_counting(self, many, group, is_so)
    }

    fn state(&mut self, place: &usize, state: StateId, _: Option<Sureness>) -> Clause {
        self.literal(*place, self.rules.states.declared(state), true)
    }

    fn measure(&mut self, place: &usize, sign: SignId, mark: Mark) -> Clause {
        self.signed(
            *place,
            self.rules.states.within(self.rules.model, sign, mark),
        )
    }

    fn choice(&mut self, place: &usize, sign: SignId, values: &[u8]) -> Clause {
        let rows = values
            .iter()
            .filter_map(|&v| self.rules.states.value(sign, v));
        Clause::any(rows.map(|row| self.literal(*place, row, true)))
    }

    fn has(&mut self, place: &usize, kind: KindId, mark: Mark) -> Clause {
        let model = self.rules.model;
        let own = self.rules.places.kind(*place);
        match count_sign(model, own, kind) {
            Some(sign) => self.signed(*place, self.rules.states.within(model, sign, mark)),
            // What nobody counts has a fixed number.
            None => Clause::Known(is_within(mark, range(model, own, kind).0)),
        }
    }

    /// Rules may not speak of it; plans and cautions do.
    fn cannot_be_seen(&mut self, _: &usize) -> Clause {
        Clause::Known(false)
    }
}

impl Opposite for Clauses<'_, '_> {
    fn not(&mut self, value: Clause) -> Clause {
        value.negated()
    }
}

impl Counting for Clauses<'_, '_> {
    fn at_least(
        &mut self,
        n: usize,
        group: &Below,
        is_so: &dyn Fn(&mut Self, &usize) -> Clause,
    ) -> Clause {
        let Some(path) = &group.path else {
            return Clause::Known(n == 0);
        };
        let inner = is_so(self, path.last().unwrap_or(&group.owner));
        self.count(group.owner, path, inner, n)
    }
}

impl Clauses<'_, '_> {
    /// A state of a place; one that it does not have does not hold.
    pub(super) fn literal(&self, place: usize, row: usize, yes: bool) -> Clause {
        match self.rules.places.slot(self.rules.states, place, row) {
            Some(index) => Clause::Literal(Literal {
                var: VarId { place, index },
                at_least: 1,
                yes,
            }),
            None => Clause::Known(!yes),
        }
    }

    fn signed(&self, place: usize, within: Result<Vec<Signed>, bool>) -> Clause {
        match within {
            Err(known) => Clause::Known(known),
            Ok(literals) => Clause::all(
                literals
                    .into_iter()
                    .map(|(row, yes)| self.literal(place, row, yes)),
            ),
        }
    }

    /// At least `n` of the parts down the path are so. (The language allows numbers
    /// over 1 for a path of one step only.)
    fn count(&mut self, place: usize, path: &[usize], inner: Clause, n: usize) -> Clause {
        if n == 0 {
            return Clause::Known(true);
        }
        let Some((&child, rest)) = path.split_first() else {
            return inner;
        };
        // No place has more parts than a byte can count.
        let Ok(n) = u8::try_from(n) else {
            return Clause::Known(false);
        };
        let inner = if rest.is_empty() {
            inner
        } else {
            self.count(child, rest, inner, 1)
        };
        if inner == Clause::Known(false) {
            return inner;
        }
        let event = self.helper(child, inner);
        self.tally(place, event, n)
    }

    /// Whether a literal is about a yes/no variable as it stands. (A tally may yet
    /// come to count further.)
    pub(super) fn is_plain(&self, literal: &Literal) -> bool {
        let role = &self.network.sites[literal.var.place].vars[literal.var.index];
        literal.at_least == 1 && !matches!(role, Role::Tally { .. })
    }

    /// A variable of the place that is true exactly when the clause holds.
    pub(super) fn helper(&mut self, place: usize, clause: Clause) -> VarId {
        if let Clause::Literal(literal) = &clause
            && literal.yes
            && literal.var.place == place
            && self.is_plain(literal)
        {
            return literal.var;
        }
        let vars = &mut self.network.sites[place].vars;
        let known = vars
            .iter()
            .position(|role| matches!(role, Role::Exactly(c) if *c == clause));
        let index = known.unwrap_or_else(|| {
            vars.push(Role::Exactly(clause));
            vars.len() - 1
        });
        VarId { place, index }
    }

    /// "At least n of the parts": a literal on the owner's tally.
    pub(super) fn tally(&mut self, place: usize, of: VarId, n: u8) -> Clause {
        let vars = &mut self.network.sites[place].vars;
        let known = vars
            .iter_mut()
            .enumerate()
            .find_map(|(i, role)| match role {
                Role::Tally { of: fed, cap } if *fed == of => {
                    *cap = (*cap).max(n);
                    Some(i)
                }
                _ => None,
            });
        let index = known.unwrap_or_else(|| {
            vars.push(Role::Tally { of, cap: n });
            vars.len() - 1
        });
        Clause::Literal(Literal {
            var: VarId { place, index },
            at_least: n,
            yes: true,
        })
    }
}
