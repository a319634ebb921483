//! The command as a user types it. One program holds all of these tests: linking one is quicker
//! than linking thirty, and they share two processors better.

mod agreed;
mod commands;
mod counts;
mod faults;
mod first;
mod hangs;
mod help;
mod hostile;
mod hostile_words;
mod house;
mod invoice;
mod jobs;
mod json_shapes;
mod letter;
mod mended;
mod money;
mod notes;
mod own_work;
mod owner;
mod papers;
mod photos;
mod pictures;
mod quote;
mod repair;
mod report;
mod report_in_browser;
mod small_truths;
mod sums;
mod terminal;
mod ticking;
mod triage;
mod unit;
mod user;
mod who_noted;
mod work;
