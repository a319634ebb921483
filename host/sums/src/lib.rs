//! Bench sums asked in a restorer's words and units.
//!
//! The sums themselves are those of `tellmark_core::handbook`. Here quantities are read
//! ([`quantity`]: "3 1/2 in", "18 mm", "70 F") and refused in clear sentences ([`Trouble`]), and
//! each sum is a value ([`Worked`]): an answer in one line, its working, its sources and its
//! caution. A sum is a struct of what was typed, with `worked`; nothing of a person, a job or a
//! file comes into it.
//!
//! ```
//! use tellmark_sums::movement::{Asked, Between};
//!
//! let asked = Asked {
//!     wood: "black walnut",
//!     cut: Some("flat"),
//!     between: Between::Climates(&["20 C 60 %", "68 F 35 %"]),
//! };
//! let worked = asked.board("500 mm")?.0;
//! assert!(worked.answer.contains("5.5 mm"));
//! # Ok::<(), tellmark_sums::Trouble>(())
//! ```

pub mod dust;
pub mod fall;
pub mod fastener;
pub mod glue;
mod list;
pub mod moisture;
pub mod movement;
mod named;
pub mod of_rules;
pub mod quantity;
pub mod shelf;
pub mod shellac;
mod shown;
pub mod solvent;
pub mod tipping;
mod trouble;
mod unit;
mod worked;

pub use list::{Listed, SUMS};
pub use trouble::Trouble;
pub use unit::Dimension;
pub use worked::{Figure, Worked};
