//! A bench unit without a board: its flash, which fails where it is told to.

mod flash;

pub use flash::{Cut, MockFlash, PowerIsOff};
