//! Mutational fuzzing of everything that reads what it did not write itself.
//!
//! - [`targets`]: what is fuzzed, one function over bytes for each kind of input;
//! - [`mutate`]: how inputs are made from other inputs;
//! - [`case`]: one input, run under watch: panics, time, memory;
//! - [`campaign`]: many inputs, from a seed; inputs that do something new are kept;
//! - [`minimise`]: a shorter input that does the same harm;
//! - [`workers`]: each campaign in a process of its own, which may crash or hang;
//! - [`memory`]: counts the bytes that are allocated;
//! - [`coverage`]: which edges of the program were taken, where it was built to tell.

pub mod campaign;
pub mod case;
pub mod coverage;
pub mod memory;
pub mod minimise;
pub mod mutate;
pub mod targets;
pub mod workers;

#[global_allocator]
static MEMORY: memory::Counted = memory::Counted;
