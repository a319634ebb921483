//! Running a fragment's program: forwards for its values, backwards for the
//! derivative of its message by everything that goes in.

use heapless::Vec;

use crate::limits::MAX_NODES;
use crate::number::Number;
use crate::pack::{Block, NONE, Operation, Program};

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

fn work_out<N: Number>(program: &Program<'_>, steps: core::ops::Range<usize>, values: &mut [N]) {
    let first = program.first_step();
    for (node, step) in (first + steps.start..).zip(program.steps_in(steps)) {
        work_out_one(node, step, values);
    }
}

#[inline(always)]
fn work_out_one<N: Number>(node: usize, step: Operation, values: &mut [N]) {
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

/// Works out every step. `values` holds the inputs (constants, likelihoods and
/// tables) and takes the results.
pub(super) fn forwards<N: Number>(program: &Program<'_>, values: &mut [N]) {
    work_out(program, 0..usize::MAX, values);
}

/// As [`forwards`], but takes the blocks of states that have no answer for what
/// they come to: 1.
pub(super) fn forwards_past_blocks<N: Number>(program: &Program<'_>, values: &mut [N]) {
    past_blocks(program, values, |steps, values| {
        work_out(program, steps, values);
    });
}

/// Calls `work` with every run of steps that must be worked out.
fn past_blocks<N: Number>(
    program: &Program<'_>,
    values: &mut [N],
    mut work: impl FnMut(core::ops::Range<usize>, &mut [N]),
) {
    let first = program.first_step();
    let mut done = 0;
    for block in program.blocks() {
        if is_silent(program, &block, values) {
            let steps = block.range();
            work(done..steps.start, values);
            done = steps.end;
            if let Some(values) = values.get_mut(first + steps.start..first + steps.end) {
                values.fill(N::ONE);
            }
        }
    }
    work(done..usize::MAX, values);
}

/// Whether none of the states of a block has an answer.
fn is_silent<N: Number>(program: &Program<'_>, block: &Block, values: &[N]) -> bool {
    block.states.iter().all(|&state| {
        let node = program.first_likelihood() + 2 * usize::from(state);
        state == NONE || (at(values, node) == N::ONE && at(values, node + 1) == N::ONE)
    })
}

/// As [`forwards_past_blocks`], but only the steps on which these entries of the
/// message depend.
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
    past_blocks(program, values, |steps, values| {
        for (node, step) in (first + steps.start..).zip(program.steps_in(steps)) {
            if is_needed(&needed, node) {
                work_out_one(node, step, values);
            }
        }
    });
}

/// Takes the derivatives of the message (already added to `slopes` at its
/// entries' nodes) back to the inputs.
pub(super) fn backwards<N: Number>(program: &Program<'_>, values: &[N], slopes: &mut [N]) {
    let inputs = program.first_likelihood();
    take_back(program, values, slopes, |node| node >= inputs);
}

/// As [`backwards`], but only to the likelihoods of hidden states (`is_hidden`
/// says which states are) and to the tables; the other slopes come out wrong.
pub(super) fn backwards_to_hidden<N: Number>(
    program: &Program<'_>,
    is_hidden: impl Fn(usize) -> bool,
    values: &[N],
    slopes: &mut [N],
) {
    let likelihoods = program.first_likelihood();
    let tables = program.first_table();
    let steps = program.first_step();
    take_back(program, values, slopes, |node| {
        if node >= steps {
            program.leads(node.wrapping_sub(steps))
        } else {
            node >= tables
                || (node >= likelihoods && is_hidden(node.wrapping_sub(likelihoods) >> 1))
        }
    });
}

#[inline(always)]
fn take_back<N: Number>(
    program: &Program<'_>,
    values: &[N],
    slopes: &mut [N],
    wanted: impl Fn(usize) -> bool,
) {
    let first = program.first_step();
    for (i, step) in program.steps().enumerate().rev() {
        let slope = at(slopes, first + i);
        if slope.is_zero() {
            continue;
        }
        let (left, right) = (wanted(step.left), wanted(step.right));
        if step.product {
            if left {
                add(slopes, step.left, slope.times(at(values, step.right)));
            }
            if right {
                add(slopes, step.right, slope.times(at(values, step.left)));
            }
        } else {
            if left {
                add(slopes, step.left, slope);
            }
            if right {
                add(slopes, step.right, slope);
            }
        }
    }
}

/// Adds the derivative by each entry of the message.
pub(super) fn seed<N: Number>(program: &Program<'_>, message: &[N], slopes: &mut [N]) {
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
