//! Evaluates a house's compiled rules over a piece of furniture.
//!
//! This crate runs on a microcontroller and inside the `tellmark` command; it
//! has no heap, no clock, no files and no screen driver. Its modules stand in layers,
//! lowest first, and a module uses only those below it (`tests/tests/layers.rs` has the
//! list and sees to it):
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
//!   damages and doubles bytes;
//! - [`mod@bench`]: the bench screen: four keys in, pictures out.
//!
//! Nothing here panics, on any pack and any answer: whatever a caller can get
//! wrong is an error value.
#![no_std]
#![forbid(unsafe_code)]

pub mod belief;
pub mod bench;
pub mod dating;
pub mod inspection;
pub mod limits;
pub mod link;
pub mod log;
pub mod logic;
pub mod looking;
pub mod number;
pub mod pack;
pub mod piece;
pub mod plan;
pub mod record;
mod slices;
pub mod truth;
