//! The bench screen on the host: over a job, in a terminal or into pictures.
//!
//! The screen itself is [`tellmark_core::bench`], the same code as on the unit.
//! Here are its display, its memory, its keys, and the way between what it
//! notes and the sentences of a job's record.

mod held;
mod noted;
mod picture;
mod room;
mod script;
mod terminal;

pub use held::{BenchError, Held};
pub use noted::{finished, found, heeded, opening, remarked, sentence};
pub use picture::Picture;
pub use room::Room;
pub use script::{Command, Misread, read as read_keys};
pub use terminal::{Stop, run};
