//! The house's own small programs: its price list, and checks of its own rules.
//!
//! A script is written in Rhai. It is given plain values and gives plain values back, and
//! can reach no file, no clock and no other program. Scripts of a house run in a process
//! that the operating system keeps within bounds ([`crate::bounds`]); the standard price
//! list runs here. `rules/SCRIPTS.md` describes both kinds.

mod checks;
mod error;
mod invoice;
mod prices;
mod request;
mod sandbox;
mod value;

pub use checks::checks;
pub use error::ScriptError;
pub use invoice::{Charge, InvoiceTerms, Tax, invoice_terms, tax_names, with_taxes, without_taxes};
pub(crate) use prices::as_text;
pub use prices::{Line, Priced, prices};
pub use request::{Ran, TASK, answer};

/// The name of a house's price list, beside its rules.
pub const PRICES: &str = "prices.rhai";
/// The name of a house's own checks, beside its rules.
pub const CHECKS: &str = "checks.rhai";

/// The most signs of what a script has to say: what is taken for granted, what a check
/// says, what it prints.
const SENTENCES: usize = 2_000;
