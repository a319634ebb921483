//! From the network of one place to a program of sums and products.

use std::collections::BTreeSet;

use tellmark_core::limits::{MAX_FEEDS, MAX_INTERFACE, MAX_NODES};
use tellmark_core::pack::{Group, NONE};

use super::circuit::{Circuit, Finished};
use super::factor::{Factor, eliminate, join};
use super::network::{Cause, Clause, Literal, Network, Role, VarId};
use super::order;
use super::places::Places;

/// Variables in one small table; larger conditions are split.
const SMALL: usize = 3;
/// Nodes a circuit may have while it is being made.
const WORKING_LIMIT: usize = 400_000;

/// The belief fragment of one place.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Fragment {
    /// States of owners that it reads.
    pub reads: usize,
    /// States of its owner that it feeds.
    pub feeds: usize,
    /// States.
    pub states: usize,
    /// How its parts report, kind by kind.
    pub groups: Vec<Group>,
    /// The program.
    pub program: Finished,
}

/// Why a place cannot be compiled for the bench unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tangled {
    /// States of owners that it would read or feed.
    pub interface: usize,
    /// Sums and products, if it came that far.
    pub nodes: Option<usize>,
}

impl Fragment {
    /// Nodes of its program: constants, inputs and steps.
    #[must_use]
    pub fn nodes(&self) -> usize {
        let table: usize = self.groups.iter().map(Group::entries).sum();
        self.program.constants.len() + 2 * self.states + table + self.program.steps.len()
    }

    /// Compiles one place.
    ///
    /// # Errors
    /// [`Tangled`] if it does not fit the bench unit.
    pub fn of(network: &Network, places: &Places, place: usize) -> Result<Self, Tangled> {
        let site = &network.sites[place];
        let interface = site.reads.len() + site.feeds.len();
        let tangled = |nodes| Tangled { interface, nodes };
        if interface > MAX_INTERFACE || site.feeds.len() > MAX_FEEDS {
            return Err(tangled(None));
        }
        let mut tables = Tables::new(network, places, place);
        let mut circuit = Circuit::new(WORKING_LIMIT);
        let states = site
            .vars
            .iter()
            .filter(|role| matches!(role, Role::State { .. }))
            .count();
        for (index, role) in site.vars.iter().enumerate() {
            tables.add_role(&mut circuit, index, role);
        }
        let (groups, inputs) = tables.add_groups(&mut circuit, states);

        let feeds = site.feeds.iter().copied();
        let kept: Vec<usize> = (site.vars.len()..site.vars.len() + site.reads.len())
            .chain(feeds)
            .collect();
        let keep: BTreeSet<usize> = kept.iter().copied().collect();
        let scopes: Vec<Vec<usize>> = tables.factors.iter().map(|f| f.scope.clone()).collect();
        let order = order::best(&scopes, &tables.sizes, &keep);
        let mut factors = tables.factors;
        for variable in order.variables {
            eliminate(&mut circuit, &mut factors, variable, &tables.sizes)
                .map_err(|_| tangled(None))?;
        }
        let outputs = join(&mut circuit, factors, &kept, &tables.sizes);
        let program = circuit.finish(inputs, &outputs).ok_or(tangled(None))?;
        let fragment = Self {
            reads: site.reads.len(),
            feeds: site.feeds.len(),
            states,
            groups,
            program,
        };
        if fragment.nodes() > MAX_NODES {
            return Err(tangled(Some(fragment.nodes())));
        }
        Ok(fragment)
    }
}

/// The tables of one place; its own variables come first, then those it reads.
struct Tables<'n> {
    network: &'n Network,
    places: &'n Places,
    place: usize,
    sizes: Vec<usize>,
    factors: Vec<Factor>,
}

impl<'n> Tables<'n> {
    fn new(network: &'n Network, places: &'n Places, place: usize) -> Self {
        let site = &network.sites[place];
        let own = site.vars.iter().map(size_of);
        let read = site
            .reads
            .iter()
            .map(|var| size_of(&network.sites[var.place].vars[var.index]));
        Self {
            network,
            places,
            place,
            sizes: own.chain(read).collect(),
            factors: Vec::new(),
        }
    }

    fn local(&self, var: VarId) -> usize {
        let site = &self.network.sites[self.place];
        if var.place == self.place {
            return var.index;
        }
        let read = site.reads.iter().position(|&read| read == var);
        site.vars.len() + read.unwrap_or_default()
    }

    fn helper(&mut self) -> usize {
        self.sizes.push(2);
        self.sizes.len() - 1
    }

    fn add(&mut self, circuit: &mut Circuit, scope: Vec<usize>, value: impl Fn(&[usize]) -> f64) {
        let factor = Factor::build(scope, &self.sizes, |values| circuit.constant(value(values)));
        self.factors.push(factor);
    }

    fn add_role(&mut self, circuit: &mut Circuit, index: usize, role: &Role) {
        match role {
            Role::State { in_use: false, .. } | Role::Tally { .. } => {}
            Role::State { own, causes, .. } => {
                let likelihood = Factor {
                    scope: vec![index],
                    table: vec![circuit.input(2 * index), circuit.input(2 * index + 1)],
                };
                self.factors.push(likelihood);
                self.add_causes(circuit, index, *own, causes);
            }
            Role::Event(causes) => self.add_causes(circuit, index, 0.0, causes),
            Role::Exactly(clause) => {
                let clause = self.localise(clause);
                self.add_exactly(circuit, index, clause);
            }
        }
    }

    fn add_exactly(&mut self, circuit: &mut Circuit, index: usize, clause: Formula) {
        let clause = self.reduce(circuit, clause);
        let mut scope = vec![index];
        collect(&clause, &mut scope);
        self.add(circuit, scope.clone(), |values| {
            let holds = clause.holds(&|literal: &Local| literal.holds(&scope, values));
            f64::from(u8::from(holds == (values[0] == 1)))
        });
    }

    /// The variable is true on its own, or by any of its causes, independently.
    /// Causes with many variables between them are taken in a few at a time
    /// along a chain of helpers.
    fn add_causes(&mut self, circuit: &mut Circuit, index: usize, own: f64, causes: &[Cause]) {
        let mut left: Vec<(Formula, f64)> = causes
            .iter()
            .map(|cause| {
                let clause = self.localise(&cause.when);
                (self.reduce(circuit, clause), cause.weight)
            })
            .collect();
        let mut everything = Vec::new();
        for (clause, _) in &left {
            collect(clause, &mut everything);
        }
        let limit = if everything.len() <= SMALL + 1 {
            SMALL + 1
        } else {
            SMALL
        };
        let mut before: Option<usize> = None;
        let mut own = own;
        loop {
            let mut scope = Vec::new();
            let mut together = Vec::new();
            let mut later = Vec::new();
            for (clause, weight) in left {
                let mut wider = scope.clone();
                collect(&clause, &mut wider);
                if together.is_empty() || wider.len() <= limit {
                    scope = wider;
                    together.push((clause, weight));
                } else {
                    later.push((clause, weight));
                }
            }
            left = later;
            let target = if left.is_empty() {
                index
            } else {
                self.helper()
            };
            let mut full = vec![target];
            full.extend(before);
            full.extend(&scope);
            self.add(circuit, full.clone(), |values| {
                let by_before = before.is_some() && values[1] == 1;
                let mut none = if by_before { 0.0 } else { 1.0 - own };
                for (clause, weight) in &together {
                    if clause.holds(&|literal: &Local| literal.holds(&full, values)) {
                        none *= 1.0 - weight;
                    }
                }
                if values[0] == 1 { 1.0 - none } else { none }
            });
            if left.is_empty() {
                return;
            }
            own = 0.0;
            before = Some(target);
        }
    }

    fn localise(&self, clause: &Clause) -> Formula {
        match clause {
            Clause::Known(value) => Formula::Known(*value),
            Clause::Literal(Literal { var, at_least, yes }) => Formula::Literal(Local {
                variable: self.local(*var),
                at_least: usize::from(*at_least),
                yes: *yes,
            }),
            Clause::All(parts) => Formula::All(parts.iter().map(|p| self.localise(p)).collect()),
            Clause::Any(parts) => Formula::Any(parts.iter().map(|p| self.localise(p)).collect()),
        }
    }

    /// The same condition over at most [`SMALL`] variables, with helpers that
    /// stand for parts of it.
    fn reduce(&mut self, circuit: &mut Circuit, clause: Formula) -> Formula {
        let mut all = Vec::new();
        collect(&clause, &mut all);
        if all.len() <= SMALL {
            return clause;
        }
        let (parts, all) = match clause {
            Formula::All(parts) => (parts, true),
            Formula::Any(parts) => (parts, false),
            other => return other,
        };
        let joined = |parts| {
            if all {
                Formula::All(parts)
            } else {
                Formula::Any(parts)
            }
        };
        let mut parts: Vec<Formula> = parts
            .into_iter()
            .map(|part| {
                let mut of_part = Vec::new();
                collect(&part, &mut of_part);
                if of_part.len() > 1 {
                    let small = self.reduce(circuit, part);
                    self.stand_in(circuit, small)
                } else {
                    part
                }
            })
            .collect();
        while parts.len() > SMALL {
            let rest = parts.split_off(SMALL);
            let stand_in = self.stand_in(circuit, joined(parts));
            parts = vec![stand_in];
            parts.extend(rest);
        }
        joined(parts)
    }

    fn stand_in(&mut self, circuit: &mut Circuit, clause: Formula) -> Formula {
        let variable = self.helper();
        self.add_exactly(circuit, variable, clause);
        Formula::Literal(Local {
            variable,
            at_least: 1,
            yes: true,
        })
    }

    /// The tables of its parts; gives back their descriptions and the number
    /// of inputs.
    fn add_groups(&mut self, circuit: &mut Circuit, states: usize) -> (Vec<Group>, usize) {
        let mut groups = Vec::new();
        let mut first = 0;
        for child in self.places.children(self.place) {
            let inner = &self.network.sites[child];
            let mut group = Group {
                reads: u8::try_from(inner.reads.len()).unwrap_or(u8::MAX),
                feeds: u8::try_from(inner.feeds.len()).unwrap_or(u8::MAX),
                table: u16::try_from(first).unwrap_or(u16::MAX),
                caps: [0; 12],
                sources: [NONE; 10],
            };
            let mut scope = Vec::new();
            for (source, &var) in group.sources.iter_mut().zip(&inner.reads) {
                let local = self.local(var);
                *source = self.source(local);
                scope.push(local);
            }
            for (cap, &index) in group.caps.iter_mut().zip(&inner.feeds) {
                let fed = VarId {
                    place: child,
                    index,
                };
                if let Some((tally, most)) = self.network.tally(self.place, fed) {
                    *cap = most;
                    scope.push(tally);
                }
            }
            let factor = self.group_table(circuit, &scope, 2 * states + first);
            self.factors.push(factor);
            first += group.entries();
            groups.push(group);
        }
        (groups, 2 * states + first)
    }

    /// The table that the parts of one kind fill in, entry by entry an input. A
    /// state that the parts both read and feed appears twice among its
    /// dimensions and must have the same value in both.
    fn group_table(&self, circuit: &mut Circuit, dimensions: &[usize], first: usize) -> Factor {
        let mut scope = Vec::new();
        for &variable in dimensions {
            if !scope.contains(&variable) {
                scope.push(variable);
            }
        }
        Factor::build(scope.clone(), &self.sizes, |values| {
            let mut entry = 0;
            let mut stride = 1;
            for &variable in dimensions {
                let at = scope.iter().position(|&v| v == variable);
                entry += stride * at.map_or(0, |at| values[at]);
                stride *= self.sizes[variable];
            }
            circuit.input(first + entry)
        })
    }

    fn source(&self, local: usize) -> u16 {
        let site = &self.network.sites[self.place];
        let number = |n: usize| u16::try_from(n).unwrap_or(NONE);
        match site.vars.get(local) {
            Some(Role::State { .. }) => number(local),
            Some(_) => NONE,
            None => number(local - site.vars.len()) | Group::READ,
        }
    }
}

fn size_of(role: &Role) -> usize {
    match role {
        Role::Tally { cap, .. } => usize::from(*cap) + 1,
        _ => 2,
    }
}

/// A literal over the variables of one place's tables.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Local {
    variable: usize,
    at_least: usize,
    yes: bool,
}

impl Local {
    fn holds(&self, scope: &[usize], values: &[usize]) -> bool {
        let at = scope.iter().position(|&v| v == self.variable);
        let value = at.map_or(0, |at| values[at]);
        (value >= self.at_least) == self.yes
    }
}

type Formula = super::formula::Formula<Local>;

fn collect(clause: &Formula, scope: &mut Vec<usize>) {
    clause.literals(&mut |literal| {
        if !scope.contains(&literal.variable) {
            scope.push(literal.variable);
        }
    });
}
