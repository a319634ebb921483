//! A first look at a chest of four drawers: what is likely wrong, what to check next.
//!
//! ```sh
//! cargo run -p tellmark-core --example first_look               # rules that come along
//! cargo run -p tellmark-core --example first_look house.pack    # those of `tellmark build`
//! ```

use std::error::Error;
use std::io::Write;

use tellmark_core::survey::{Memory, PackBytes, Said, Survey};

/// Rules of an invented bench, small enough to be read whole (`tests/packs/v1`).
const RULES: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../tests/packs/v1/further.pack"
);

/// Looks over a chest under these rules, and writes down what follows.
pub fn first_look(rules: &[u8], out: &mut dyn Write) -> Result<(), Box<dyn Error>> {
    let bytes: PackBytes = PackBytes::copy(rules)?;
    let mut memory: Memory = Memory::new();
    let counts = [("drawers", 4)];
    let mut chest = Survey::begin(bytes.open()?, &mut memory, "chest of drawers", &counts)?;
    chest.answer("drawer 2", "stiff", Said::Yes)?;
    chest.answer("left runner of drawer 2", "worn", Said::Measure("3 mm"))?;

    for fault in chest.likeliest()?.take(4) {
        writeln!(out, "{fault}")?;
    }
    match chest.next_check()? {
        Some(check) => writeln!(out, "Look next: {check}")?,
        None => writeln!(out, "Nothing that is left would change what to plan.")?,
    }
    Ok(())
}

fn main() -> Result<(), Box<dyn Error>> {
    let path = std::env::args().nth(1).unwrap_or_else(|| RULES.to_owned());
    first_look(&std::fs::read(path)?, &mut std::io::stdout())
}
