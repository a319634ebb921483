//! How far a shelf sags.

use crate::shown::{length, lengths, plain};
use crate::trouble::Trouble;
use crate::unit::Dimension;
use crate::worked::Worked;
use crate::{named, quantity};
use tellmark_core::handbook::GRAVITY;
use tellmark_core::handbook::shelf::{self, EYE, Ends, Shelf, after_years};

pub(crate) const CAUTION: &str = "It is for clear, dry wood without knots or joints; damp and warmth make it \
                       creep more. Housings that give way fail before the board does: look at the \
                       ends. Nothing breakable below until it has proved itself.";

/// A shelf as it was asked about.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// Free length between its bearers.
    pub span: &'a str,
    /// From front to back.
    pub width: &'a str,
    /// How thick it is.
    pub thickness: &'a str,
    /// Its wood.
    pub wood: &'a str,
    /// What lies on it: along it ("20 kg/m") or in all ("18 kg").
    pub load: &'a str,
    /// "resting", "fixed" or "one end"; resting if not said.
    pub ends: Option<&'a str>,
}

/// The sum.
///
/// # Errors
///
/// What cannot be read, or is outside the sum.
pub fn worked(asked: Asked<'_>) -> Result<Worked, Trouble> {
    let span = quantity::read("the span", asked.span, Dimension::Length)?;
    let width = quantity::read("the width", asked.width, Dimension::Length)?;
    let thickness = quantity::read("the thickness", asked.thickness, Dimension::Length)?;
    let wood = named::wood(asked.wood)?;
    let strength = named::strength(wood)?;
    let choices = [
        ("resting", Ends::Resting),
        ("fixed", Ends::Fixed),
        ("one end", Ends::OneEnd),
    ];
    let ends = asked.ends.unwrap_or("resting").replace('-', " ");
    let ends = named::one_of("way to hold a shelf", &ends, &choices)?;
    let board = Shelf::new(span, width, thickness, strength.stiffness, ends)?;
    let per_metre = along(asked.load, span)?;
    let books = per_metre * GRAVITY / 1000.0;
    let own = board.own_load(strength.density())?;
    let sag = board.sag(books + own)?;
    let (soon, late) = after_years(sag);
    let ratio = span / sag.max(f32::MIN_POSITIVE);
    let seen = match span / late.max(f32::MIN_POSITIVE) < EYE {
        true => "the eye will notice",
        false => "the eye will not notice",
    };
    let answer = format!(
        "The shelf sags by {} at once and by {} after years, which {seen}.",
        length(sag),
        lengths(soon, late)
    );
    let mut worked = Worked::new("shelf", answer, CAUTION);
    worked.step(format!(
        "{} kg/m on it and {} kg/m of its own: {:.3} N/mm.",
        plain(per_metre),
        plain(own * 1000.0 / GRAVITY),
        books + own
    ));
    worked.step(format!(
        "Eq. (9-2), bending, with {} MPa: {sag:.2} mm, one in {} of the span.",
        strength.stiffness,
        plain(ratio)
    ));
    if ends == Ends::Resting {
        worked.step(format!(
            "Shear adds {:.3} mm, which is left out.",
            board.shear_sag(books + own)?
        ));
    }
    worked.step(format!(
        "Creep: {} times that in a steady house, twice by the handbook.",
        shelf::CREEP.0
    ));
    worked.step(format!(
        "Largest stress: {} MPa.",
        plain(board.stress(books + own)?)
    ));
    let thick = board.thickness_for(books + own, EYE * shelf::CREEP.1)?;
    worked.step(format!(
        "To stay below one in {EYE} after years it would be {} thick.",
        length(thick)
    ));
    if let Some(stand_in) = named::stand_in(wood, &strength) {
        worked.step(format!("{stand_in}."));
    }
    worked.from(shelf::SOURCE);
    worked.from(strength.source);
    worked.figure("sag", sag, "mm");
    worked.figure("sag after years least", soon, "mm");
    worked.figure("sag after years most", late, "mm");
    worked.figure("thickness not to be noticed", thick, "mm");
    Ok(worked)
}

/// In kg/m: said so, or a weight spread over the span.
fn along(load: &str, span: f32) -> Result<f32, Trouble> {
    match quantity::read("the load", load, Dimension::Along) {
        Err(Trouble::Other {
            found: Dimension::Mass,
            ..
        }) => {
            let kg = quantity::read("the load", load, Dimension::Mass)?;
            Ok(kg / span * 1000.0)
        }
        other => other,
    }
}
