//! From the resolved rules to a pack.
//!
//! Kinds of part, where they stand in the tree of a piece, become belief
//! fragments; conditions become small programs; everything else becomes tables.
//! A pack knows kinds of part, not one piece: it serves any piece the rules
//! speak of, with any number of drawers.
//!
//! Each stage takes what the one before made: places and states, network, fragments,
//! tables. What cannot be made comes back as a [`Problem`]; [`check`] puts it into
//! words.

mod assemble;
mod built;
mod bytes;
pub mod check;
mod circuit;
mod factor;
mod fit;
mod fitted;
pub mod flat;
mod formula;
mod fragment;
pub mod ground;
mod limits;
pub mod meaning;
pub mod moments;
mod network;
mod numbers;
mod obtained;
mod order;
mod packing;
mod placed;
mod places;
pub mod plans;
mod problem;
pub mod room;
mod rules;
pub mod set_up;
mod size;
mod states;
mod tables;
mod tangle;
mod ties;

pub use built::{Built, Kept, build};
pub use circuit::{Laid, TooLarge};
pub use fit::{Reached, TOLERANCE};
pub use obtained::{Obtained, Sentence};
pub use places::{Place, Places};
pub use problem::{Capacity, Problem, Tangled, TooMuch};
pub use rules::{Listed, Rules};
pub use size::{KindSize, PieceSize, Sizes};
pub use states::{AskRow, Asked, StateRow, States, count_sign, range};
pub use ties::always_before;
