//! Why a sum is refused.

use super::fall::NoStop;
use core::error::Error;
use core::fmt;

/// What a number given to a sum is a number of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Temperature, °C.
    Temperature,
    /// Relative humidity, %.
    Humidity,
    /// Moisture content of wood, % of its dry mass.
    Moisture,
    /// Width of a board or panel, mm.
    Width,
    /// Shrinkage from green to oven-dry, %.
    Shrinkage,
    /// Change of size for 1 % of moisture, as a fraction.
    Coefficient,
    /// Specific gravity.
    Gravity,
    /// Number of a wood-screw gauge.
    Gauge,
    /// Diameter of a screw or nail, mm.
    Diameter,
    /// Length of a thread or nail in the wood, mm.
    Hold,
    /// Soundness of the wood round a fastener, 0 to 1.
    Soundness,
    /// A number of screws or hinges.
    Count,
    /// A force, N.
    Force,
    /// A distance, mm.
    Distance,
    /// How far below the pin a fall butts, mm.
    PushDepth,
    /// Thickness of a board, mm.
    Thickness,
    /// How far below the top of a leaf a screw sits, mm.
    ScrewDepth,
    /// Free span of a shelf, mm.
    Span,
    /// Modulus of elasticity, MPa.
    Stiffness,
    /// Load along a shelf, N/mm.
    LineLoad,
    /// A length divided by a sag.
    SpanRatio,
    /// A mass, kg.
    Mass,
    /// Density, kg/m³.
    Density,
    /// How far something stands behind the front feet, mm.
    Behind,
    /// A height, mm.
    Height,
    /// A turning moment, N·m.
    Moment,
    /// Parts of a mixture, by volume.
    Parts,
    /// Fractional parameter for dispersion, %.
    Dispersion,
    /// A Hansen parameter, MPa^½.
    Hansen,
    /// A shellac cut, pounds to the US gallon.
    Cut,
    /// A volume, mL.
    Volume,
    /// Mass of glue, g.
    GlueMass,
    /// Water to one of dry glue, by weight.
    WaterRatio,
    /// Dust in the air, mg/m³.
    Dust,
    /// A time, h.
    Hours,
}

impl Quantity {
    /// What it is called, with its article.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Quantity::Temperature => "the temperature",
            Quantity::Humidity => "the relative humidity",
            Quantity::Moisture => "the moisture content",
            Quantity::Width => "the width",
            Quantity::Shrinkage => "the shrinkage",
            Quantity::Coefficient => "the coefficient of movement",
            Quantity::Gravity => "the specific gravity",
            Quantity::Gauge => "the screw gauge",
            Quantity::Diameter => "the diameter",
            Quantity::Hold => "the length in the wood",
            Quantity::Soundness => "the soundness",
            Quantity::Count => "the number",
            Quantity::Force => "the force",
            Quantity::Distance => "the distance",
            Quantity::PushDepth => "the depth at which the fall butts",
            Quantity::Thickness => "the thickness",
            Quantity::ScrewDepth => "the depth of the screws in the leaf",
            Quantity::Span => "the span",
            Quantity::Stiffness => "the stiffness",
            Quantity::LineLoad => "the load along the shelf",
            Quantity::SpanRatio => "the span for one of sag",
            Quantity::Mass => "the mass",
            Quantity::Density => "the density",
            Quantity::Behind => "the distance behind the front feet",
            Quantity::Height => "the height",
            Quantity::Moment => "the moment",
            Quantity::Parts => "the parts",
            Quantity::Dispersion => "the dispersion parameter",
            Quantity::Hansen => "the Hansen parameter",
            Quantity::Cut => "the cut",
            Quantity::Volume => "the volume",
            Quantity::GlueMass => "the weight of glue",
            Quantity::WaterRatio => "the water to one of glue",
            Quantity::Dust => "the dust in the air",
            Quantity::Hours => "the time",
        }
    }

    /// The unit that sums take it in; empty for a bare number.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Quantity::Temperature => "°C",
            Quantity::Humidity
            | Quantity::Moisture
            | Quantity::Shrinkage
            | Quantity::Dispersion => "%",
            Quantity::Width
            | Quantity::Diameter
            | Quantity::Hold
            | Quantity::Distance
            | Quantity::PushDepth
            | Quantity::Thickness
            | Quantity::ScrewDepth
            | Quantity::Span
            | Quantity::Behind
            | Quantity::Height => "mm",
            Quantity::Force => "N",
            Quantity::Stiffness => "MPa",
            Quantity::LineLoad => "N/mm",
            Quantity::Mass => "kg",
            Quantity::Density => "kg/m³",
            Quantity::Moment => "N·m",
            Quantity::Hansen => "MPa^½",
            Quantity::Cut => "lb",
            Quantity::Volume => "ml",
            Quantity::GlueMass => "g",
            Quantity::Dust => "mg/m³",
            Quantity::Hours => "h",
            Quantity::Coefficient
            | Quantity::Gravity
            | Quantity::Gauge
            | Quantity::Soundness
            | Quantity::Count
            | Quantity::SpanRatio
            | Quantity::Parts
            | Quantity::WaterRatio => "",
        }
    }

    /// The value, if it lies within these ends.
    pub(super) fn within(self, value: f32, lowest: f32, highest: f32) -> Result<f32, Refused> {
        // Written so that what is not a number is outside.
        if value >= lowest && value <= highest {
            return Ok(value);
        }
        Err(Refused::Outside {
            quantity: self,
            value,
            lowest,
            highest,
        })
    }
}

/// Why a sum is refused.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Refused {
    /// A number outside the range in which the sum holds.
    Outside {
        /// What it is a number of.
        quantity: Quantity,
        /// What was given, in the unit of the quantity.
        value: f32,
        /// The lowest that the sum takes.
        lowest: f32,
        /// The highest that the sum takes.
        highest: f32,
    },
    /// A joint that takes no turning moment, so that nothing but a support holds what hangs
    /// on it: there is no equilibrium, and no load to work out.
    NoEquilibrium(NoStop),
    /// A mixture of nothing, or of more than the sum takes.
    NothingMixed,
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refused::Outside {
                quantity,
                value,
                lowest,
                highest,
            } => {
                let unit = quantity.unit();
                let space = if unit.is_empty() { "" } else { " " };
                write!(
                    f,
                    "{} is {value}{space}{unit}, and the sum holds from {lowest} to \
                     {highest}{space}{unit}",
                    quantity.name()
                )
            }
            Refused::NoEquilibrium(joint) => write!(
                f,
                "{} has no stop below its pin, so nothing but its support holds it level: \
                 without one it falls, and there is no load to work out",
                joint.name()
            ),
            Refused::NothingMixed => f.write_str("all the parts of the mixture are nothing"),
        }
    }
}

impl Error for Refused {}
