//! Small tables over the variables of a network: what decides a variable, in
//! tables of a few variables each; larger conditions are split by helpers.

use super::circuit::Circuit;
use super::factor::Factor;
use super::formula::Negate;

/// Variables in one small table; larger conditions are split.
const SMALL: usize = 3;

/// Variables and the tables over them.
#[derive(Debug, Default)]
pub struct Tables {
    /// How many values each variable has.
    pub sizes: Vec<usize>,
    /// The tables.
    pub factors: Vec<Factor>,
}

impl Tables {
    /// No table yet, for variables with this many values each.
    #[must_use]
    pub fn new(sizes: Vec<usize>) -> Self {
        Self {
            sizes,
            factors: Vec::new(),
        }
    }

    /// One more variable that is so or not so.
    pub fn helper(&mut self) -> usize {
        self.sizes.push(2);
        self.sizes.len() - 1
    }

    /// A table over these variables.
    pub fn add(
        &mut self,
        circuit: &mut Circuit,
        scope: Vec<usize>,
        value: impl Fn(&[usize]) -> f64,
    ) {
        let factor = Factor::build(scope, &self.sizes, |values| circuit.constant(value(values)));
        self.factors.push(factor);
    }

    /// The variable is true exactly when the condition holds.
    pub fn add_exactly(&mut self, circuit: &mut Circuit, index: usize, clause: Formula) {
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
    pub fn add_causes(
        &mut self,
        circuit: &mut Circuit,
        index: usize,
        own: f64,
        causes: Vec<(Formula, f64)>,
    ) {
        let mut left: Vec<(Formula, f64)> = causes
            .into_iter()
            .map(|(clause, weight)| (self.reduce(circuit, clause), weight))
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

    /// A variable that is true exactly when the condition holds.
    pub fn stand_in(&mut self, circuit: &mut Circuit, clause: Formula) -> Formula {
        let variable = self.helper();
        self.add_exactly(circuit, variable, clause);
        Formula::Literal(Local {
            variable,
            at_least: 1,
            yes: true,
        })
    }
}

/// A literal over the variables of some tables.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Local {
    /// The variable.
    pub variable: usize,
    /// The value it must have at least; 1 for what is just so or not so.
    pub at_least: usize,
    /// Must, rather than must not.
    pub yes: bool,
}

impl Negate for Local {
    fn negated(self) -> Self {
        Self {
            yes: !self.yes,
            ..self
        }
    }
}

impl Local {
    fn holds(&self, scope: &[usize], values: &[usize]) -> bool {
        let at = scope.iter().position(|&v| v == self.variable);
        let value = at.map_or(0, |at| values[at]);
        (value >= self.at_least) == self.yes
    }
}

/// A condition over them.
pub type Formula = super::formula::Formula<Local>;

/// Adds its variables to a scope.
pub fn collect(clause: &Formula, scope: &mut Vec<usize>) {
    clause.literals(&mut |literal| {
        if !scope.contains(&literal.variable) {
            scope.push(literal.variable);
        }
    });
}
