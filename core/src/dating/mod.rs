//! When a piece was made, and which of its parts are original.
//!
//! What is found on a part dates the part, and the piece only if the part is
//! original. So every part has a date of its own: that of what it is built into
//! if it is original to it, a later one if it is not. Dates are decades, and the
//! piece's is anywhere from [`FIRST_YEAR`] to now before anything is found (see
//! [`prior`]). All are judged together, exactly, by messages on the tree of
//! parts: a part's message to its owner says how well what was found on it and
//! below fits each decade of the owner's making. Only sums and products of
//! numbers that are not negative are needed, as in [`crate::belief`].
//!
//! What one finding says of a part counts once. A fitting that fits no trace on
//! what it is built into speaks for having been made later, whenever that was; and parts
//! that are unlike one another, for one of them having been.
//!
//! - [`evidence`]: what a finding says of each decade, and of being as old;
//! - [`together`]: what a finding says of several parts together;
//! - [`dates`]: the chances of decades, and of being original;
//! - [`later`]: the fewest parts that need be later for all dates to agree.

pub mod dates;
pub mod evidence;
pub mod later;
pub mod together;

pub use dates::{Dates, TooFew};
pub use evidence::Evidence;
pub use later::fewest_later;
pub use together::Together;

use crate::inspection::Inspection;
use crate::number::Number;
use crate::plan::Call;
use crate::truth::Truth;

/// The first year of the first decade.
pub const FIRST_YEAR: u16 = 1500;
/// Most decades: up to the year 2139.
pub const MOST_DECADES: usize = 64;

/// How many decades there are up to this year, that year's included.
#[must_use]
pub fn decades(now: u16) -> usize {
    usize::from(now.saturating_sub(FIRST_YEAR) / 10 + 1).min(MOST_DECADES)
}

/// The first year of a decade.
#[must_use]
pub fn first_year(decade: usize) -> u16 {
    let decade = u16::try_from(decade.min(MOST_DECADES)).unwrap_or(0);
    FIRST_YEAR + 10 * decade
}

/// How likely a piece is of a decade before anything is found, beside the
/// likeliest ones, in thousandths. A choice of this project: what comes to a
/// restorer's bench is mostly of 1650 to 1930.
#[must_use]
pub fn prior(decade: usize) -> u16 {
    match first_year(decade) {
        1650..1930 => 1000,
        _ => 250,
    }
}

impl<N: Number> Inspection<'_, '_, N> {
    /// Every dating that holds for a part.
    pub fn datings(&mut self, mut found: impl FnMut(Call)) {
        let pack = *self.pack();
        let datings = (0..pack.datings()).map(|i| {
            let dating = pack.dating(i);
            (dating.subject, dating.condition)
        });
        self.calls(datings, |call| {
            if call.truth == Truth::True {
                found(call);
            }
        });
    }
}
