//! From the network of one place to a program of sums and products.

use std::collections::BTreeSet;

use tellmark_core::limits::{MAX_FEEDS, MAX_INTERFACE, MAX_NODES};
use tellmark_core::pack::{Group, NONE};

use super::circuit::{Circuit, Finished};
use super::factor::{Factor, eliminate, join};
use super::network::{Cause, Clause, Literal, Network, Role, VarId};
use super::order;
use super::places::Places;
use super::tables::{Formula, Local, Tables};

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
        let mut of_place = OfPlace::new(network, places, place);
        let mut circuit = Circuit::new(WORKING_LIMIT);
        let states = site
            .vars
            .iter()
            .filter(|role| matches!(role, Role::State { .. }))
            .count();
        for (index, role) in site.vars.iter().enumerate() {
            of_place.add_role(&mut circuit, index, role);
        }
        let (groups, inputs) = of_place.add_groups(&mut circuit, states);

        let feeds = site.feeds.iter().copied();
        let kept: Vec<usize> = (site.vars.len()..site.vars.len() + site.reads.len())
            .chain(feeds)
            .collect();
        let keep: BTreeSet<usize> = kept.iter().copied().collect();
        let Tables { sizes, mut factors } = of_place.tables;
        let scopes: Vec<Vec<usize>> = factors.iter().map(|f| f.scope.clone()).collect();
        let order = order::best(&scopes, &sizes, &keep);
        for variable in order.variables {
            eliminate(&mut circuit, &mut factors, variable, &sizes).map_err(|_| tangled(None))?;
        }
        let outputs = join(&mut circuit, factors, &kept, &sizes);
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
struct OfPlace<'n> {
    network: &'n Network,
    places: &'n Places,
    place: usize,
    tables: Tables,
}

impl<'n> OfPlace<'n> {
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
            tables: Tables::new(own.chain(read).collect()),
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

    fn add_role(&mut self, circuit: &mut Circuit, index: usize, role: &Role) {
        match role {
            Role::State { in_use: false, .. } | Role::Tally { .. } => {}
            Role::State { own, causes, .. } => {
                let likelihood = Factor {
                    scope: vec![index],
                    table: vec![circuit.input(2 * index), circuit.input(2 * index + 1)],
                };
                self.tables.factors.push(likelihood);
                self.add_causes(circuit, index, *own, causes);
            }
            Role::Event(causes) => self.add_causes(circuit, index, 0.0, causes),
            Role::Exactly(clause) => {
                let clause = self.localise(clause);
                self.tables.add_exactly(circuit, index, clause);
            }
        }
    }

    fn add_causes(&mut self, circuit: &mut Circuit, index: usize, own: f64, causes: &[Cause]) {
        let causes = causes
            .iter()
            .map(|cause| (self.localise(&cause.when), cause.weight))
            .collect();
        self.tables.add_causes(circuit, index, own, causes);
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
            self.tables.factors.push(factor);
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
        Factor::build(scope.clone(), &self.tables.sizes, |values| {
            let mut entry = 0;
            let mut stride = 1;
            for &variable in dimensions {
                let at = scope.iter().position(|&v| v == variable);
                entry += stride * at.map_or(0, |at| values[at]);
                stride *= self.tables.sizes[variable];
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
