//! A bench unit without a board: its flash, which fails where it is told to, its
//! side of the link, a bad line to it, and what is noted on it.

mod board;
mod flash;
mod notes;
mod wire;

pub use board::Board;
pub use flash::{Cut, MockFlash, PowerIsOff};
pub use notes::inspection;
pub use wire::{Faults, MemoryWire, Rates};
