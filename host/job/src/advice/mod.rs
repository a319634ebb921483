//! A job's findings put to the rules: what is likely wrong with the piece, and
//! why.

mod about;
mod date;
mod follows;
mod hangs;
mod later_looks;
mod mends;
mod next;
mod odd;
mod plan;
mod progress;
mod quote;
mod reckoned;
mod relative;
mod rungs;
mod standing;
mod tells;
mod ticking;
mod timed;
mod triage;
mod until;
mod why;

pub use about::{jobs_about, may_treat, shown_by};
pub use date::{Dated, DatedPart, DatingHeld, Later, RelativeHeld, Unpaired, Years, date};
pub use hangs::{AtOdds, Hangs, Turned};
pub use next::{Change, Check, next, short_round};
pub use odd::{Doubt, Found, Odd, odd};
pub use plan::{After, LeftAlone, NotDone, OneOf, OwnStep, Step, WorkPlan, plan};
pub use progress::{Heeded, Left, Mark, Marked, OwnWork, Parts, Pictured, Progress, Told};
pub use quote::{Item, NoQuote, Points, Quote, Unseen as UnseenHours, quote};
pub use reckoned::{Reckoned, reckoned};
pub use standing::{Now, Stage, Standing, Wait, said_when, sets_until, setting, waits};
pub use tells::{OwnerTold, owner_told};
pub use ticking::{Objection, objections};
pub use timed::timed;
pub use triage::{Alike, Group, LISTED, Reason, Suspect, Triage, Unseen, triage, unseen_by_part};
pub use why::{Look, Rival, Sentence, Unread, Weight, Why, unread, why};
