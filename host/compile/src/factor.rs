//! Tables over a few variables whose entries are nodes of a circuit, and the
//! elimination of variables from them.

use tellmark_core::limits::MAX_TABLE;

use super::circuit::{Circuit, NodeId, TooLarge};

/// A table over some variables; the first one changes fastest.
#[derive(Clone, Debug)]
pub struct Factor {
    /// The variables.
    pub scope: Vec<usize>,
    /// An entry for each combination of their values.
    pub table: Vec<NodeId>,
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

    /// Calls `each` with every combination, first variable fastest, until it fails.
    fn try_for_each<E>(mut self, mut each: impl FnMut(&[usize]) -> Result<(), E>) -> Result<(), E> {
        while self.left > 0 {
            each(&self.values)?;
            self.left -= 1;
            for (value, &size) in self.values.iter_mut().zip(&self.sizes) {
                *value += 1;
                if *value < size {
                    break;
                }
                *value = 0;
            }
        }
        Ok(())
    }

    /// Calls `each` with every combination, first variable fastest.
    pub fn for_each(self, mut each: impl FnMut(&[usize])) {
        let _: Result<(), std::convert::Infallible> = self.try_for_each(|values| {
            each(values);
            Ok(())
        });
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
        Self { scope, table }
    }
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
///
/// # Errors
/// [`TooLarge`] as soon as the circuit outgrows its limit.
fn multiply(
    circuit: &mut Circuit,
    factors: &[Factor],
    scope: &[usize],
    sizes: &[usize],
    mut take: impl FnMut(&mut Circuit, NodeId),
) -> Result<(), TooLarge> {
    let maps: Vec<Vec<usize>> = factors.iter().map(|f| strides(f, scope, sizes)).collect();
    let of_scope = scope.iter().map(|&v| sizes[v]).collect();
    Combinations::new(of_scope).try_for_each(|values| {
        let mut entry = NodeId::ONE;
        for (factor, map) in factors.iter().zip(&maps) {
            let at: usize = values.iter().zip(map).map(|(v, stride)| v * stride).sum();
            entry = circuit.product(entry, factor.table[at]);
            if entry == NodeId::ZERO {
                break;
            }
        }
        take(circuit, entry);
        circuit.check()
    })
}

fn union(a: &[usize], b: &[usize]) -> Vec<usize> {
    let mut scope = a.to_vec();
    scope.extend(b.iter().filter(|v| !a.contains(v)));
    scope
}

/// Multiplies factors two by two, the pair with the smallest product first,
/// until two are left: so what depends on few variables is multiplied once for
/// each of their values and not once for each of everybody's.
fn gather(
    circuit: &mut Circuit,
    factors: &mut Vec<Factor>,
    sizes: &[usize],
) -> Result<(), TooLarge> {
    while factors.len() > 2 {
        let mut best: Option<(usize, usize, usize)> = None;
        for i in 0..factors.len() {
            for j in i + 1..factors.len() {
                let size = union(&factors[i].scope, &factors[j].scope)
                    .iter()
                    .fold(1_usize, |size, &v| size.saturating_mul(sizes[v]));
                if best.is_none_or(|(least, ..)| size < least) {
                    best = Some((size, i, j));
                }
            }
        }
        let Some((_, i, j)) = best else { break };
        let second = factors.remove(j);
        let first = factors.remove(i);
        let scope = union(&first.scope, &second.scope);
        let mut table = Vec::new();
        multiply(circuit, &[first, second], &scope, sizes, |_, entry| {
            table.push(entry);
        })?;
        factors.push(Factor { scope, table });
    }
    Ok(())
}

/// Sums one variable out of all factors that have it.
///
/// # Errors
/// [`TooLarge`] if the circuit outgrows its limit.
pub fn eliminate(
    circuit: &mut Circuit,
    factors: &mut Vec<Factor>,
    variable: usize,
    sizes: &[usize],
) -> Result<(), TooLarge> {
    let (mut with, without): (Vec<Factor>, Vec<Factor>) = factors
        .drain(..)
        .partition(|factor| factor.scope.contains(&variable));
    *factors = without;
    if with.is_empty() {
        return Ok(());
    }
    gather(circuit, &mut with, sizes)?;
    let mut scope = vec![variable];
    for factor in &with {
        for v in &factor.scope {
            if !scope.contains(v) {
                scope.push(*v);
            }
        }
    }
    let count: usize = scope.iter().map(|&v| sizes[v]).product();
    if count > MAX_TABLE {
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
    })?;
    scope.remove(0);
    factors.push(Factor { scope, table });
    Ok(())
}

/// The product of all that is left, over exactly these variables.
///
/// # Errors
/// [`TooLarge`] if the circuit outgrows its limit.
pub fn join(
    circuit: &mut Circuit,
    mut factors: Vec<Factor>,
    scope: &[usize],
    sizes: &[usize],
) -> Result<Vec<NodeId>, TooLarge> {
    gather(circuit, &mut factors, sizes)?;
    let mut table = Vec::new();
    multiply(circuit, &factors, scope, sizes, |_, entry| {
        table.push(entry);
    })?;
    Ok(table)
}
