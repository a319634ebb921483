//! Running a fragment's program: forwards for its values, backwards for the
//! derivative of its message by everything that goes in.

use heapless::Vec;

use crate::limits::MAX_NODES;
use crate::number::Number;
use crate::pack::Program;

/// A set of nodes.
type Nodes = Vec<u32, { 2 * MAX_NODES / 32 + 1 }>;

fn at<N: Number>(values: &[N], node: usize) -> N {
    values.get(node).copied().unwrap_or(N::ZERO)
}

fn add<N: Number>(values: &mut [N], node: usize, amount: N) {
    if let Some(value) = values.get_mut(node) {
        *value = value.plus(amount);
    }
}

/// Works out every step. `values` holds the inputs (constants, likelihoods and
/// tables) and takes the results.
pub(super) fn forwards<N: Number>(program: &Program<'_>, values: &mut [N]) {
    for (node, step) in (program.first_step()..).zip(program.steps()) {
        let (left, right) = (at(values, step.left), at(values, step.right));
        let result = if step.product {
            left.times(right)
        } else {
            left.plus(right)
        };
        if let Some(value) = values.get_mut(node) {
            *value = result;
        }
    }
}

/// As [`forwards`], but only the steps on which these entries of the message
/// depend.
pub(super) fn forwards_for<N: Number>(
    program: &Program<'_>,
    wanted: impl Iterator<Item = usize>,
    values: &mut [N],
) {
    let mut needed = Nodes::new();
    let _ = needed.resize(needed.capacity(), 0);
    let mark = |needed: &mut Nodes, node: usize| {
        if let Some(word) = needed.get_mut(node / 32) {
            *word |= 1 << (node % 32);
        }
    };
    let is_needed = |needed: &Nodes, node: usize| {
        needed
            .get(node / 32)
            .is_some_and(|word| word >> (node % 32) & 1 == 1)
    };
    for entry in wanted {
        mark(&mut needed, program.output(entry));
    }
    let first = program.first_step();
    for (i, step) in program.steps().enumerate().rev() {
        if is_needed(&needed, first + i) {
            mark(&mut needed, step.left);
            mark(&mut needed, step.right);
        }
    }
    for (i, step) in program.steps().enumerate() {
        if is_needed(&needed, first + i) {
            let (left, right) = (at(values, step.left), at(values, step.right));
            let result = if step.product {
                left.times(right)
            } else {
                left.plus(right)
            };
            if let Some(value) = values.get_mut(first + i) {
                *value = result;
            }
        }
    }
}

/// The message upwards, from the values: nothing where an entry is not of the
/// states that are `known` (a bit each) to be as the second set of bits says.
pub(super) fn report<N: Number>(
    program: &Program<'_>,
    (known, holds): (usize, usize),
    values: &[N],
    message: &mut [N],
) {
    for (entry, slot) in message.iter_mut().enumerate() {
        *slot = if entry & known == holds {
            at(values, program.output(entry))
        } else {
            N::ZERO
        };
    }
    level(message);
}

/// Takes what the rest of the piece says (`message`) back to the inputs, whose
/// derivatives are left in `slopes`; `pairs` gets the weights of no and yes of
/// each state.
pub(super) fn derive<N: Number>(
    program: &Program<'_>,
    message: &[N],
    values: &[N],
    slopes: &mut [N],
    pairs: &mut [N],
) {
    let nodes = program.first_step() + program.steps().len();
    if let Some(slopes) = slopes.get_mut(..nodes) {
        slopes.fill(N::ZERO);
    }
    seed(program, message, slopes);
    backwards(program, values, slopes);
    let likelihoods = program.first_likelihood()..program.first_table();
    let inputs = values.iter().zip(slopes.iter()).skip(likelihoods.start);
    let pairs = pairs.iter_mut().take(likelihoods.len());
    for (pair, (&value, &slope)) in pairs.zip(inputs) {
        *pair = value.times(slope);
    }
}

/// Takes the derivatives of the message (already added to `slopes` at its
/// entries' nodes) back to the inputs.
fn backwards<N: Number>(program: &Program<'_>, values: &[N], slopes: &mut [N]) {
    let inputs = program.first_likelihood();
    let first = program.first_step();
    for (i, step) in program.steps().enumerate().rev() {
        let slope = at(slopes, first + i);
        if slope.is_zero() {
            continue;
        }
        if step.product {
            if step.left >= inputs {
                add(slopes, step.left, slope.times(at(values, step.right)));
            }
            if step.right >= inputs {
                add(slopes, step.right, slope.times(at(values, step.left)));
            }
        } else {
            add(slopes, step.left, slope);
            add(slopes, step.right, slope);
        }
    }
}

/// Adds the derivative by each entry of the message.
fn seed<N: Number>(program: &Program<'_>, message: &[N], slopes: &mut [N]) {
    for (entry, &slope) in message.iter().enumerate() {
        add(slopes, program.output(entry), slope);
    }
}

/// Scales a table by a power of two so that its largest entry is about 1. The
/// proportions, which are all that matters, stay exactly as they were.
pub(super) fn level<N: Number>(table: &mut [N]) {
    let largest = table
        .iter()
        .filter(|n| !n.is_zero())
        .map(|n| n.exponent())
        .max();
    if let Some(exponent) = largest
        && exponent != 0
    {
        for entry in table {
            *entry = entry.shifted(-exponent);
        }
    }
}
