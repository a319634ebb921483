//! Running a fragment's program, which is an arithmetic circuit: forwards for the values
//! of its nodes, backwards for their adjoints, the derivatives of its message by
//! everything that goes in (here: slopes).

use core::cell::Cell;

use crate::number::Number;
use crate::pack::{Operation, Program};

fn at<N: Number>(values: &[N], node: usize) -> N {
    values.get(node).copied().unwrap_or(N::ZERO)
}

fn add<N: Number>(values: &mut [N], node: usize, amount: N) {
    if let Some(value) = values.get_mut(node) {
        *value = value.plus(amount);
    }
}

/// All values, each to be changed while others are read; and those of the steps.
fn nodes<'v, N>(program: &Program<'_>, values: &'v mut [N]) -> (&'v [Cell<N>], &'v [Cell<N>]) {
    let values = Cell::from_mut(values).as_slice_of_cells();
    let first = program.first_step();
    let steps = values.get(first..first + program.steps().len());
    (values, steps.unwrap_or(&[]))
}

#[inline]
fn result<N: Number>(step: Operation, values: &[Cell<N>]) -> N {
    let at = |node: usize| values.get(node).map_or(N::ZERO, Cell::get);
    let (left, right) = (at(step.left), at(step.right));
    if step.product {
        left.times(right)
    } else {
        left.plus(right)
    }
}

/// Works out every step. `values` holds the inputs (constants, likelihoods and
/// tables) and takes the results.
pub(super) fn forwards<N: Number>(program: &Program<'_>, values: &mut [N]) {
    let (values, results) = nodes(program, values);
    for (value, step) in results.iter().zip(program.steps()) {
        value.set(result(step, values));
    }
}

/// As [`forwards`], but only the steps on which these entries of the message
/// depend. `needed` is memory for as many nodes.
pub(super) fn forwards_for<N: Number>(
    program: &Program<'_>,
    wanted: impl Iterator<Item = usize>,
    values: &mut [N],
    needed: &mut [N],
) {
    needed.fill(N::ZERO);
    let mut mark = |node: usize| {
        if let Some(mark) = needed.get_mut(node) {
            *mark = N::ONE;
        }
    };
    for entry in wanted {
        mark(program.output(entry));
    }
    let (needed, needed_steps) = nodes(program, needed);
    let mark = |node: usize| {
        if let Some(mark) = needed.get(node) {
            mark.set(N::ONE);
        }
    };
    let mut marks = needed_steps.iter();
    for step in program.steps().rev() {
        if marks.next_back().is_some_and(|mark| !mark.get().is_zero()) {
            mark(step.left);
            mark(step.right);
        }
    }
    let (values, results) = nodes(program, values);
    for ((value, is_needed), step) in results.iter().zip(needed_steps).zip(program.steps()) {
        if !is_needed.get().is_zero() {
            value.set(result(step, values));
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
    let (slopes, results) = nodes(program, slopes);
    let mut results = results.iter();
    // Not zipped: a zip from the back evens out both ends at each step.
    for step in program.steps().rev() {
        let Some(slope) = results.next_back() else {
            return;
        };
        let slope = slope.get();
        if slope.is_zero() {
            continue;
        }
        for (node, other) in [(step.left, step.right), (step.right, step.left)] {
            let Some(to) = slopes.get(node) else { continue };
            if !step.product {
                to.set(to.get().plus(slope));
            } else if node >= inputs {
                to.set(to.get().plus_product(slope, at(values, other)));
            }
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

#[cfg(test)]
#[allow(clippy::float_arithmetic)]
mod tests {
    use super::*;
    use crate::pack::Fragment;

    // One state with its own chance 1/4, which is fed to its owner as it is: a message
    // of two entries, 3/4 · no and 1/4 · yes, and their sum as a step too many.
    const FRAGMENT: Fragment = Fragment {
        code: 0,
        reads: 0,
        feeds: 1,
        groups: 0,
        constants: 2,
        states: 1,
        table: 0,
        steps: 3,
    };

    fn code() -> [u32; 8] {
        let constant = |value: f64| {
            let [a, b, c, d, e, f, g, h] = value.to_bits().to_le_bytes();
            [
                u32::from_le_bytes([a, b, c, d]),
                u32::from_le_bytes([e, f, g, h]),
            ]
        };
        let step = |product, left, right| {
            let operation = Operation {
                product,
                left,
                right,
            };
            operation.word()
        };
        let ([a, b], [c, d]) = (constant(0.75), constant(0.25));
        // Nodes: two constants, no and yes, then the steps 4, 5 and 6.
        let outputs = 4 | (5 << 16);
        [
            a,
            b,
            c,
            d,
            outputs,
            step(true, 0, 2),
            step(true, 1, 3),
            step(false, 4, 5),
        ]
    }

    #[test]
    fn forwards_gives_the_message_and_backwards_the_adjoint_of_each_likelihood() {
        let code = code();
        let program = Program::new(&FRAGMENT, &code);
        // Found: four times as likely if the state holds.
        let mut values = [0.75, 0.25, 0.25, 1.0, 0.0, 0.0, 0.0];
        forwards(&program, &mut values);
        assert_eq!(values, [0.75, 0.25, 0.25, 1.0, 0.1875, 0.25, 0.4375]);
        let mut message = [0.0; 2];
        report(&program, (0, 0), &values, &mut message);
        assert_eq!(message, [0.75, 1.0], "levelled by a power of two");

        // The rest of the piece finds it half as likely that it holds.
        let (mut slopes, mut pairs) = ([9.0; 7], [0.0; 2]);
        derive(&program, &[1.0, 0.5], &values, &mut slopes, &mut pairs);
        assert_eq!(slopes.get(2..4), Some(&[0.75, 0.125][..]));
        assert_eq!(pairs, [0.1875, 0.125], "each likelihood times its adjoint");
    }

    #[test]
    fn only_the_steps_that_an_entry_depends_on_are_worked_out() {
        let code = code();
        let program = Program::new(&FRAGMENT, &code);
        let mut values = [0.75, 0.25, 1.0, 1.0, -1.0, -1.0, -1.0];
        let mut needed = [0.0; 7];
        forwards_for(&program, [1].into_iter(), &mut values, &mut needed);
        assert_eq!(values.get(4..), Some(&[-1.0, 0.25, -1.0][..]));
    }

    #[test]
    fn entries_against_what_is_known_are_nothing() {
        let code = code();
        let program = Program::new(&FRAGMENT, &code);
        let values = [0.75, 0.25, 1.0, 1.0, 0.75, 0.25, 1.0];
        let mut message = [9.0; 2];
        report(&program, (1, 1), &values, &mut message);
        assert_eq!(message, [0.0, 1.0]);
    }

    #[test]
    fn levelling_keeps_proportions_and_leaves_zeros_alone() {
        let mut table = [0.0, 0.125, 0.03125];
        level(&mut table);
        assert_eq!(table, [0.0, 1.0, 0.25]);
        let mut nothing = [0.0; 2];
        level(&mut nothing);
        assert_eq!(nothing, [0.0; 2]);
    }
}
