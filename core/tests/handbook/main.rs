//! Sums of the handbook against published values, against an `f64` reference, and for what must
//! hold of any numbers.
//!
//! Each published value has its source beside it, and how sure it is: "read" if its text was
//! seen, "worked out" if it follows from a formula that was, "from memory" otherwise.
#![allow(
    clippy::float_arithmetic,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing
)]

mod falling;
mod holding;
mod jars;
mod moving;
mod reference;
mod refusing;
mod standing;

/// Fails unless a value lies within this much of what is expected.
#[track_caller]
fn near(found: f32, expected: f64, give_or_take: f64) {
    let off = (f64::from(found) - expected).abs();
    assert!(
        off <= give_or_take,
        "{found} is not {expected}, give or take {give_or_take}"
    );
}
