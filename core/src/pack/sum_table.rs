//! The table of a sum: what a measure comes to for readings and values of others.
//!
//! The compiler works a sum of the handbook out at some readings of each measure that goes into
//! it, and for each value of each choice. Between these readings the measure is taken to run
//! straight, or as a power of the readings. So a reader needs no sum, and no floating point, and
//! every machine gets the same.
//!
//! In words: a head ([`TableHead`]); for each axis two words and, of readings, the readings at
//! which the sum was worked out, from the smallest; then what the sum comes to, the last axis
//! running fastest.

use super::layout::{Row, layout, variants};
use super::words::word;
use super::{Form, NONE, Pack, Section, Working};
use crate::limits::{MAX_SUM_AXES, MAX_SUM_READINGS, MAX_SUM_VALUES};

/// What stands in a table where there is nothing to work out: outside the sum, or for a value
/// of a choice that it does not know.
const NOTHING: i32 = i32::MIN;

variants! {
    /// What is read along an axis.
    #[derive(Default)]
    Sort: u8 {
        /// Readings of a measure.
        #[default]
        Readings = 0,
        ..
        /// The values of a choice, each in its place.
        Values = 1
    }
}

variants! {
    /// What the table has of readings and of what they come to.
    #[derive(Default)]
    Scale: u8 {
        /// Ticks.
        #[default]
        Ticks = 0,
        ..
        /// Logarithms of ticks ([`logarithm`](crate::logarithm)): what grows as a power of its
        /// readings runs straight along these.
        Logarithms = 1
    }
}

layout! {
    /// The head of a table.
    #[derive(Default)]
    TableHead: 2 words {
        /// Words of the table, the head among them.
        length: u16, at 0;
        /// How many axes.
        axes: u8, at 2;
        /// What is worked out is taken to be out by as much as the sentence says, not by what
        /// its readings may be out.
        spread_is_said: bool, at 3;
        /// What it has of readings and values.
        scale: Scale, at 4;
    }
}

layout! {
    /// The head of an axis: one of what goes into a sum.
    #[derive(Default)]
    AxisHead: 2 words {
        /// The measure or choice.
        ask: u16, at 0;
        /// Of which kind of part; [`NONE`]: of the part itself.
        kind: u16, at 2;
        /// Of which of its parts, from 1; 0 for the only one.
        which: u8, at 4;
        /// It is the nearest owner of that kind, not a part.
        of_owner: bool, at 5;
        /// How many readings or values.
        count: u8, at 6;
        /// What is read along it.
        sort: Sort, at 7;
    }
}

/// One of what goes into a sum, read in place.
#[derive(Clone, Copy, Debug)]
pub struct Axis<'a> {
    /// What it is.
    pub head: AxisHead,
    readings: &'a [u32],
}

impl Axis<'_> {
    /// How many readings or values it has.
    #[must_use]
    pub fn count(&self) -> usize {
        self.head.count.into()
    }

    /// One of the readings at which the sum was worked out; 0 of one there is not.
    #[must_use]
    pub fn reading(&self, index: usize) -> i32 {
        word(self.readings, index).cast_signed()
    }
}

/// The table of a sum, read in place.
#[derive(Clone, Copy, Debug)]
pub struct SumTable<'a> {
    /// Its head.
    pub head: TableHead,
    /// Axes and values.
    words: &'a [u32],
}

impl<'a> SumTable<'a> {
    /// The axes, in order.
    pub fn axes(&self) -> impl Iterator<Item = Axis<'a>> + use<'a> {
        let mut rest = self.words;
        (0..self.head.axes).map(move |_| {
            let (axis, after) = axis(rest);
            rest = after;
            axis
        })
    }

    /// What the sum comes to, the last axis running fastest.
    fn values(&self) -> &'a [u32] {
        (0..self.head.axes).fold(self.words, |rest, _| axis(rest).1)
    }

    /// Where the values begin, to read many of them.
    pub fn reader(&self) -> impl Fn(usize) -> Option<i32> + use<'a> {
        let values = self.values();
        move |index| {
            let value = values.get(index)?.cast_signed();
            (value != NOTHING).then_some(value)
        }
    }
}

/// The axis that words begin with, and the words after it.
fn axis(words: &[u32]) -> (Axis<'_>, &[u32]) {
    let head = AxisHead::read(words);
    let length = match head.sort {
        Sort::Readings => usize::from(head.count),
        Sort::Values => 0,
    };
    let rest = words.get(AxisHead::WORDS..).unwrap_or(&[]);
    let (readings, after) = rest.split_at_checked(length).unwrap_or((&[], &[]));
    (Axis { head, readings }, after)
}

impl<'a> Pack<'a> {
    /// The table that begins at this word of its section.
    #[must_use]
    pub fn sum_table(&self, at: u16) -> SumTable<'a> {
        let words = self.section(Section::Tables);
        let words = words.get(usize::from(at)..).unwrap_or(&[]);
        let head = TableHead::read(words);
        SumTable {
            head,
            words: words
                .get(TableHead::WORDS..head.length.into())
                .unwrap_or(&[]),
        }
    }

    /// Whether any sum takes an answer about an owner of the part that it is worked out for.
    #[must_use]
    pub fn reads_owners(&self) -> bool {
        let mut rows = (0..self.workings()).map(|row| self.working(row));
        rows.any(|row| {
            row.working == Working::Table
                && self
                    .sum_table(row.table)
                    .axes()
                    .any(|axis| axis.head.of_owner)
        })
    }

    /// Whether a table is whole, and everything that it reads is there.
    pub(super) fn is_sum_table(&self, at: u16) -> bool {
        let table = self.sum_table(at);
        if !(1..=MAX_SUM_AXES).contains(&usize::from(table.head.axes)) {
            return false;
        }
        let (mut values, mut readings) = (1_usize, 0_usize);
        for axis in table.axes() {
            let head = axis.head;
            let is_there = usize::from(head.ask) < self.asks()
                && (head.kind == NONE || usize::from(head.kind) < self.kinds());
            let fits = match (head.sort, self.ask(usize::from(head.ask)).form) {
                _ if !is_there => false,
                (Sort::Readings, Form::HowMuch { .. }) => {
                    readings = readings.saturating_add(1);
                    axis.count() > 1 && axis.readings.len() == axis.count() && rises(axis.readings)
                }
                (Sort::Values, Form::Which { values, .. }) => u16::from(head.count) == values,
                _ => false,
            };
            if !fits {
                return false;
            }
            values = values.saturating_mul(axis.count());
        }
        readings <= MAX_SUM_READINGS && values <= MAX_SUM_VALUES && table.values().len() == values
    }
}

/// Whether each reading is larger than the one before.
fn rises(readings: &[u32]) -> bool {
    let pairs = readings.iter().zip(readings.iter().skip(1));
    pairs
        .into_iter()
        .all(|(one, next)| one.cast_signed() < next.cast_signed())
}
