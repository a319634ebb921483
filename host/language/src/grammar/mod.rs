//! Parsers for sentences, over tokens.

pub mod answer;
pub mod clause;
pub mod declare;
mod depends;
pub mod name;
mod relative;
pub mod sentence;
pub mod time;
pub mod worked_out;
