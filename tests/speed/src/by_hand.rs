//! The rules of the comparison written in Rust; see `build.rs`.

use tellmark_core::truth::Truth;

include!(concat!(env!("OUT_DIR"), "/by_hand.rs"));
