//! The belief network at the level of places: what each state of each kind of
//! part, where it stands in the tree of a piece, depends on.
//!
//! A rule speaks of one part, its owners and its own parts. Here it becomes
//! causes of states, each with a condition over variables of the same place or
//! of its owners. What comes from below arrives through tallies: an owner
//! counts at how many of its parts something is so, up to a cap. What a rule
//! does to a state higher up is an event that is passed up the same way.

use std::collections::BTreeSet;

use super::fit::Fitted;
use super::formula::{Formula, Negate};
use super::places::Places;
use super::states::{Signed, States, count_sign, range};
use tellmark_language::model::{
    Condition, HowMany, HowOften, Model, Predicate, Reach, Strength, Test,
};

/// A variable: a state or a helper of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct VarId {
    /// The place.
    pub place: usize,
    /// Which of its variables; its states come first.
    pub index: usize,
}

/// A variable that must have at least this value, or must not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Literal {
    /// The variable.
    pub var: VarId,
    /// The value; 1 for what is just so or not so.
    pub at_least: u8,
    /// Must, rather than must not.
    pub yes: bool,
}

impl Negate for Literal {
    fn negated(self) -> Self {
        Self {
            yes: !self.yes,
            ..self
        }
    }
}

/// A condition over variables.
pub type Clause = Formula<Literal>;

/// Something that can bring a state about.
#[derive(Clone, Debug)]
pub struct Cause {
    /// When it can.
    pub when: Clause,
    /// How often it then does.
    pub weight: f64,
}

/// What decides a variable.
#[derive(Clone, Debug)]
pub enum Role {
    /// A state that answers can be about: on its own, or by any of its causes.
    State {
        /// Its chance when nothing gives a reason for it.
        own: f64,
        /// What gives reasons for it.
        causes: Vec<Cause>,
        /// Whether it takes part at all.
        in_use: bool,
    },
    /// True exactly when this holds.
    Exactly(Clause),
    /// Fired by any of these rules; passed up to an owner.
    Event(Vec<Cause>),
    /// At how many of the parts at this place that variable is true, up to a
    /// cap.
    Tally {
        /// The parts' place and variable.
        of: VarId,
        /// The cap.
        cap: u8,
    },
}

/// The variables of one place.
#[derive(Clone, Debug, Default)]
pub struct Site {
    /// States first, then helpers.
    pub vars: Vec<Role>,
    /// Variables of its owners that it, or anything built into it, reads.
    pub reads: Vec<VarId>,
    /// Its own variables that its owner tallies.
    pub feeds: Vec<usize>,
}

/// The belief network at the level of places.
#[derive(Clone, Debug, Default)]
pub struct Network {
    /// One for each place.
    pub sites: Vec<Site>,
    /// Events already made: place, state they lead to, event variable.
    events: Vec<(usize, VarId, usize)>,
}

/// Which sentences to leave out, to see what that saves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Without {
    /// None.
    #[default]
    Nothing,
    /// This rule.
    Rule(usize),
    /// This `that means` sentence.
    Means(usize),
}

/// A strength as a chance.
#[must_use]
pub fn weight(often: &HowOften) -> f64 {
    if often.word == Some(Strength::ByDefinition) {
        1.0
    } else {
        f64::from(often.chance.0) / 1000.0
    }
}

impl Network {
    /// Builds it from a model.
    #[must_use]
    pub fn of(
        model: &Model,
        states: &States,
        places: &Places,
        fitted: &Fitted,
        without: Without,
    ) -> Self {
        let mut network = Self::default();
        for place in 0..places.len() {
            network.add_states(states, places, fitted, place);
        }
        let mut builder = Builder {
            model,
            states,
            places,
            network,
        };
        for (i, rule) in model.rules.iter().enumerate() {
            if without == Without::Rule(i) {
                continue;
            }
            for place in places.of_subject(rule.subject) {
                let mut when = builder.condition(place, &rule.when);
                if let Some(unless) = &rule.unless {
                    let exception = builder.condition(place, unless);
                    when = Clause::all([when, exception.negated()]);
                }
                let state = states.declared(rule.state);
                builder.conclude(place, when, &rule.result, state, weight(&rule.strength));
            }
        }
        for (i, means) in model.means.iter().enumerate() {
            if without == Without::Means(i) {
                continue;
            }
            builder.add_means(i, means, fitted);
        }
        builder.network.connect(places);
        builder.network
    }

    fn add_states(&mut self, states: &States, places: &Places, fitted: &Fitted, place: usize) {
        let rows: Vec<usize> = places.states(states, place).collect();
        let at = |state: usize| rows.iter().position(|&row| row == state);
        let literal = |state: usize, yes: bool| {
            at(state).map(|index| {
                Clause::Literal(Literal {
                    var: VarId { place, index },
                    at_least: 1,
                    yes,
                })
            })
        };
        let mut site = Site::default();
        for &row in &rows {
            let state = &states.states[row];
            let mut causes: Vec<Cause> = state
                .implied_by
                .iter()
                .filter(|&&inner| states.states[inner].in_use)
                .filter_map(|&inner| {
                    Some(Cause {
                        when: literal(inner, true)?,
                        weight: 1.0,
                    })
                })
                .collect();
            if let Some((others, chance)) = &state.unless {
                let none = others.iter().filter_map(|&other| literal(other, false));
                causes.push(Cause {
                    when: Clause::all(none),
                    weight: *chance,
                });
            }
            site.vars.push(Role::State {
                own: fitted.false_alarm(place, row).unwrap_or(state.own),
                causes,
                in_use: state.in_use,
            });
        }
        self.sites.push(site);
    }

    /// Works out what each place reads from its owners and feeds to them.
    fn connect(&mut self, places: &Places) {
        for place in (0..places.len()).rev() {
            let mut reads = BTreeSet::new();
            for role in &self.sites[place].vars {
                role.clauses(&mut |clause| {
                    clause.literals(&mut |literal| {
                        if literal.var.place != place {
                            reads.insert(literal.var);
                        }
                    });
                });
            }
            for child in places.children(place) {
                let inner = self.sites[child].reads.iter().copied();
                reads.extend(inner.filter(|var| var.place != place));
            }
            self.sites[place].reads = reads.into_iter().collect();
        }
        for place in 0..places.len() {
            let fed: Vec<VarId> = self.sites[place]
                .vars
                .iter()
                .filter_map(|role| match role {
                    Role::Tally { of, .. } => Some(*of),
                    _ => None,
                })
                .collect();
            for var in fed {
                let feeds = &mut self.sites[var.place].feeds;
                if !feeds.contains(&var.index) {
                    feeds.push(var.index);
                }
            }
        }
        for site in &mut self.sites {
            site.feeds.sort_unstable();
        }
    }

    /// The owner's tally of a variable of one of its parts.
    #[must_use]
    pub fn tally(&self, owner: usize, of: VarId) -> Option<(usize, u8)> {
        self.sites[owner]
            .vars
            .iter()
            .enumerate()
            .find_map(|(index, role)| match role {
                Role::Tally { of: fed, cap } if *fed == of => Some((index, *cap)),
                _ => None,
            })
    }
}

impl Role {
    /// Calls `each` with every condition in it.
    pub fn clauses<'r>(&'r self, each: &mut impl FnMut(&'r Clause)) {
        match self {
            Self::State { causes, .. } | Self::Event(causes) => {
                for cause in causes {
                    each(&cause.when);
                }
            }
            Self::Exactly(clause) => each(clause),
            Self::Tally { .. } => {}
        }
    }
}

struct Builder<'m> {
    model: &'m Model,
    states: &'m States,
    places: &'m Places,
    network: Network,
}

impl Builder<'_> {
    fn state(&self, place: usize, state: usize, yes: bool) -> Clause {
        match self.places.slot(self.states, place, state) {
            Some(index) => Clause::Literal(Literal {
                var: VarId { place, index },
                at_least: 1,
                yes,
            }),
            None => Clause::Known(!yes),
        }
    }

    fn condition(&mut self, place: usize, condition: &Condition) -> Clause {
        match condition {
            Condition::All(parts) => {
                let parts: Vec<_> = parts.iter().map(|p| self.condition(place, p)).collect();
                Clause::all(parts)
            }
            Condition::Any(parts) => {
                let parts: Vec<_> = parts.iter().map(|p| self.condition(place, p)).collect();
                Clause::any(parts)
            }
            Condition::Test(test) => self.test(place, test),
        }
    }

    fn test(&mut self, place: usize, test: &Test) -> Clause {
        match &test.whose {
            Reach::Own => self.predicate(place, &test.what),
            Reach::Up(kind) => match self.places.owner_of_kind(place, *kind) {
                Some(owner) => self.predicate(owner, &test.what),
                None => Clause::Known(false),
            },
            Reach::Down { path, many } => {
                let Some(path) = self.places.down(place, path) else {
                    return Clause::Known(matches!(
                        many,
                        HowMany::Every | HowMany::No | HowMany::FewerThan(_)
                    ));
                };
                let Some(&last) = path.last() else {
                    return Clause::Known(false);
                };
                let inner = self.predicate(last, &test.what);
                self.many(place, &path, inner, *many)
            }
        }
    }

    fn many(&mut self, place: usize, path: &[usize], inner: Clause, many: HowMany) -> Clause {
        match many {
            HowMany::The | HowMany::Any => self.at_least(place, path, inner, 1),
            HowMany::Every => self.at_least(place, path, inner.negated(), 1).negated(),
            HowMany::No => self.at_least(place, path, inner, 1).negated(),
            HowMany::AtLeast(n) => self.at_least(place, path, inner, n),
            HowMany::FewerThan(n) => self.at_least(place, path, inner, n).negated(),
            HowMany::Exactly(n) => {
                let enough = self.at_least(place, path, inner.clone(), n);
                let more = self.at_least(place, path, inner, n.saturating_add(1));
                Clause::all([enough, more.negated()])
            }
        }
    }

    /// At least `n` of the parts down the path are so. (The language allows
    /// numbers over 1 for a path of one step only.)
    fn at_least(&mut self, place: usize, path: &[usize], inner: Clause, n: u8) -> Clause {
        if n == 0 {
            return Clause::Known(true);
        }
        let Some((&child, rest)) = path.split_first() else {
            return inner;
        };
        let inner = if rest.is_empty() {
            inner
        } else {
            self.at_least(child, rest, inner, 1)
        };
        if inner == Clause::Known(false) {
            return inner;
        }
        let event = self.helper(child, inner);
        self.tally(place, event, n)
    }

    /// Whether a literal is about a yes/no variable as it stands. (A tally may
    /// yet come to count further.)
    fn is_plain(&self, literal: &Literal) -> bool {
        let role = &self.network.sites[literal.var.place].vars[literal.var.index];
        literal.at_least == 1 && !matches!(role, Role::Tally { .. })
    }

    /// A variable of the place that is true exactly when the clause holds.
    fn helper(&mut self, place: usize, clause: Clause) -> VarId {
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
    fn tally(&mut self, place: usize, of: VarId, n: u8) -> Clause {
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

    fn predicate(&mut self, place: usize, what: &Predicate) -> Clause {
        let signed = |this: &Self, (state, yes): Signed| this.state(place, state, yes);
        let (clause, yes) = match what {
            Predicate::State { state, yes, .. } => {
                (self.state(place, self.states.declared(*state), true), *yes)
            }
            Predicate::Measure { sign, mark, yes } => {
                let within = match self.states.within(self.model, *sign, *mark) {
                    Ok(literals) => Clause::all(literals.into_iter().map(|l| signed(self, l))),
                    Err(known) => Clause::Known(known),
                };
                (within, *yes)
            }
            Predicate::Choice { sign, values, yes } => {
                let values = values
                    .iter()
                    .filter_map(|&v| self.states.value(*sign, v))
                    .map(|state| self.state(place, state, true));
                (Clause::any(values), *yes)
            }
            Predicate::Has { part, mark, yes } => {
                let kind = self.places.kind(place);
                let within = match count_sign(self.model, kind, *part) {
                    Some(sign) => match self.states.within(self.model, sign, *mark) {
                        Ok(literals) => Clause::all(literals.into_iter().map(|l| signed(self, l))),
                        Err(known) => Clause::Known(known),
                    },
                    None => {
                        let (least, _) = range(self.model, kind, *part);
                        let most = mark.at_most.unwrap_or(i32::MAX);
                        Clause::Known(mark.at_least <= least && least <= most)
                    }
                };
                (within, *yes)
            }
            // Rules may not speak of it; plans and cautions do.
            Predicate::CannotBeSeen => (Clause::Known(false), true),
        };
        if yes { clause } else { clause.negated() }
    }

    /// Gives a state a reason.
    fn conclude(&mut self, place: usize, when: Clause, result: &Reach, state: usize, weight: f64) {
        if when == Clause::Known(false) {
            return;
        }
        match result {
            Reach::Own => self.add_cause(place, state, Cause { when, weight }),
            Reach::Up(kind) => {
                let Some(owner) = self.places.owner_of_kind(place, *kind) else {
                    return;
                };
                let Some(index) = self.places.slot(self.states, owner, state) else {
                    return;
                };
                let target = VarId {
                    place: owner,
                    index,
                };
                self.event(place, target, Cause { when, weight });
            }
            Reach::Down { path, .. } => {
                let Some(path) = self.places.down(place, path) else {
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
                self.add_cause(last, state, Cause { when, weight });
            }
        }
    }

    fn add_cause(&mut self, place: usize, state: usize, cause: Cause) {
        let Some(index) = self.places.slot(self.states, place, state) else {
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
            let Some(owner) = self.places.owner(event.place) else {
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

    /// The link from the fault to the sign, as strong as it was fitted.
    fn add_means(
        &mut self,
        index: usize,
        means: &tellmark_language::model::Means,
        fitted: &Fitted,
    ) {
        let sign = self.states.declared(means.sign);
        let fault = self.states.declared(means.fault);
        for place in self.places.of_subject(means.subject) {
            let Some(weight) = fitted.link(place, index) else {
                continue;
            };
            match &means.whose {
                Reach::Own => {
                    let when = self.state(place, fault, true);
                    self.conclude(place, when, &Reach::Own, sign, weight);
                }
                Reach::Up(kind) => {
                    if let Some(owner) = self.places.owner_of_kind(place, *kind) {
                        let when = self.state(owner, fault, true);
                        self.conclude(place, when, &Reach::Own, sign, weight);
                    }
                }
                Reach::Down { path, .. } => {
                    let Some(path) = self.places.down(place, path) else {
                        continue;
                    };
                    let (Some(&last), Some(slot)) =
                        (path.last(), self.places.slot(self.states, place, sign))
                    else {
                        continue;
                    };
                    let target = VarId { place, index: slot };
                    let when = self.state(last, fault, true);
                    self.event(last, target, Cause { when, weight });
                }
            }
        }
    }
}
