//! Conditions over a piece, in three values: true, false and not known.
//!
//! What nobody has looked at is not known, and not known is never taken for no
//! (Kleene's strong three-valued logic).

mod can_be;
mod judge;
mod tally;

pub use can_be::can_be;
pub use judge::Judge;
