//! Tables over a few variables whose entries are nodes of a circuit, and the
//! elimination of variables from them.

use std::collections::{BTreeSet, HashSet};

use tellmark_core::pack::BLOCK_STATES;

use super::circuit::{Circuit, NodeId, TooLarge};

/// A table over some variables; the first one changes fastest.
#[derive(Clone, Debug)]
pub struct Factor {
    /// The variables.
    pub scope: Vec<usize>,
    /// An entry for each combination of their values.
    pub table: Vec<NodeId>,
    /// What is known of its entries.
    pub nature: Nature,
}

/// What is known of the entries of a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Nature {
    /// Nothing.
    Any,
    /// Over this variable they sum to 1, whatever the others are.
    Chance(usize),
    /// All are 1 while none of these states has an answer.
    Silent(BTreeSet<usize>),
}

/// The nodes of a table whose entries are all 1 while none of some states has an
/// answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SilentNodes {
    /// The first node, and one past the last.
    pub nodes: (NodeId, NodeId),
    /// Those of them that stand for the whole: what comes later goes on with
    /// these.
    pub entries: HashSet<NodeId>,
    /// The states.
    pub states: BTreeSet<usize>,
}

/// Steps through all combinations of the values of some variables.
pub struct Combinations {
    sizes: Vec<usize>,
    values: Vec<usize>,
    left: usize,
}

impl Combinations {
    /// All combinations for variables with this many values each.
    #[must_use]
    pub fn new(sizes: Vec<usize>) -> Self {
        Self {
            left: sizes.iter().product(),
            values: vec![0; sizes.len()],
            sizes,
        }
    }

    /// Calls `each` with every combination, first variable fastest.
    pub fn for_each(mut self, mut each: impl FnMut(&[usize])) {
        while self.left > 0 {
            each(&self.values);
            self.left -= 1;
            for (value, &size) in self.values.iter_mut().zip(&self.sizes) {
                *value += 1;
                if *value < size {
                    break;
                }
                *value = 0;
            }
        }
    }
}

impl Factor {
    /// Builds a table entry by entry.
    pub fn build(
        scope: Vec<usize>,
        sizes: &[usize],
        mut entry: impl FnMut(&[usize]) -> NodeId,
    ) -> Self {
        let mut table = Vec::new();
        let of_scope = scope.iter().map(|&v| sizes[v]).collect();
        Combinations::new(of_scope).for_each(|values| table.push(entry(values)));
        Self {
            scope,
            table,
            nature: Nature::Any,
        }
    }

    /// The same, with what is known of its entries.
    #[must_use]
    pub fn known(self, nature: Nature) -> Self {
        Self { nature, ..self }
    }
}

/// What the product of these tables is when this variable is summed out of it:
/// the chances of something that leads only to what nobody has looked at sum to
/// 1.
fn silence(factors: &[Factor], variable: usize) -> Option<BTreeSet<usize>> {
    let mut states = BTreeSet::new();
    let mut chances = 0;
    for factor in factors {
        match &factor.nature {
            Nature::Chance(of) if *of == variable => chances += 1,
            Nature::Silent(of) => states.extend(of),
            Nature::Chance(_) | Nature::Any => return None,
        }
    }
    (chances == 1 && states.len() <= BLOCK_STATES).then_some(states)
}

/// Where in a factor's table a combination of a wider scope lies.
fn strides(factor: &Factor, wide: &[usize], sizes: &[usize]) -> Vec<usize> {
    wide.iter()
        .map(|variable| {
            let mut stride = 1;
            for own in &factor.scope {
                if own == variable {
                    return stride;
                }
                stride *= sizes[*own];
            }
            0
        })
        .collect()
}

/// The product of factors over `scope`, each entry passed to `take`.
fn multiply(
    circuit: &mut Circuit,
    factors: &[Factor],
    scope: &[usize],
    sizes: &[usize],
    mut take: impl FnMut(&mut Circuit, NodeId),
) {
    let maps: Vec<Vec<usize>> = factors.iter().map(|f| strides(f, scope, sizes)).collect();
    let of_scope = scope.iter().map(|&v| sizes[v]).collect();
    Combinations::new(of_scope).for_each(|values| {
        let mut entry = NodeId::ONE;
        for (factor, map) in factors.iter().zip(&maps) {
            let at: usize = values.iter().zip(map).map(|(v, stride)| v * stride).sum();
            entry = circuit.product(entry, factor.table[at]);
            if entry == NodeId::ZERO {
                break;
            }
        }
        take(circuit, entry);
    });
}

/// Sums one variable out of all factors that have it. Tells which nodes that
/// made are 1 while some states have no answer.
///
/// # Errors
/// [`TooLarge`] if the circuit outgrows its limit.
pub fn eliminate(
    circuit: &mut Circuit,
    factors: &mut Vec<Factor>,
    variable: usize,
    sizes: &[usize],
) -> Result<Option<SilentNodes>, TooLarge> {
    let (mut with, without): (Vec<Factor>, Vec<Factor>) = factors
        .drain(..)
        .partition(|factor| factor.scope.contains(&variable));
    *factors = without;
    if with.is_empty() {
        return Ok(None);
    }
    let silence = silence(&with, variable);
    let first = circuit.next();
    with.sort_by_key(|factor| factor.scope.len());
    let mut scope = vec![variable];
    for factor in &with {
        for v in &factor.scope {
            if !scope.contains(v) {
                scope.push(*v);
            }
        }
    }
    let count: usize = scope.iter().map(|&v| sizes[v]).product();
    if count > 1 << 20 {
        return Err(TooLarge);
    }
    let mut table = Vec::with_capacity(count / sizes[variable]);
    let mut seen = 0;
    let mut sum = NodeId::ZERO;
    multiply(circuit, &with, &scope, sizes, |circuit, entry| {
        sum = circuit.sum(sum, entry);
        seen += 1;
        if seen == sizes[variable] {
            table.push(sum);
            sum = NodeId::ZERO;
            seen = 0;
        }
    });
    circuit.check()?;
    scope.remove(0);
    let silent = silence.clone().map(|states| SilentNodes {
        nodes: (first, circuit.next()),
        entries: table.iter().copied().collect(),
        states,
    });
    let nature = silence.map_or(Nature::Any, Nature::Silent);
    factors.push(Factor {
        scope,
        table,
        nature,
    });
    Ok(silent)
}

/// The product of all that is left, over exactly these variables.
pub fn join(
    circuit: &mut Circuit,
    factors: &[Factor],
    scope: &[usize],
    sizes: &[usize],
) -> Vec<NodeId> {
    let mut table = Vec::new();
    multiply(circuit, factors, scope, sizes, |_, entry| table.push(entry));
    table
}
