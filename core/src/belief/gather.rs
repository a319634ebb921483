//! How the parts of one kind report to their owner.
//!
//! Each part's message is a table over the owner's states that it reads and
//! over its feeds (whether it fired this reason, yes or no). The owner takes
//! the parts in one at a time: what they read multiplies, what they feed is
//! counted, up to a cap (1: any or none). The table of the group is indexed by
//! the reads (a bit each, first read lowest) and then by the counts (mixed
//! radix, first feed lowest). All of it is sums and products of numbers that
//! are not negative.

use super::circuit::level;
use crate::number::Number;
use crate::pack::Group;

/// The outcome when a part with these fires (a bit each) joins this outcome.
fn join(group: &Group, outcome: usize, fires: usize) -> usize {
    let mut rest = outcome;
    let mut place = 1;
    let mut joined = 0;
    for (feed, &cap) in group.caps.iter().take(usize::from(group.feeds)).enumerate() {
        let fired = (fires >> feed) & 1;
        if cap == 1 {
            joined += place * ((rest & 1) | fired);
            rest >>= 1;
            place <<= 1;
        } else {
            let radix = usize::from(cap) + 1;
            let count = rest % radix + fired;
            joined += place * count.min(usize::from(cap));
            rest /= radix;
            place *= radix;
        }
    }
    joined
}

fn block<N>(table: &[N], index: usize, size: usize) -> &[N] {
    let start = index.wrapping_mul(size);
    table.get(start..start.saturating_add(size)).unwrap_or(&[])
}

fn block_mut<N>(table: &mut [N], index: usize, size: usize) -> &mut [N] {
    let start = index.wrapping_mul(size);
    table
        .get_mut(start..start.saturating_add(size))
        .unwrap_or(&mut [])
}

/// The table of a group with no parts: nothing fired.
pub(super) fn none<N: Number>(group: &Group, table: &mut [N]) {
    table.fill(N::ZERO);
    block_mut(table, 0, 1 << group.reads).fill(N::ONE);
}

/// The table `before`, with one more part.
pub(super) fn with_part<N: Number>(group: &Group, before: &[N], message: &[N], after: &mut [N]) {
    let width = 1 << group.reads;
    after.fill(N::ZERO);
    for outcome in 0..group.outcomes() {
        for fires in 0..1_usize << group.feeds {
            let joined = join(group, outcome, fires);
            let from = block(before, outcome, width);
            let part = block(message, fires, width);
            let to = block_mut(after, joined, width);
            for ((to, &from), &part) in to.iter_mut().zip(from).zip(part) {
                if !from.is_zero() && !part.is_zero() {
                    *to = to.plus(from.times(part));
                }
            }
        }
    }
    level(after);
}

/// The table of a group with one part: as the part reports.
pub(super) fn first_part<N: Number>(group: &Group, message: &[N], after: &mut [N]) {
    let width = 1 << group.reads;
    after.fill(N::ZERO);
    for fires in 0..1_usize << group.feeds {
        let to = block_mut(after, join(group, 0, fires), width);
        for (to, &part) in to.iter_mut().zip(block(message, fires, width)) {
            *to = part;
        }
    }
}

/// As [`slopes_of_part`] for the first part.
pub(super) fn slopes_of_first<N: Number>(group: &Group, slopes: &[N], message: &mut [N]) {
    let width = 1 << group.reads;
    for fires in 0..1_usize << group.feeds {
        let slope = block(slopes, join(group, 0, fires), width);
        for (to, &slope) in block_mut(message, fires, width).iter_mut().zip(slope) {
            *to = slope;
        }
    }
    level(message);
}

/// Given the derivative by the table with this part and all after it taken in
/// (`slopes`), and the table before it, the derivative by the part's message.
pub(super) fn slopes_of_part<N: Number>(
    group: &Group,
    before: &[N],
    slopes: &[N],
    message: &mut [N],
) {
    let width = 1 << group.reads;
    message.fill(N::ZERO);
    for outcome in 0..group.outcomes() {
        for fires in 0..1_usize << group.feeds {
            let from = block(before, outcome, width);
            let slope = block(slopes, join(group, outcome, fires), width);
            let to = block_mut(message, fires, width);
            for ((to, &from), &slope) in to.iter_mut().zip(from).zip(slope) {
                if !from.is_zero() && !slope.is_zero() {
                    *to = to.plus(from.times(slope));
                }
            }
        }
    }
    level(message);
}

/// The derivative by the table before this part, from that by the table with
/// it.
pub(super) fn slopes_before<N: Number>(
    group: &Group,
    slopes: &[N],
    message: &[N],
    before: &mut [N],
) {
    let width = 1 << group.reads;
    before.fill(N::ZERO);
    for outcome in 0..group.outcomes() {
        for fires in 0..1_usize << group.feeds {
            let slope = block(slopes, join(group, outcome, fires), width);
            let part = block(message, fires, width);
            let to = block_mut(before, outcome, width);
            for ((to, &slope), &part) in to.iter_mut().zip(slope).zip(part) {
                if !slope.is_zero() && !part.is_zero() {
                    *to = to.plus(slope.times(part));
                }
            }
        }
    }
    level(before);
}
