//! When a chest and its two drawers were made, from what was found on them: the
//! dating by itself, without a pack.
//!
//! ```sh
//! cargo run -p tellmark-core --example dates_alone
//! ```

use std::error::Error;
use std::io::Write;

use tellmark_core::dating::{Dates, Evidence, first_year};
use tellmark_core::number::{Number, UFloat};
use tellmark_core::pack::{Bound, NONE};
use tellmark_core::piece::Part;
use tellmark_core::words::{Hundredths, sureness};

/// The year until which things may have been made.
const NOW: u16 = 2026;

/// Dates the chest, and writes down what follows.
pub fn dates_alone(out: &mut dyn Write) -> Result<(), Box<dyn Error>> {
    let drawer = Part::default();
    let chest = Part {
        owner: NONE,
        first_child: 1,
        children: 2,
        ..drawer
    };
    let parts = [chest, drawer, drawer];
    // Findings are made up here. Strength: 0 weak, 1 fair, 2 strong.
    let found = |finding, part, bound, strength| Evidence {
        part,
        finding,
        bound,
        strength,
    };
    let evidence = [
        found(0, 0, Bound::Usually(1760, 1800), 2),
        found(1, 1, Bound::NotLater(1830), 1),
        found(2, 2, Bound::NotEarlier(1890), 2),
    ];
    let mut numbers = vec![UFloat::ZERO; Dates::<UFloat>::need(parts.len(), NOW)];
    let dates = Dates::new(&parts, &evidence, &[], NOW, &mut numbers)
        .map_err(|few| format!("{} numbers are needed", few.numbers))?;

    let decades = (0..dates.decades()).filter_map(|d| Some((dates.made_in(0, d)?, d)));
    let (chance, decade) = decades.max().ok_or("there are decades")?;
    let chance = Hundredths(chance);
    writeln!(out, "The chest: {}s ({chance})", first_year(decade))?;
    for drawer in [1, 2] {
        let original = dates.original(drawer).ok_or("no such drawer")?;
        let (word, chance) = (sureness(original), Hundredths(original));
        writeln!(out, "Drawer {drawer}: {word} original ({chance})")?;
    }
    Ok(())
}

fn main() -> Result<(), Box<dyn Error>> {
    dates_alone(&mut std::io::stdout())
}
