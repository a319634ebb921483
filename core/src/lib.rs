//! Evaluates a house's compiled rules over a piece of furniture.
//!
//! This crate runs on a microcontroller and inside the `tellmark` command; it
//! has no heap, no clock, no files and no display. A piece is looked over by the
//! names of its parts and signs:
//!
//! ```
//! use tellmark_core::survey::{Memory, PackBytes, Said, Survey};
//!
//! # let file = include_bytes!(concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/packs/v1/further.pack"));
//! let bytes: PackBytes = PackBytes::copy(file)?; // a pack of `tellmark build`
//! let mut memory: Memory = Memory::new();
//! let mut chest = Survey::begin(
//!     bytes.open()?,
//!     &mut memory,
//!     "chest of drawers",
//!     &[("drawers", 4)],
//! )?;
//! chest.answer("drawer 2", "stiff", Said::Yes)?;
//!
//! let likeliest = chest.likeliest()?.next().map(|fault| fault.to_string());
//! assert_eq!(
//!     likeliest.as_deref(),
//!     Some("Left runner of drawer 2 of case is possibly worn hollow (42 in 100).")
//! );
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! `examples/first_look.rs` is a whole program of that sort, and
//! `examples/dates_alone.rs` uses one layer by itself. The modules stand in layers, lowest
//! first, and a module uses only those below it (`tests/tests/layers.rs` has the list and
//! sees to it):
//!
//! - [`limits`]: every capacity; [`truth`]: true, false, not known; [`number`]: the
//!   unsigned float that chances are computed in, and the trait that lets the same code
//!   run in `f64`;
//! - [`pack`]: a compiled pack, checked once when it is opened and then read in
//!   place;
//! - [`piece`]: the tree of parts of the piece on the bench, and what has been
//!   answered about each;
//! - [`logic`]: the machine that runs a pack's conditions over a piece; and
//!   [`belief`]: exact chances of everything that cannot be seen, by message passing
//!   on the tree of parts;
//! - [`inspection`]: piece and chances kept in step as answers come in;
//! - [`looking`]: what is worth looking at next; and [`plan`]: the jobs and cautions
//!   that follow;
//! - [`dating`]: when the piece was made, and which parts are original;
//! - [`record`]: what is noted at the bench, one thing at a time;
//! - [`log`]: that record, and the pack, on a flash chip whose power may fail;
//! - [`link`]: how the unit and the host exchange them over a line that loses,
//!   damages and doubles bytes.
//!
//! For whoever builds a front end, with or without a screen:
//!
//! - [`words`]: what parts, states, questions, answers and chances are called;
//! - [`lookup`]: kinds, parts, signs and jobs by those words;
//! - [`asking`]: what can be asked, and how it can be answered;
//! - [`round`]: the walk around the piece, one question after the other;
//! - [`shortlist`]: the likeliest faults, the cautions and the jobs;
//! - [`weighing`]: what speaks for and against a fault;
//! - [`work`]: the piece as its record says; notes what is counted and answered;
//! - [`survey`]: all of it by name, in memory of fixed size.
//!
//! The feature `screen` adds `bench`, the bench unit's own screen: four keys in,
//! pictures out.
//!
//! The feature `handbook` adds `handbook`, bench sums from published handbooks; it stands apart
//! from all the rest.
//!
//! Nothing here panics, on any pack and any answer: whatever a caller can get
//! wrong is an error value.
#![no_std]
#![forbid(unsafe_code)]

pub mod asking;
pub mod belief;
#[cfg(feature = "screen")]
pub mod bench;
pub mod dating;
#[cfg(feature = "handbook")]
pub mod handbook;
pub mod inspection;
pub mod limits;
pub mod link;
pub mod log;
pub mod logarithm;
pub mod logic;
pub mod looking;
pub mod lookup;
pub mod number;
pub mod pack;
pub mod piece;
pub mod plan;
pub mod record;
pub mod round;
#[cfg(test)]
mod sample;
pub mod shortlist;
mod slices;
pub mod sureness;
pub mod survey;
pub mod truth;
pub mod weighing;
pub mod words;
pub mod work;
