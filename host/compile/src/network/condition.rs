//! Conditions as clauses over the variables of places.
//!
//! A clause speaks of a place and its owners. What it asks of parts below becomes a
//! tally that the place keeps: at how many of the parts something is so.

use tellmark_core::pack::condition::Many;
use tellmark_language::model::{KindId, Mark, Placing, SignId, StateId, Sureness};

use super::{Clause, Literal, Network, Role, VarId};
use crate::formula::Negate;
use crate::meaning::{Counting, Meaning, Opposite, by_counting, by_number, is_within};
use crate::rules::Rules;
use crate::states::{Signed, count_sign, range};

/// The form of conditions over the variables of the network, to which it adds the
/// helpers that they take.
pub(super) struct Clauses<'m, 'n> {
    pub(super) rules: Rules<'m>,
    pub(super) network: &'n mut Network,
}

/// A group of parts.
pub(super) enum Group {
    /// The parts below a place: the place, the places on the way down from it, and which
    /// parts of the last.
    Below {
        owner: usize,
        path: Vec<usize>,
        only: Option<Placing>,
    },
    /// The others of a place's owner at another place, or at this one.
    Others { place: usize, at: usize },
    /// A piece has no such parts.
    None,
}

impl Meaning for Clauses<'_, '_> {
    type Part = usize;
    type Group = Group;
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

    fn group(&mut self, place: &usize, path: &[KindId], only: Option<&Placing>) -> Group {
        match self.rules.places.down(*place, path) {
            Some(path) => Group::Below {
                owner: *place,
                path,
                only: only.cloned(),
            },
            None => Group::None,
        }
    }

    fn others(&mut self, place: &usize, kind: KindId) -> Group {
        match self.rules.places.beside(*place, kind) {
            Some(at) => Group::Others { place: *place, at },
            None => Group::None,
        }
    }

    fn quantified(
        &mut self,
        many: Many,
        group: &Group,
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

    fn placed(&mut self, place_at: &usize, place: &Placing) -> Clause {
        by_number(self, place_at, place)
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
        group: &Group,
        is_so: &dyn Fn(&mut Self, &usize) -> Clause,
    ) -> Clause {
        match group {
            Group::None => Clause::Known(n == 0),
            Group::Below { owner, path, only } => {
                let at = path.last().unwrap_or(owner);
                let mut inner = is_so(self, at);
                if let Some(only) = only {
                    let stands = self.placed(at, only);
                    inner = Clause::all([stands, inner]);
                }
                self.count(*owner, path, inner, n)
            }
            Group::Others { place, at } => {
                let inner = is_so(self, at);
                self.count_others(*place, *at, inner, n)
            }
        }
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

    /// At least `n` of the others are so: of a part that is not among those counted, so
    /// many of all; else one more of all than of the others, if it is so itself.
    pub(super) fn count_others(
        &mut self,
        place: usize,
        at: usize,
        inner: Clause,
        n: usize,
    ) -> Clause {
        let Some(owner) = self.rules.places.owner(place).filter(|_| n > 0) else {
            return Clause::Known(n == 0);
        };
        if inner == Clause::Known(false) {
            return inner;
        }
        let event = self.helper(at, inner);
        let enough = self.passed_down(owner, event, n);
        if at != place {
            return enough;
        }
        let more = self.passed_down(owner, event, n + 1);
        let own = Clause::Literal(Literal {
            var: event,
            at_least: 1,
            yes: false,
        });
        Clause::any([more, Clause::all([own, enough])])
    }

    /// At least `n` of an owner's parts, as something that its parts can read.
    fn passed_down(&mut self, owner: usize, event: VarId, n: usize) -> Clause {
        let most = self.rules.places.most(event.place);
        let Some(n) = u8::try_from(n).ok().filter(|&n| n <= most) else {
            return Clause::Known(false);
        };
        let enough = self.tally(owner, event, n);
        let var = self.helper(owner, enough);
        Clause::Literal(Literal {
            var,
            at_least: 1,
            yes: true,
        })
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
