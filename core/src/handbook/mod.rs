//! Bench sums from published handbooks: how far wood moves, what screws hold, what a fall
//! does to its hinges, how shelves sag, when a piece tips, and what is mixed in jars.
//!
//! A sum takes plain numbers (`f32`: millimetres, newtons, degrees Celsius, per cent; a name
//! that ends in a unit has that unit) and knows how far its source goes: what lies outside is
//! [`Refused`], with the quantity, its value and its range. Each says where it comes from
//! and how sure that is ([`Sureness`]). None of them needs a piece, a pack or a person.
//!
//! The sums are for judging and for planning. They are averages over sound, clear wood; an old
//! piece has its own history. Loads, solvents, dust and tall furniture can hurt people: local
//! rules, and people licensed for the work, come first.
#![allow(
    clippy::float_arithmetic,
    reason = "sums of physical quantities, which the unit's chances never use"
)]

pub mod dust;
pub mod fall;
pub mod fasteners;
pub mod glue;
pub mod moisture;
pub mod movement;
mod refused;
pub mod shelf;
pub mod shellac;
pub mod solvents;
mod source;
pub mod tipping;
pub mod woods;

pub use refused::{Quantity, Refused};
pub use source::{Source, Sureness};

/// Standard gravity, in newtons a kilogram (exact by definition; ISO 80000-3).
pub const GRAVITY: f32 = 9.806_65;
