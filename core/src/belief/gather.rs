//! How the parts of one kind report to their owner.
//!
//! Each part's message is a table over the owner's states that it reads and
//! over its feeds (whether it fired this reason, yes or no). The owner takes
//! the parts in one at a time: what they read multiplies, what they feed is
//! counted, up to a cap (1: any or none). The table of the group is indexed by
//! the reads (a bit each, first read lowest) and then by the counts (mixed
//! radix, first feed lowest). All of it is sums and products of numbers that
//! are not negative.
//!
//! A part that fires at the cap changes nothing, so there both halves of its
//! message go to one place and are added before they are multiplied: of a feed
//! that is only asked for, three products are made and not four, and of several
//! such feeds, the last within the one before, three to that power.

use super::circuit::level;
use super::memory::{copy, cut};
use crate::number::Number;
use crate::pack::Group;

/// The count of a table's highest feed, and the feeds below it.
fn split(caps: &[u8]) -> Option<(usize, &[u8])> {
    let (&cap, below) = caps.split_last()?;
    Some((usize::from(cap), below))
}

fn caps(group: &Group) -> &[u8] {
    let feeds = usize::from(group.feeds).min(group.caps.len());
    group.caps.get(..feeds).unwrap_or(&[])
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

/// Entry by entry, adds the product of two tables of what is read.
fn add_product<N: Number>(one: &[N], other: &[N], to: &mut [N]) {
    for ((to, &one), &other) in to.iter_mut().zip(one).zip(other) {
        *to = to.plus_product(one, other);
    }
}

/// Puts the sum of two blocks at the beginning of the spare memory; gives back
/// that, and what is left.
fn sum<'s, N: Number>(one: &[N], other: &[N], spare: &'s mut [N]) -> (&'s [N], &'s mut [N]) {
    let (sum, spare) = cut(spare, one.len());
    for ((sum, &one), &other) in sum.iter_mut().zip(one).zip(other) {
        *sum = one.plus(other);
    }
    (sum, spare)
}

/// The table of a group with no parts: nothing fired.
pub(super) fn none<N: Number>(group: &Group, table: &mut [N]) {
    table.fill(N::ZERO);
    block_mut(table, 0, 1 << group.reads).fill(N::ONE);
}

/// The table `before`, with one more part. Spare memory, here and below, is as
/// much as a table takes.
pub(super) fn with_part<N: Number>(
    group: &Group,
    before: &[N],
    message: &[N],
    after: &mut [N],
    spare: &mut [N],
) {
    after.fill(N::ZERO);
    add_joined(caps(group), before, message, after, spare);
    level(after);
}

fn add_joined<N: Number>(
    caps: &[u8],
    before: &[N],
    message: &[N],
    after: &mut [N],
    spare: &mut [N],
) {
    let Some((cap, below)) = split(caps) else {
        return add_product(before, message, after);
    };
    let half = message.len() / 2;
    let (silent, fires) = (block(message, 0, half), block(message, 1, half));
    let size = before.len().checked_div(cap + 1).unwrap_or(0);
    for count in 0..cap {
        let known = block(before, count, size);
        add_joined(below, known, silent, block_mut(after, count, size), spare);
        add_joined(
            below,
            known,
            fires,
            block_mut(after, count + 1, size),
            spare,
        );
    }
    let (either, spare) = sum(silent, fires, spare);
    let known = block(before, cap, size);
    add_joined(below, known, either, block_mut(after, cap, size), spare);
}

/// The table of a group with one part: as the part reports.
pub(super) fn first_part<N: Number>(group: &Group, message: &[N], after: &mut [N]) {
    after.fill(N::ZERO);
    set_first(caps(group), message, after);
}

fn set_first<N: Number>(caps: &[u8], message: &[N], after: &mut [N]) {
    let Some((cap, below)) = split(caps) else {
        return copy(after, message);
    };
    let (half, size) = (message.len() / 2, after.len().checked_div(cap + 1));
    for fires in 0..2 {
        let to = block_mut(after, fires, size.unwrap_or(0));
        set_first(below, block(message, fires, half), to);
    }
}

/// As [`slopes_of_part`] for the first part.
pub(super) fn slopes_of_first<N: Number>(group: &Group, slopes: &[N], message: &mut [N]) {
    take_first(caps(group), slopes, message);
    level(message);
}

fn take_first<N: Number>(caps: &[u8], slopes: &[N], message: &mut [N]) {
    let Some((cap, below)) = split(caps) else {
        return copy(message, slopes);
    };
    let (half, size) = (message.len() / 2, slopes.len().checked_div(cap + 1));
    for fires in 0..2 {
        let from = block(slopes, fires, size.unwrap_or(0));
        take_first(below, from, block_mut(message, fires, half));
    }
}

/// Given the derivative by the table with this part and all after it taken in
/// (`slopes`), and the table before it, the derivative by the part's message.
pub(super) fn slopes_of_part<N: Number>(
    group: &Group,
    before: &[N],
    slopes: &[N],
    message: &mut [N],
    spare: &mut [N],
) {
    message.fill(N::ZERO);
    add_of_part(caps(group), before, slopes, message, spare);
    level(message);
}

fn add_of_part<N: Number>(
    caps: &[u8],
    before: &[N],
    slopes: &[N],
    message: &mut [N],
    spare: &mut [N],
) {
    let Some((cap, below)) = split(caps) else {
        return add_product(before, slopes, message);
    };
    let half = message.len() / 2;
    let size = before.len().checked_div(cap + 1).unwrap_or(0);
    for count in 0..=cap {
        let (known, slope) = (block(before, count, size), block(slopes, count, size));
        add_of_part(below, known, slope, block_mut(message, 0, half), spare);
    }
    let fires = block_mut(message, 1, half);
    for count in 1..cap {
        let (known, slope) = (block(before, count - 1, size), block(slopes, count, size));
        add_of_part(below, known, slope, fires, spare);
    }
    let last = cap.saturating_sub(1);
    let (either, spare) = sum(block(before, last, size), block(before, cap, size), spare);
    add_of_part(below, either, block(slopes, cap, size), fires, spare);
}

/// The derivative by the table before this part, from that by the table with
/// it.
pub(super) fn slopes_before<N: Number>(
    group: &Group,
    slopes: &[N],
    message: &[N],
    before: &mut [N],
    spare: &mut [N],
) {
    before.fill(N::ZERO);
    add_before(caps(group), slopes, message, before, spare);
    level(before);
}

fn add_before<N: Number>(
    caps: &[u8],
    slopes: &[N],
    message: &[N],
    before: &mut [N],
    spare: &mut [N],
) {
    let Some((cap, below)) = split(caps) else {
        return add_product(slopes, message, before);
    };
    let half = message.len() / 2;
    let (silent, fires) = (block(message, 0, half), block(message, 1, half));
    let size = slopes.len().checked_div(cap + 1).unwrap_or(0);
    for count in 0..cap {
        let to = block_mut(before, count, size);
        add_before(below, block(slopes, count, size), silent, to, spare);
        add_before(below, block(slopes, count + 1, size), fires, to, spare);
    }
    let (either, spare) = sum(silent, fires, spare);
    let slope = block(slopes, cap, size);
    add_before(below, slope, either, block_mut(before, cap, size), spare);
}

#[cfg(test)]
#[allow(clippy::float_arithmetic)]
mod tests {
    use super::*;

    /// One state that is read, and one feed counted up to two.
    const GROUP: Group = Group {
        reads: 1,
        feeds: 1,
        table: 0,
        caps: [2; 12],
        sources: [0; 10],
    };
    /// What three parts report: silent and firing, for either value of what they read.
    const REPORTS: [[f64; 4]; 3] = [
        [1.0, 0.5, 0.25, 0.5],
        [0.5, 1.0, 0.5, 0.125],
        [1.0, 1.0, 1.0, 0.25],
    ];

    /// The table of these parts, taken in one at a time.
    fn taken_in(reports: &[[f64; 4]]) -> [f64; 6] {
        let (mut table, mut spare) = ([0.0; 6], [0.0; 6]);
        none(&GROUP, &mut table);
        for (i, report) in reports.iter().enumerate() {
            let mut next = [0.0; 6];
            if i == 0 {
                first_part(&GROUP, report, &mut next);
            } else {
                with_part(&GROUP, &table, report, &mut next, &mut spare);
            }
            table = next;
        }
        table
    }

    /// The same by going through every way in which the parts can have fired.
    fn enumerated() -> [f64; 6] {
        let mut table = [0.0; 6];
        for world in 0_usize..8 {
            for read in 0..2 {
                let mut weight = 1.0;
                for (part, report) in REPORTS.iter().enumerate() {
                    let fires = (world >> part) & 1;
                    weight *= report.get(2 * fires + read).copied().unwrap_or(0.0);
                }
                let count = (world.count_ones() as usize).min(2);
                if let Some(entry) = table.get_mut(2 * count + read) {
                    *entry += weight;
                }
            }
        }
        level(&mut table);
        table
    }

    #[test]
    fn no_parts_count_to_none_whatever_is_read() {
        assert_eq!(taken_in(&[]), [1.0, 1.0, 0.0, 0.0, 0.0, 0.0]);
    }

    #[test]
    fn parts_taken_in_one_at_a_time_make_the_table_of_all_their_worlds() {
        assert_eq!(taken_in(&REPORTS), enumerated());
    }

    #[test]
    fn parts_can_be_taken_in_in_any_order() {
        let [a, b, c] = REPORTS;
        assert_eq!(taken_in(&[a, b, c]), taken_in(&[c, a, b]));
    }

    #[test]
    fn the_derivative_by_a_report_times_the_report_is_the_whole() {
        // The whole is a sum over the table, linear in each report.
        let slopes = [0.5, 0.25, 1.0, 0.5, 0.125, 1.0];
        let [first, last, _] = REPORTS;
        let before = taken_in(&[first]);
        let (mut spare, mut after, mut by_report) = ([0.0; 6], [0.0; 6], [0.0; 4]);
        with_part(&GROUP, &before, &last, &mut after, &mut spare);
        slopes_of_part(&GROUP, &before, &slopes, &mut by_report, &mut spare);
        let product =
            |one: &[f64], other: &[f64]| -> f64 { one.iter().zip(other).map(|(a, b)| a * b).sum() };
        // Both are levelled by powers of two, which are the same in every entry.
        let ratio = product(&by_report, &last) / product(&slopes, &after);
        assert_eq!(
            ratio.to_bits() & ((1 << 52) - 1),
            0,
            "{ratio} is a power of two"
        );

        let mut by_before = [0.0; 6];
        slopes_before(&GROUP, &slopes, &last, &mut by_before, &mut spare);
        let ratio = product(&by_before, &before) / product(&slopes, &after);
        assert_eq!(
            ratio.to_bits() & ((1 << 52) - 1),
            0,
            "{ratio} is a power of two"
        );
    }
}
