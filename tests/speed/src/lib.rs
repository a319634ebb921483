//! How fast the whole is, beside general engines on the same work.

pub mod by_hand;
pub mod chest;
pub mod clock;
pub mod conditions;
pub mod engines;
pub mod growth;
pub mod posterior;
pub mod program;
pub mod table;
pub mod words;
