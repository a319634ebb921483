//! A job's record, and what a house's rules make of it.
//!
//! Each module knows only the ones before it:
//!
//! - [`plain`]: files of plain text, and why one could not be read or written;
//! - [`one_line`]: what strangers wrote, as it may stand in a line of ours;
//! - [`record`]: a job's folder: what was found, wished and done, as plain dated lines;
//! - [`hours`]: how many bench hours a piece will take;
//! - [`advice`]: likely faults and their reasons, the next check, dates, plan and quotation;
//! - [`bounds`]: running what a house wrote within bounds of the operating system;
//! - [`scripts`]: a house's own price list and checks;
//! - [`house`]: where rules come from, and what was built from them before.

pub mod advice;
pub mod bounds;
pub mod hours;
pub mod house;
pub mod one_line;
pub mod plain;
pub mod record;
pub mod scripts;
