//! A job's findings put to the rules: what is likely wrong with the piece, and
//! why.

mod apply;
mod date;
mod next;
mod parts;
mod plan;
mod progress;
mod quote;
mod standing;
mod triage;
mod why;

pub use apply::{Case, Evidence, SetUp, resolve};
pub use date::{Dated, DatedPart, DatingHeld, Later, Unpaired, Years, date};
pub use next::{Change, Check, next};
pub use parts::part_ref;
pub use plan::{After, Step, WorkPlan, plan};
pub use progress::{Heeded, Left, Limit, Mark, Marked, Parts, Pictured, Progress, Told};
pub use quote::{Item, NoQuote, Points, Quote, Unseen as UnseenHours, quote};
pub use standing::{Caution, Clash};
pub use triage::{Group, LISTED, Reason, Suspect, Triage, Unseen, triage, unseen_by_part};
pub use why::{Look, Rival, Sentence, Weight, Why, why};
