//! The rule language: plain sentences in, a [`crate::model::Model`] and messages out.

pub mod span;
