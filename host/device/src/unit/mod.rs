//! The bench unit at the other end of a cable.
//!
//! - [`Wire`] and [`Port`]: bytes to and from it; [`ports`] is where one may be
//!   plugged in;
//! - [`Line`]: a question and its answer, asked again until it comes;
//! - [`send()`]: a pack, to the unit;
//! - [`fetch()`]: what was noted, from the unit into a job's record, once and in
//!   order, wherever it is interrupted;
//! - [`Bench`]: what was noted, in the words of the rules.

mod bench;
mod fetch;
mod fetch_error;
mod ledger;
mod line;
mod port;
mod send;
mod writing;

pub use bench::{Bench, Said, Unsaid};
pub use fetch::{Fetched, Rules, Target, fetch, keep, put_into_words};
pub use fetch_error::FetchError;
pub use ledger::LEDGER_FILE;
pub use line::{Line, LinkError, Notes, PATIENCE, Size, way_in};
pub use port::{Place, Port, Wire, ports};
pub use send::{Sent, send};
