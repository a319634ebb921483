//! How much flake for a cut, and letting polish down.

use crate::quantity;
use crate::shown::{plain, span};
use crate::trouble::Trouble;
use crate::unit::Dimension;
use crate::worked::Worked;
use tellmark_core::handbook::shellac::{self, Basis, COVERS, flake_for, let_down};

const CAUTION: &str = "Alcohol takes fire at room temperature: fresh air, no flame or spark, and a \
                       closed tin for the rags. Made-up polish lasts six to twelve months: try old \
                       polish on glass first.";

/// A volume, and what it is of.
#[derive(Clone, Copy, Debug)]
pub enum Of<'a> {
    /// The alcohol, before the flake goes in.
    Alcohol(&'a str),
    /// Polish as it is made up.
    Polish(&'a str),
}

impl Of<'_> {
    fn read(self) -> Result<(f32, Basis, &'static str), Trouble> {
        Ok(match self {
            Of::Alcohol(volume) => (
                quantity::read("the alcohol", volume, Dimension::Volume)?,
                Basis::Alcohol,
                "alcohol",
            ),
            Of::Polish(volume) => (
                quantity::read("the polish", volume, Dimension::Volume)?,
                Basis::Polish,
                "made-up polish",
            ),
        })
    }
}

/// Flake for a cut.
///
/// # Errors
///
/// What cannot be read, or is outside the sum.
pub fn flake(cut: &str, of: Of<'_>) -> Result<Worked, Trouble> {
    let pounds = quantity::cut(cut)?;
    let (ml, basis, what) = of.read()?;
    let (least, most) = flake_for(pounds, ml, basis)?;
    let answer = format!(
        "A {} lb cut takes {} g of flake for {} ml of {what}.",
        plain(pounds),
        span(least, most),
        plain(ml)
    );
    let mut worked = Worked::new("shellac", answer, CAUTION);
    worked.step(format!(
        "One pound to the US gallon of alcohol is {:.2} g to the litre of alcohol; {} lb are {} g/l.",
        shellac::GRAMS_PER_LITRE,
        plain(pounds),
        plain(shellac::grams_per_litre(pounds)?)
    ));
    on_basis(&mut worked, pounds, basis)?;
    worked.step(format!(
        "{} % of it is flake by weight, with ethanol; a litre covers {} to {} m² a coat (from memory).",
        plain(shellac::by_weight(pounds)?),
        plain(COVERS.0),
        plain(COVERS.1)
    ));
    worked.from(shellac::SOURCE);
    worked.figure("cut", pounds, "lb");
    worked.figure("flake least", least, "g");
    worked.figure("flake most", most, "g");
    Ok(worked)
}

/// Alcohol that lets polish down from one cut to another.
///
/// # Errors
///
/// What cannot be read, or is outside the sum.
pub fn down(from: &str, to: &str, of: Of<'_>) -> Result<Worked, Trouble> {
    let (from, to) = (quantity::cut(from)?, quantity::cut(to)?);
    let (ml, basis, what) = of.read()?;
    let (least, most) = let_down(ml, from, to, basis)?;
    let answer = format!(
        "To let {} ml of {what} at {} lb down to {} lb, add {} ml of alcohol.",
        plain(ml),
        plain(from),
        plain(to),
        span(least, most)
    );
    let mut worked = Worked::new("shellac", answer, CAUTION);
    worked.step(format!("Alcohol × ({} / {} − 1).", plain(from), plain(to)));
    on_basis(&mut worked, from, basis)?;
    worked.from(shellac::SOURCE);
    worked.figure("add least", least, "ml");
    worked.figure("add most", most, "ml");
    Ok(worked)
}

fn on_basis(worked: &mut Worked, pounds: f32, basis: Basis) -> Result<(), Trouble> {
    let (least, most) = shellac::swells_to(pounds)?;
    worked.step(match basis {
        Basis::Alcohol => format!(
            "On the basis of alcohol: a litre of it makes {least:.2} to {most:.2} l of polish at this \
             cut."
        ),
        Basis::Polish => format!(
            "On the basis of made-up polish: {least:.2} to {most:.2} l of it hold a litre of alcohol, \
             by flake of {} to {} kg/l (from memory).",
            shellac::DENSITY.0,
            shellac::DENSITY.1
        ),
    });
    Ok(())
}
