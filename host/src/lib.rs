//! The host side of Tellmark: house rules in, a pack, a job's record and answers out.

pub mod bench;
pub mod check;
pub mod commands;
pub mod compile;
pub mod hours;
pub mod house;
pub mod inspect;
pub mod job;
pub mod language;
pub mod model;
pub mod picture;
pub mod plain;
pub mod report;
pub mod room;
pub mod scripts;
pub mod unit;
pub mod words;
