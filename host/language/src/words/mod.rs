//! Plain English out: what a model, a fact, a chance or a length is called when
//! it is shown to a person.
//!
//! Nothing here knows a word of any house. Parts, states and jobs are named as
//! the house named them; only the small words between them are ours.
//!
//! * [`read_back`] says every entry of a model in one plain sentence with the
//!   figures filled in, as a guard against "it reads, but it means something
//!   else";
//! * [`fact_line`] says one fact so that the language reads it back the same;
//! * the rest are the phrases that every report and screen shares.

pub mod called;
mod condition;
mod degree;
mod entries;
mod fact;
mod figure;
mod grammar;
mod kinds;
mod length;
mod measure;
mod part;
mod plain;
mod read_back;
mod relative;
mod sign;
mod stand_in;
mod state;
mod tell;
mod time;
mod verb;
mod worked_out;

pub use condition::{condition, reach, reach_is_plural, trailing};
pub use degree::{degree_words, every_degree};
pub use entries::{
    at_most_one, caution, change, dating, example, exclusion, job, ladder, makeup, means, member,
    member_count, only_if, order, plan, rule, source_mark, state_entry, step, together,
};
pub use fact::{fact_line, fact_sentence, nothing, piece_order};
pub use figure::{cases, figure, how_often, money, reaches, strength_word, sureness_word};
pub use grammar::{a, capital, list, list_or, list_some, number, quoted, sentence, some_of};
pub use length::{comparison, quantity, quantity_short};
pub use measure::{how_words, measured_words};
pub use part::part_name;
pub use plain::{
    Plainly, afterwards, at_time, done, mention, plain_fault, plain_job, plain_job_to_come,
    the_part, to_come,
};
pub use read_back::{About, ReadBack, read_back};
pub use relative::relative;
pub use sign::{sense_word, sign_check, sign_entry};
pub use state::{likely_phrase, state_phrase, state_words};
pub use tell::tell;
pub use time::{hours, minutes, minutes_range, takes};
