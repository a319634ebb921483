//! How the bench unit and the host talk, over a line that may lose, damage or
//! double any byte.
//!
//! - [`frame`](Receiver): bytes to payloads and back: zeros between frames,
//!   COBS, a check sum;
//! - [`Hello`]: who the unit is; its layout never changes, so any host can
//!   greet any unit;
//! - [`Request`] and [`Answer`]: what is said, in one version of the protocol;
//! - [`UnitLink`]: the unit's side, bytes in and bytes out;
//! - [`Caller`]: the host's side of one exchange, which asks again until it is
//!   answered.
//!
//! Neither side reads a port or a clock: bytes and milliseconds are handed in.
//! Everything that can be asked can be asked twice: the second time changes
//! nothing. The protocol is described in `core/src/link/PROTOCOL.md`.

mod call;
mod frame;
mod hello;
mod message;
mod unit;

pub use call::{Caller, Heard, Patience, Step, Tally};
pub use frame::{Frame, MAX_FRAME, MAX_PAYLOAD, Received, Receiver};
pub use hello::{Hello, Query};
pub use message::{
    Answer, ENTRIES, HIGHEST, LOWEST, MAX_PIECE, Refusal, Request, Spoken, Unreadable,
};
pub use unit::{Event, Reply, UnitLink};
