//! What the tests of the whole share: random rules, enumerated worlds.

pub mod dice;
pub mod random;
pub mod worlds;
