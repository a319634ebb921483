//! Measures that are worked out from others.

use crate::pack::layout::{layout, variants};

variants! {
    /// How a measure is worked out.
    #[derive(Default)]
    Working: u8 {
        /// By how much the first reading and the second differ.
        #[default]
        Difference = 0,
        /// All readings together.
        Sum = 1,
        /// The first reading as a share of the second, in hundredths of one per cent.
        Share = 2,
        /// The largest reading.
        Most = 3,
        /// Which of its owner's parts of this kind it is, from 1.
        Number = 5,
        /// The same, counted from the last.
        FromLast = 6,
        /// By the table of a sum: see [`SumTable`](crate::pack::SumTable).
        Table = 7,
        ..
        /// The smallest reading.
        Least = 4
    }
}

layout! {
    /// A measure that is not asked for, but worked out from the readings of others.
    #[derive(Default)]
    WorkedOut: 4 words {
        /// The measure.
        ask: u16, at 0;
        /// How.
        working: Working, at 2;
        /// Of the first operand: which of the parts, from 1; 0 for all of them.
        first_which: u8, at 4;
        /// The same of the second.
        second_which: u8, at 5;
        /// The measure of the first operand.
        first: u16, at 6;
        /// Its kind of part, of which the part has some; [`NONE`](crate::pack::NONE): the
        /// part itself.
        first_kind: u16, at 8;
        /// The measure of the second operand; [`NONE`](crate::pack::NONE) if there is none.
        second: u16, at 10;
        /// Its kind of part.
        second_kind: u16, at 12;
        /// Of a [`Working::Table`]: the word of the section of tables at which its table begins.
        table: u16, at 14;
    }
}
