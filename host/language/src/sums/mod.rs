//! Sums of the handbook for measures that are worked out: what goes into them as the handbook
//! wants it, and tables of what they come to.

mod evaluate;
mod table;

pub(crate) use evaluate::{NoSum, Value, value_called};
pub(crate) use table::{Axis, Failed, Tabulated, tabulate};
