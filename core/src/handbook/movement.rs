//! How far a board or panel moves across the grain between two moistures, and what it means
//! if it is held.
//!
//! Source: Forest Products Laboratory, *Wood Handbook*, FPL-GTR-190 (2010), chapter 13,
//! Eq. (13-2) and (13-3). Confirmed by the handbook's own example of a board of white fir. The
//! handbook warns that boards are seldom purely flat-sawn or purely quartered: width is
//! over-estimated, thickness under-estimated. Along the grain wood hardly moves (0.1 to 0.2 %
//! from green to dry), and no sum is given for it.

use super::woods::{Movement, Wood};
use super::{Quantity, Refused, Source};

/// Where the sums of this module come from.
pub const SOURCE: Source = Source::confirmed(
    "Forest Products Laboratory, Wood Handbook FPL-GTR-190 (2010), ch. 13, Eq. (13-2) and (13-3)",
);
/// Where the marks of strain come from.
pub const STRAIN_SOURCE: Source =
    Source::remembered("R. B. Hoadley, Understanding Wood (2000), strain across the grain");

/// Moisture above which wood no longer swells, %.
pub const SATURATED: f32 = 30.0;
/// Between these moistures (%) a coefficient may be used.
pub const BY_COEFFICIENT: (f32, f32) = (6.0, 14.0);
/// The widest board or panel, mm.
const WIDEST: f32 = 5000.0;

/// How a board was cut from the log, and so which way it moves across its face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cut {
    /// Flat-sawn: rings run along the face, and it moves as along the rings (tangentially).
    Flat,
    /// Quartered: rings stand upright on the face, and it moves as across the rings (radially).
    Quarter,
    /// Between the two, or not known: anything from quartered to flat.
    Unknown,
}

/// A change that lies somewhere between two ends, with the smaller amount first. Of a change
/// that is known both are the same.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// The end nearer to nothing.
    pub least: f32,
    /// The end further from nothing.
    pub most: f32,
}

impl Span {
    /// A span of one value.
    #[must_use]
    pub const fn of(value: f32) -> Self {
        Self {
            least: value,
            most: value,
        }
    }

    /// Widened so that it takes in the other. Both are changes the same way.
    #[must_use]
    fn and(self, other: Self) -> Self {
        let nearer = if other.least.abs() < self.least.abs() {
            other.least
        } else {
            self.least
        };
        let further = if other.most.abs() > self.most.abs() {
            other.most
        } else {
            self.most
        };
        Self {
            least: nearer,
            most: further,
        }
    }
}

/// The change of size for 1 % of moisture, as a fraction, that goes with a shrinkage from
/// green to oven-dry (%). It is Eq. (13-3) from 10 % of moisture, and gives Table 13-5 to
/// within one of its last places.
///
/// # Errors
///
/// A shrinkage outside 0.1 to 25 %.
pub fn coefficient_of(shrinkage: f32) -> Result<f32, Refused> {
    let s = Quantity::Shrinkage.within(shrinkage, 0.1, 25.0)?;
    Ok(1.0 / (3000.0 / s - 20.0))
}

/// Eq. (13-2): the change of a width (mm) between two moistures (%), by a coefficient.
///
/// # Errors
///
/// Moistures outside 6 to 14 %, a width outside 0 to 5,000 mm, a coefficient outside 0 to 0.01.
pub fn by_coefficient(width_mm: f32, coefficient: f32, from: f32, to: f32) -> Result<f32, Refused> {
    let width = Quantity::Width.within(width_mm, 0.0, WIDEST)?;
    let c = Quantity::Coefficient.within(coefficient, 0.0, 0.01)?;
    let (low, high) = BY_COEFFICIENT;
    let from = Quantity::Moisture.within(from, low, high)?;
    let to = Quantity::Moisture.within(to, low, high)?;
    Ok(width * c * (to - from))
}

/// Eq. (13-3): the change of a width (mm) between two moistures (%), by the shrinkage from
/// green to oven-dry (%).
///
/// # Errors
///
/// Moistures outside 0 to 30 %, a width outside 0 to 5,000 mm, a shrinkage outside 0.1 to 25 %.
pub fn by_shrinkage(width_mm: f32, shrinkage: f32, from: f32, to: f32) -> Result<f32, Refused> {
    let width = Quantity::Width.within(width_mm, 0.0, WIDEST)?;
    let s = Quantity::Shrinkage.within(shrinkage, 0.1, 25.0)?;
    let from = Quantity::Moisture.within(from, 0.0, SATURATED)?;
    let to = Quantity::Moisture.within(to, 0.0, SATURATED)?;
    Ok(width * (to - from) / (3000.0 / s - SATURATED + from))
}

/// The change of a width (mm) of this wood between two moistures (%): positive if it swells.
/// Where sources disagree, or the cut is not known, it is a range.
///
/// # Errors
///
/// Moistures outside 0 to 30 %, or a width outside 0 to 5,000 mm.
pub fn of_wood(wood: &Wood, cut: Cut, width_mm: f32, from: f32, to: f32) -> Result<Span, Refused> {
    let mut span = by_source(&wood.movement, cut, width_mm, from, to)?;
    for other in wood.movement_elsewhere {
        span = span.and(by_source(other, cut, width_mm, from, to)?);
    }
    Ok(span)
}

/// The change by one source: its coefficient where it prints one and that may be used, else
/// its shrinkage.
fn by_source(
    movement: &Movement,
    cut: Cut,
    width: f32,
    from: f32,
    to: f32,
) -> Result<Span, Refused> {
    let (low, high) = BY_COEFFICIENT;
    let may = |moisture: f32| moisture >= low && moisture <= high;
    let one_way = |shrinkage, printed: Option<f32>| match printed {
        Some(coefficient) if may(from) && may(to) => by_coefficient(width, coefficient, from, to),
        _ => by_shrinkage(width, shrinkage, from, to),
    };
    let printed = movement.coefficients;
    let flat = || one_way(movement.tangential, printed.map(|c| c.tangential));
    let quarter = || one_way(movement.radial, printed.map(|c| c.radial));
    Ok(match cut {
        Cut::Flat => Span::of(flat()?),
        Cut::Quarter => Span::of(quarter()?),
        Cut::Unknown => Span::of(quarter()?).and(Span::of(flat()?)),
    })
}

/// What becomes of a board that is held across the grain while it would move.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Held {
    /// Up to 0.5 %: within what wood gives and takes back.
    Gives,
    /// Over 0.5 %, shrinking: stressed, with joints and finish at risk.
    Stressed,
    /// Over 0.5 %, swelling: crushed in itself (compression set), so that it is short when dry.
    Crushed,
    /// Over 1.5 %, shrinking: a split is to be expected.
    Splits,
}

/// Strain (%) up to which wood across the grain goes back.
pub const ELASTIC: f32 = 0.5;
/// Strain (%) at which wood is torn across the grain.
pub const TEARS: f32 = 1.5;

/// What a strain (%) comes to in a board that is held: negative where it would have shrunk.
///
/// Source: [`STRAIN_SOURCE`]. Loose tongues, slotted screws and hide glue that gives all make
/// it less; a strain held for years makes it worse.
#[must_use]
pub fn held(strain: f32) -> Held {
    if strain.abs() <= ELASTIC {
        Held::Gives
    } else if strain > 0.0 {
        Held::Crushed
    } else if strain < -TEARS {
        Held::Splits
    } else {
        Held::Stressed
    }
}

/// The strain (%) in a board of this wood that is held while it would move; negative where it
/// would have shrunk.
///
/// # Errors
///
/// Moistures outside 0 to 30 %.
pub fn strain(wood: &Wood, cut: Cut, from: f32, to: f32) -> Result<Span, Refused> {
    of_wood(wood, cut, 100.0, from, to)
}
