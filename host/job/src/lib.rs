//! A job's record, and what a house's rules make of it.
//!
//! ```
//! use std::fs;
//! use tellmark_job::house::{self, Families};
//! use tellmark_job::open_job::OpenJob;
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let folder = std::env::temp_dir().join(format!("first-job-{}", std::process::id()));
//! fs::create_dir_all(&folder)?;
//! fs::write(folder.join("job.txt"), "job folder: 1\npiece: chest of drawers with 3 drawers\n")?;
//! fs::write(folder.join("record.txt"), "left runner of drawer 2 is worn 3 mm\n")?;
//!
//! let job = OpenJob::open(&folder, house::ready(None, &Families::All)?)?;
//! let list = job.view()?.triage().map_err(|why| format!("{why:?}"))?;
//! let likeliest = list.groups.first().ok_or("nothing is likely")?;
//! assert_eq!(likeliest.name, "left runner of drawer 2");
//! assert!(likeliest.suspects[0].chance > 0.5);
//! # fs::remove_dir_all(&folder)?;
//! # Ok(())
//! # }
//! ```
//!
//! Each module knows only the ones before it:
//!
//! - [`plain`]: files of plain text, and why one could not be read or written;
//! - [`inside`]: files inside a folder that may have come from a stranger;
//! - [`one_line`]: what strangers wrote, as it may stand in a line of ours;
//! - [`amount`]: an amount of money as somebody writes it;
//! - [`day`]: a day as somebody writes it;
//! - [`limit`]: a limit of the owner, and what it is a limit of;
//! - [`settings`]: what a user has set: the folder of their rules, their name;
//! - [`record`]: a job's folder: what was found, wished and done, as plain dated lines;
//! - [`hours`]: how many bench hours a piece will take;
//! - [`advice`]: likely faults and their reasons, the next check, dates, plan and quotation;
//! - [`moments`]: what the record says of the piece as it was found, and as it is now;
//! - [`bounds`]: running what a house wrote within bounds of the operating system;
//! - [`scripts`]: a house's own price list and checks;
//! - [`house`]: where rules come from, and what was built from them before;
//! - [`worries`]: whether what was found is as it should be;
//! - [`noting`]: notes in a restorer's own words, into the record;
//! - [`open_job`]: a job with the rules it is judged by, the one way in for front ends;
//! - [`papers`]: estimates, supplements, invoices and credits, written once and never changed;
//! - [`limits`]: the owner's limits beside what the work comes to.

pub mod advice;
pub mod amount;
pub mod bounds;
pub mod day;
pub mod hours;
pub mod house;
pub mod inside;
pub mod limit;
pub mod limits;
pub mod moments;
pub mod noting;
pub mod one_line;
pub mod open_job;
pub mod papers;
pub mod plain;
pub mod record;
pub mod scripts;
pub mod settings;
pub mod worries;
