//! Evaluates a house's compiled rules over a piece of furniture.
#![no_std]
#![forbid(unsafe_code)]
