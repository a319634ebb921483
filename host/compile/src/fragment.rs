//! From the network of one place to a program of sums and products.

use tellmark_core::limits::{MAX_ENTRIES, MAX_FEEDS, MAX_INTERFACE, MAX_NODES, MAX_WORKING_NODES};
use tellmark_core::pack::{Group, NONE};

use crate::circuit::{Circuit, Finished};
use crate::factor::{Factor, eliminate, join};
use crate::network::{Cause, Clause, Literal, Network, Role, VarId};
use crate::numbers::{Number as _, Overflow};
use crate::order::{self, Order};
use crate::places::Places;
use crate::problem::Tangled;
use crate::tables::{Formula, Local, Tables};

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
        Prepared::of(network, places, place)?.compile()
    }
}

/// The tables of one place, and an order to sum its variables out in that is cheap
/// enough.
#[derive(Debug)]
pub struct Prepared {
    place: usize,
    reads: usize,
    feeds: usize,
    states: usize,
    groups: Vec<Group>,
    inputs: usize,
    circuit: Circuit,
    tables: Tables,
    /// The variables that it shares with its owner.
    kept: Vec<usize>,
    order: Order,
}

impl Prepared {
    /// Prepares one place.
    ///
    /// # Errors
    /// [`Tangled`] if it shares too much with its owners, or every order found for
    /// summing out costs too much.
    pub fn of(network: &Network, places: &Places, place: usize) -> Result<Self, Tangled> {
        let site = &network.sites[place];
        let interface = interface(network, place);
        let tangled = Tangled {
            place,
            interface,
            nodes: None,
        };
        if interface > MAX_INTERFACE || site.feeds.len() > MAX_FEEDS {
            return Err(tangled);
        }
        let mut of_place = OfPlace::new(network, places, place);
        if of_place.entries_of_groups() > MAX_NODES {
            return Err(tangled);
        }
        let mut circuit = Circuit::new(MAX_WORKING_NODES);
        let states = of_place.add_roles(&mut circuit);
        let (groups, inputs) = of_place
            .add_groups(&mut circuit, states)
            .map_err(|Overflow| tangled)?;
        let kept = of_place.kept();
        let tables = of_place.tables;
        let scopes: Vec<Vec<usize>> = tables.factors.iter().map(|f| f.scope.clone()).collect();
        let keep = kept.iter().copied().collect();
        let order = order::best(&scopes, &tables.sizes, &keep, MAX_ENTRIES).ok_or(tangled)?;
        Ok(Self {
            place,
            reads: site.reads.len(),
            feeds: site.feeds.len(),
            states,
            groups,
            inputs,
            circuit,
            tables,
            kept,
            order,
        })
    }

    /// Sums out, and keeps the trace as a program.
    ///
    /// # Errors
    /// [`Tangled`] as soon as the program is too long.
    pub fn compile(self) -> Result<Fragment, Tangled> {
        let tangled = |nodes| Tangled {
            place: self.place,
            interface: self.reads + self.feeds,
            nodes,
        };
        let mut circuit = self.circuit;
        let Tables { sizes, mut factors } = self.tables;
        for variable in self.order.variables {
            eliminate(&mut circuit, &mut factors, variable, &sizes).map_err(|_| tangled(None))?;
        }
        let outputs = join(&mut circuit, factors, &self.kept, &sizes).map_err(|_| tangled(None))?;
        let program = circuit.finish(self.inputs, &outputs).ok_or(tangled(None))?;
        let fragment = Fragment {
            reads: self.reads,
            feeds: self.feeds,
            states: self.states,
            groups: self.groups,
            program,
        };
        if fragment.nodes() > MAX_NODES {
            return Err(tangled(Some(fragment.nodes())));
        }
        Ok(fragment)
    }
}

/// States of owners that a place reads, and those that it feeds.
fn interface(network: &Network, place: usize) -> usize {
    let site = &network.sites[place];
    site.reads.len() + site.feeds.len()
}

/// How far a place is from being simple enough; less is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Estimate {
    /// By how many states it shares too much with its owners.
    over: usize,
    /// Entries of all tables while summing out.
    cost: usize,
    /// States and helpers.
    variables: usize,
}

impl Estimate {
    /// Of one place.
    #[must_use]
    pub fn of(network: &Network, places: &Places, place: usize) -> Self {
        let over = interface(network, place).saturating_sub(MAX_INTERFACE);
        let mut of_place = OfPlace::new(network, places, place);
        let entries = of_place.entries_of_groups();
        if over > 0 || entries > MAX_NODES {
            return Self {
                over,
                cost: entries,
                variables: 0,
            };
        }
        of_place.add_roles(&mut Circuit::new(MAX_WORKING_NODES));
        let keep = of_place.kept().into_iter().collect();
        let factors = of_place.tables.factors.iter().map(|f| f.scope.clone());
        let groups = places
            .children(place)
            .map(|child| of_place.group_scope(child));
        let scopes: Vec<Vec<usize>> = factors.chain(groups).collect();
        let variables = of_place.tables.sizes.len();
        let cost = order::cost(&scopes, &of_place.tables.sizes, &keep);
        Self {
            over,
            cost,
            variables,
        }
    }

    /// How many variables were summed out to find that: by its square goes the time
    /// that this takes.
    #[must_use]
    pub fn variables(self) -> usize {
        self.variables
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

    /// The variables that it shares with its owner, in the order of its message.
    fn kept(&self) -> Vec<usize> {
        let site = &self.network.sites[self.place];
        let reads = site.vars.len()..site.vars.len() + site.reads.len();
        reads.chain(site.feeds.iter().copied()).collect()
    }

    /// Adds what decides each variable; gives back how many of them are states.
    fn add_roles(&mut self, circuit: &mut Circuit) -> usize {
        let site = &self.network.sites[self.place];
        for (index, role) in site.vars.iter().enumerate() {
            self.add_role(circuit, index, role);
        }
        let states = site.vars.iter();
        states
            .filter(|role| matches!(role, Role::State { .. }))
            .count()
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

    /// The variables that the table of a kind of its parts is over: what they read, then
    /// the tallies of what they feed.
    fn group_scope(&self, child: usize) -> Vec<usize> {
        let inner = &self.network.sites[child];
        let reads = inner.reads.iter().map(|&var| self.local(var));
        let tallies = inner.feeds.iter().filter_map(|&index| {
            let fed = VarId {
                place: child,
                index,
            };
            Some(self.network.tally(self.place, fed)?.0)
        });
        reads.chain(tallies).collect()
    }

    /// Entries of the tables of all its parts.
    fn entries_of_groups(&self) -> usize {
        let entries = self.places.children(self.place).map(|child| {
            let scope = self.group_scope(child);
            let sizes = scope.iter().map(|&variable| self.tables.sizes[variable]);
            sizes.fold(1_usize, usize::saturating_mul)
        });
        entries.fold(0, usize::saturating_add)
    }

    /// The tables of its parts; gives back their descriptions and the number
    /// of inputs.
    fn add_groups(
        &mut self,
        circuit: &mut Circuit,
        states: usize,
    ) -> Result<(Vec<Group>, usize), Overflow> {
        let mut groups = Vec::new();
        let mut first = 0;
        for child in self.places.children(self.place) {
            let inner = &self.network.sites[child];
            let mut group = Group {
                reads: inner.reads.len().byte()?,
                feeds: inner.feeds.len().byte()?,
                table: first.half()?,
                caps: [0; 12],
                sources: [NONE; 10],
            };
            for (source, &var) in group.sources.iter_mut().zip(&inner.reads) {
                *source = self.source(self.local(var))?;
            }
            for (cap, &index) in group.caps.iter_mut().zip(&inner.feeds) {
                let fed = VarId {
                    place: child,
                    index,
                };
                if let Some((_, most)) = self.network.tally(self.place, fed) {
                    *cap = most;
                }
            }
            let scope = self.group_scope(child);
            let factor = self.group_table(circuit, &scope, 2 * states + first);
            self.tables.factors.push(factor);
            first += group.entries();
            groups.push(group);
        }
        Ok((groups, 2 * states + first))
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

    /// Where an owner finds the value of a state that its part reads: among its own
    /// states, or among what it reads itself.
    fn source(&self, local: usize) -> Result<u16, Overflow> {
        let site = &self.network.sites[self.place];
        Ok(match site.vars.get(local) {
            Some(Role::State { .. }) => local.half()?,
            Some(_) => NONE,
            None => (local - site.vars.len()).half()? | Group::READ,
        })
    }
}

fn size_of(role: &Role) -> usize {
    match role {
        Role::Tally { cap, .. } => usize::from(*cap) + 1,
        _ => 2,
    }
}
