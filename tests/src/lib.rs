//! What the tests of the whole share: random rules, enumerated worlds, what is
//! put to other libraries.

pub mod dice;
pub mod kinds;
pub mod likely;
pub mod oracle;
pub mod random;
pub mod said;
pub mod screen;
pub mod sum;
pub mod unit;
pub mod worlds;
