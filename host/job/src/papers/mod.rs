//! The papers of a job: estimates and supplements, what the owner answered, what was taken
//! beside what was estimated, invoices and credits.
//!
//! A paper is plain text, one "label: text" a line, which can be read without the program
//! and is read back by it. It is written once ([`crate::record`] keeps it) and never
//! changed; what was wrong in it is put right by a later one.

mod account;
mod agreed;
mod answer;
mod beside;
mod bill;
mod estimate;
mod groups;
mod invoice;
mod parties;
mod payment;
mod supplement;
mod text;
mod ticks;
mod work_done;

pub use account::{Account, NoAccount, NoAmount};
pub use agreed::{Agreed, Answered};
pub use answer::{Lines, NoAnswer, Said, answer};
pub use beside::{Against, Became, Beside, Row};
pub use bill::{Bill, Known, NoBill, bill, to_charge};
pub use estimate::{Estimate, EstimateJob, HoursRange, PriceLine, RestsOn, Terms};
pub use groups::Groups;
pub use invoice::{Credit, Invoice, InvoiceLine, TaxLine, invoices};
pub use parties::Parties;
pub use payment::may_be_paid;
pub use supplement::{keep_within, supplement};
pub use ticks::{Tick, Ticks};
pub use work_done::{DoneWork, done_work, prices_by_hours};
