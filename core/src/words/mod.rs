//! What is said in words: the names of parts and states, questions, answers,
//! chances, measures and times.
//!
//! Everything is written to any [`core::fmt::Write`], so nothing is allocated.
//! Parts are named as people at a bench name them, "left runner of drawer 2",
//! and chances as the rest of Tellmark says them, "probably (67 in 100)".
//! [`crate::lookup`] reads such names.

mod ask;
mod capital;
mod chance;
mod measure;
mod part;
mod state;
mod time;

pub use ask::{answer, effort, question, way};
pub use capital::{Capital, Capitalising};
pub use chance::{Hundredths, sureness};
pub use measure::{Dimension, Reading, Unit};
pub(crate) use part::own_name;
pub use part::part;
pub use state::{likely, sentence, state};
pub use time::time;
