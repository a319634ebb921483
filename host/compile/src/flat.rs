//! One circuit for one whole piece, with everything that was found in it.
//!
//! The bench unit's fragments are made once for any piece. Here a piece and its
//! findings are given, and the circuit is made for them: what is known is not in it,
//! and neither is what nothing hangs on. Its value is how likely the findings are;
//! worlds can be given other weights, by the inputs, where some claim holds in them.

use std::collections::{BTreeSet, HashMap};

use tellmark_core::limits::MAX_PIECE_NODES;

use super::circuit::{Circuit, Laid, TooLarge};
use super::factor::{Factor, eliminate, join};
use super::formula::Negate;
use super::ground::{Claim, Ground};
use super::order;
use super::tables::{Formula, Local, Tables, collect};

/// A claim about more states than this is worked out once, and referred to.
const SHARED: usize = 2;

/// A circuit under construction.
#[derive(Debug)]
pub struct Flat<'g> {
    ground: &'g Ground,
    circuit: Circuit,
    tables: Tables,
    /// For each state, its variable, or its value if that is known.
    places: Vec<Place>,
    shared: HashMap<Claim, Formula>,
}

/// A condition, and the part that it is about.
type About = (usize, Formula);

/// Where a state stands.
#[derive(Clone, Copy, Debug)]
enum Place {
    Out,
    Known(bool),
    Variable(usize),
}

impl<'g> Flat<'g> {
    /// For this piece, with how likely the findings are if each state does not and
    /// does hold. Only the states that are wanted come in, those that something was
    /// found about, and what brings these about.
    #[must_use]
    pub fn of(
        ground: &'g Ground,
        likelihoods: &[(f64, f64)],
        wanted: impl IntoIterator<Item = usize>,
    ) -> Self {
        let mut flat = Self {
            ground,
            circuit: Circuit::new(MAX_PIECE_NODES),
            tables: Tables::default(),
            places: vec![Place::Out; ground.states.len()],
            shared: HashMap::new(),
        };
        let found = (0..ground.states.len()).filter(|&s| {
            let (no, yes) = likelihoods[s];
            no != yes
        });
        let mut open: Vec<usize> = found.chain(wanted).collect();
        let mut inside = vec![false; ground.states.len()];
        while let Some(state) = open.pop() {
            if !ground.states[state].in_use || std::mem::replace(&mut inside[state], true) {
                continue;
            }
            for cause in &ground.states[state].causes {
                cause.when.states(&mut |s| open.push(s));
            }
        }
        let inside: Vec<usize> = (0..inside.len()).filter(|&s| inside[s]).collect();
        let mut variable_of = HashMap::new();
        for &state in &inside {
            variable_of.insert(state, flat.tables.helper());
            flat.places[state] = match likelihoods[state] {
                (no, yes) if no == 0.0 && yes > 0.0 => Place::Known(true),
                (no, yes) if yes == 0.0 && no > 0.0 => Place::Known(false),
                _ => Place::Variable(variable_of[&state]),
            };
        }
        for &state in &inside {
            let record = &ground.states[state];
            let causes = record.causes.iter();
            let causes = causes.map(|c| (flat.formula(&c.when), c.weight)).collect();
            let variable = variable_of[&state];
            flat.tables
                .add_causes(&mut flat.circuit, variable, record.own, causes);
            let (no, yes) = likelihoods[state];
            if no != yes || no != 1.0 {
                flat.tables
                    .add(&mut flat.circuit, vec![variable], |values| {
                        if values[0] == 1 { yes } else { no }
                    });
            }
        }
        flat
    }

    /// A claim as a condition over the circuit's variables. A state that did not
    /// come in does not hold.
    pub fn formula(&mut self, claim: &Claim) -> Formula {
        if let Some(known) = self.shared.get(claim) {
            return known.clone();
        }
        let formula = match claim {
            Claim::Known(value) => Formula::Known(*value),
            Claim::State(state, yes) => match self.places[*state] {
                Place::Known(value) => Formula::Known(value == *yes),
                Place::Out => Formula::Known(!yes),
                Place::Variable(variable) => Formula::Literal(Local {
                    variable,
                    at_least: 1,
                    yes: *yes,
                }),
            },
            Claim::All(parts) => {
                let not = parts
                    .iter()
                    .map(|part| (self.part_of(part), self.formula(part).negated()))
                    .collect();
                self.any(not).negated()
            }
            Claim::AtLeast(0, _) => Formula::Known(true),
            Claim::AtLeast(1, parts) => {
                let parts = parts
                    .iter()
                    .map(|part| (self.part_of(part), self.formula(part)))
                    .collect();
                self.any(parts)
            }
            Claim::AtLeast(n, parts) => {
                let parts = parts.iter().map(|part| self.formula(part)).collect();
                self.count(*n, parts)
            }
            Claim::Not(part) => self.formula(part).negated(),
        };
        let mut scope = Vec::new();
        collect(&formula, &mut scope);
        if scope.len() <= SHARED {
            return formula;
        }
        let formula = self.tables.stand_in(&mut self.circuit, formula);
        self.shared.insert(claim.clone(), formula.clone());
        formula
    }

    /// Any of these, each about a part: those about one branch of the piece are put
    /// together first.
    pub fn any(&mut self, mut parts: Vec<About>) -> Formula {
        parts.retain(|(_, formula)| *formula != Formula::Known(false));
        if parts.iter().any(|(_, f)| *f == Formula::Known(true)) {
            return Formula::Known(true);
        }
        self.any_below(0, parts)
    }

    fn any_below(&mut self, depth: usize, parts: Vec<About>) -> Formula {
        let mut branches: Vec<(Option<usize>, Vec<About>)> = Vec::new();
        for (part, formula) in parts {
            let branch = self.way_to(part).get(depth).copied();
            match branches.iter_mut().find(|(b, _)| *b == branch) {
                Some((_, inside)) => inside.push((part, formula)),
                None => branches.push((branch, vec![(part, formula)])),
            }
        }
        let alone = branches.len() == 1;
        let mut joined = Vec::new();
        for (branch, inside) in branches {
            if branch.is_none() || inside.len() == 1 {
                joined.extend(inside.into_iter().map(|(_, formula)| formula));
                continue;
            }
            let inner = self.any_below(depth + 1, inside);
            joined.push(if alone {
                inner
            } else {
                self.tables.stand_in(&mut self.circuit, inner)
            });
        }
        Formula::any(joined)
    }

    /// From the piece down to a part, the piece left out.
    fn way_to(&self, part: usize) -> Vec<usize> {
        let mut way = Vec::new();
        let mut at = part;
        while let Some(owner) = self.ground.parts[at].owner {
            way.push(at);
            at = owner;
        }
        way.reverse();
        way
    }

    /// The part that a claim speaks of first.
    fn part_of(&self, claim: &Claim) -> usize {
        let mut first = None;
        claim.states(&mut |state| first = first.or(Some(self.ground.states[state].part)));
        first.unwrap_or(0)
    }

    /// At least so many of these, counted one after the other.
    fn count(&mut self, least: usize, parts: Vec<Formula>) -> Formula {
        let mut surely = 0;
        let mut perhaps = Vec::new();
        for part in parts {
            match part {
                Formula::Known(true) => surely += 1,
                Formula::Known(false) => {}
                other => perhaps.push(self.tables.stand_in(&mut self.circuit, other)),
            }
        }
        let Some(least) = least.checked_sub(surely).filter(|&n| n > 0) else {
            return Formula::Known(true);
        };
        if perhaps.len() < least {
            return Formula::Known(false);
        }
        let mut before: Option<usize> = None;
        for part in perhaps {
            let mut scope = Vec::new();
            collect(&part, &mut scope);
            self.tables.sizes.push(least + 1);
            let tally = self.tables.sizes.len() - 1;
            let scope = [vec![tally], scope, before.into_iter().collect()].concat();
            self.tables.add(&mut self.circuit, scope, |values| {
                let earlier = values.get(2).copied().unwrap_or(0);
                f64::from(u8::from(values[0] == least.min(earlier + values[1])))
            });
            before = Some(tally);
        }
        before.map_or(Formula::Known(false), |variable| {
            Formula::Literal(Local {
                variable,
                at_least: least,
                yes: true,
            })
        })
    }

    /// The same condition as one thing that can be referred to often.
    pub fn shared(&mut self, formula: Formula) -> Formula {
        match formula {
            Formula::All(_) | Formula::Any(_) => self.tables.stand_in(&mut self.circuit, formula),
            other => other,
        }
    }

    /// The weight of every world in which this holds is multiplied by an input.
    pub fn weigh(&mut self, formula: Formula, input: usize) {
        let mut scope = Vec::new();
        let literal = self.tables.stand_in(&mut self.circuit, formula);
        collect(&literal, &mut scope);
        let input = self.circuit.input(input);
        self.tables.factors.push(Factor {
            scope,
            table: vec![super::circuit::NodeId::ONE, input],
        });
    }

    /// The weight of every world is multiplied by an input if a state does not hold there,
    /// and by the one after it if it does. What is known, or did not come in, takes none.
    pub fn observe(&mut self, state: usize, input: usize) {
        if let Place::Variable(variable) = self.places[state] {
            let table = vec![self.circuit.input(input), self.circuit.input(input + 1)];
            self.tables.factors.push(Factor {
                scope: vec![variable],
                table,
            });
        }
    }

    /// The whole circuit: its one output is the weight of all worlds together.
    ///
    /// # Errors
    /// [`TooLarge`] if the rules tie too many parts of the piece together.
    pub fn finish(mut self, inputs: usize) -> Result<Laid, TooLarge> {
        let Tables { sizes, mut factors } = self.tables;
        let scopes: Vec<Vec<usize>> = factors.iter().map(|f| f.scope.clone()).collect();
        let order = order::best(&scopes, &sizes, &BTreeSet::new(), usize::MAX).ok_or(TooLarge)?;
        for variable in order.variables {
            eliminate(&mut self.circuit, &mut factors, variable, &sizes)?;
        }
        let output = join(&mut self.circuit, factors, &[], &sizes)?;
        Ok(self.circuit.lay_out(inputs, &output))
    }
}
