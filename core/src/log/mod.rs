//! What is kept on the bench unit's flash: what was noted, and the pack.
//!
//! - [`Flash`]: what is asked of the chip;
//! - [`Log`]: what was noted, one slot after another, in a ring of sectors;
//! - [`PackStore`]: room for two packs, of which one is current.
//!
//! Power may fail at any instant. What [`Log::append`] gave a number to is
//! never lost and never changed, what was not fully written is never read, and
//! a pack becomes current whole or not at all. The layout is described in
//! `core/src/log/LAYOUT.md`.

mod cell;
mod flash;
mod packs;
mod ring;
mod slot;

pub use flash::{Flash, PAGE, SECTOR};
pub use packs::{Held, Offered, PackStore, StoreError};
pub use ring::{Log, LogError, NOTES_PER_SECTOR};
pub use slot::{Entry, SLOT};
