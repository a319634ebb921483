//! The belief network at the level of places: what each state of each kind of
//! part, where it stands in the tree of a piece, depends on.
//!
//! A rule speaks of one part, its owners and its own parts. Here it becomes
//! causes of states, each with a condition over variables of the same place or
//! of its owners. What comes from below arrives through tallies: an owner
//! counts at how many of its parts something is so, up to a cap. What a rule
//! does to a state higher up is an event that is passed up the same way.

mod causes;
mod condition;

use std::collections::BTreeSet;
use std::ops::Range;

use crate::fitted::Fitted;
use crate::formula::{Formula, Negate};
use crate::places::Places;
use crate::rules::Rules;
use tellmark_language::model::{HowOften, Strength};

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
    /// This one about several signs.
    Together(usize),
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
    /// Builds it, with these figures for `that means` sentences and some sentences
    /// left out, for the places `within` one or several whole pieces. (The others have
    /// their states and nothing else.)
    #[must_use]
    pub fn of(rules: Rules<'_>, fitted: &Fitted, without: Without, within: Range<usize>) -> Self {
        let mut network = Self::default();
        for place in 0..rules.places.len() {
            network.add_states(rules, fitted, place);
        }
        causes::add_all(rules, &mut network, fitted, without, &within);
        network.connect(rules.places);
        network
    }

    fn add_states(&mut self, rules: Rules<'_>, fitted: &Fitted, place: usize) {
        let Rules { states, places, .. } = rules;
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
            let causes = state.meant.iter().map(|meant| {
                let literals = meant
                    .when
                    .iter()
                    .filter_map(|&(row, yes)| literal(row, yes));
                Cause {
                    when: Clause::all(literals),
                    weight: meant.weight,
                }
            });
            let causes = causes.collect();
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
