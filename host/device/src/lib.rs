//! Where the core's bench screen and its notes meet this machine: the screen over a job
//! in a terminal, and the bench unit at the other end of a cable.

pub mod bench;
pub mod unit;
