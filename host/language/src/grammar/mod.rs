//! Parsers for sentences, over tokens.

pub mod answer;
pub mod clause;
pub mod declare;
pub mod name;
pub mod sentence;
pub mod time;
pub mod worked_out;
