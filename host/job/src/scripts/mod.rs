//! The house's own small programs: its price list, and checks of its own rules.
//!
//! A script is written in Rhai. It is given plain values and gives plain values back;
//! it can reach no file, no clock and no other program, and one that goes on for ever
//! or fills the memory is stopped. `rules/SCRIPTS.md` describes both kinds.

mod checks;
mod map;
mod prices;
mod sandbox;
mod trouble;

pub use checks::checks;
pub use prices::{Line, Priced, prices};
pub use sandbox::Script;
pub use trouble::Trouble;

/// The name of a house's price list, beside its rules.
pub const PRICES: &str = "prices.rhai";
/// The name of a house's own checks, beside its rules.
pub const CHECKS: &str = "checks.rhai";
