//! A job's record, and what a house's rules make of it.
//!
//! Each module knows only the ones before it:
//!
//! - [`plain`]: files of plain text, and why one could not be read or written;
//! - [`record`]: a job's folder: what was found, wished and done, as plain dated lines;
//! - [`hours`]: how many bench hours a piece will take;
//! - [`advice`]: likely faults and their reasons, the next check, dates, plan and quotation;
//! - [`scripts`]: a house's own price list and checks;
//! - [`house`]: where rules come from, and what was built from them before;
//! - [`open_job`]: a job with the rules it is judged by, the one way in for front ends.

pub mod advice;
pub mod hours;
pub mod house;
pub mod open_job;
pub mod plain;
pub mod record;
pub mod scripts;
