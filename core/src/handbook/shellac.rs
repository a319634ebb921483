//! Shellac by the cut: how much flake, and letting polish down.
//!
//! A cut of one pound is one pound of flake to a US gallon *of alcohol* (NIST Handbook 44 has
//! both units; confirmed by converting). Who measures made-up polish instead has less flake in a
//! litre, since the flake takes up room: both bases are here, and a sum says which it is on.

use super::{Quantity, Refused, Source};

/// Where the sums of this module come from.
pub const SOURCE: Source = Source::confirmed(
    "Conversion of pounds to the US gallon of alcohol (NIST Handbook 44, Appendix C)",
);

/// Grams to the litre of alcohol in a cut of one pound: 453.59237 / 3.785411784.
pub const GRAMS_PER_LITRE: f32 = 119.826_43;
/// The same if a UK gallon were meant, which a cut never does.
pub const GRAMS_PER_LITRE_UK: f32 = 99.776_37;
/// Density of shellac, kg/L: least and most (from memory).
pub const DENSITY: (f32, f32) = (1.14, 1.20);
/// Density of ethanol, kg/L, at 20 °C.
pub const ETHANOL: f32 = 0.789;

/// What a volume is measured of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// The alcohol, before the flake goes in.
    Alcohol,
    /// Polish as it is made up.
    Polish,
}

/// A cut of more than nothing, and up to 10 lb.
fn cut(pounds: f32) -> Result<f32, Refused> {
    Quantity::Cut.within(pounds, 0.05, 10.0)
}

fn volume(ml: f32) -> Result<f32, Refused> {
    Quantity::Volume.within(ml, 0.0, 100_000.0)
}

/// Grams of flake to the litre of alcohol in a cut (lb).
///
/// # Errors
///
/// A cut outside 0.05 to 10 lb.
pub fn grams_per_litre(pounds: f32) -> Result<f32, Refused> {
    Ok(cut(pounds)? * GRAMS_PER_LITRE)
}

/// The cut (lb) of so many grams to the litre of alcohol.
///
/// # Errors
///
/// What would be a cut outside 0.05 to 10 lb.
pub fn cut_of(grams_per_litre: f32) -> Result<f32, Refused> {
    cut(grams_per_litre / GRAMS_PER_LITRE)
}

/// Litres of polish that a litre of alcohol makes at this cut: least and most, by the density
/// of the shellac.
///
/// # Errors
///
/// A cut outside 0.05 to 10 lb.
pub fn swells_to(pounds: f32) -> Result<(f32, f32), Refused> {
    let kg_per_litre = grams_per_litre(pounds)? / 1_000.0;
    Ok((
        1.0 + kg_per_litre / DENSITY.1,
        1.0 + kg_per_litre / DENSITY.0,
    ))
}

/// Grams of flake for a volume (mL) at a cut (lb): least and most, which on the basis of
/// alcohol are the same.
///
/// # Errors
///
/// A cut outside 0.05 to 10 lb, a volume outside 0 to 100 L.
pub fn flake_for(pounds: f32, ml: f32, basis: Basis) -> Result<(f32, f32), Refused> {
    let of_alcohol = grams_per_litre(pounds)? * volume(ml)? / 1_000.0;
    Ok(match basis {
        Basis::Alcohol => (of_alcohol, of_alcohol),
        Basis::Polish => {
            let (least, most) = swells_to(pounds)?;
            (of_alcohol / most, of_alcohol / least)
        }
    })
}

/// Alcohol (mL) to add so that polish of one cut (lb) comes down to another: least and most.
///
/// # Errors
///
/// A cut outside 0.05 to 10 lb, one that is to become stronger, a volume outside 0 to 100 L.
pub fn let_down(ml: f32, from: f32, to: f32, basis: Basis) -> Result<(f32, f32), Refused> {
    let from = cut(from)?;
    let to = Quantity::Cut.within(to, 0.05, from)?;
    let add = volume(ml)? * (from / to - 1.0);
    Ok(match basis {
        Basis::Alcohol => (add, add),
        Basis::Polish => {
            let (least, most) = swells_to(from)?;
            (add / most, add / least)
        }
    })
}

/// Flake in polish of this cut (lb) with ethanol, % by weight.
///
/// # Errors
///
/// A cut outside 0.05 to 10 lb.
pub fn by_weight(pounds: f32) -> Result<f32, Refused> {
    let flake = grams_per_litre(pounds)?;
    Ok(flake / (flake + ETHANOL * 1_000.0) * 100.0)
}

/// What a litre of polish covers in one coat, m²: least and most (common practice, from
/// memory: 300 to 500 square feet to the US gallon).
pub const COVERS: (f32, f32) = (7.36, 12.27);
