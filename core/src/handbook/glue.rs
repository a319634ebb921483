//! Hot hide glue: how much water, and how hot.
//!
//! Common practice. The water and the heat of the pot were read as well (confirmed); where glue
//! gels is from memory.

use super::{Quantity, Refused, Source};

/// Where the sums of this module come from.
pub const SOURCE: Source = Source::confirmed(
    "Common practice: 1.8 to 2 of water to 1 of glue by weight, pot at 60 to 63 °C",
);

/// Water to one of dry glue, by weight, for joints: least and most.
pub const FOR_JOINTS: (f32, f32) = (1.8, 2.0);
/// The same for a size coat.
pub const FOR_SIZE: f32 = 10.0;
/// Heat of the pot, °C: least and most.
pub const POT: (f32, f32) = (60.0, 63.0);
/// Above this, °C, glue is weakened.
pub const WEAKENS: f32 = 65.0;
/// Where glue gels, °C: least and most (from memory; it goes by its grade).
pub const GELS: (f32, f32) = (30.0, 35.0);

/// A batch of glue.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Batch {
    /// Dry glue, g.
    pub glue: f32,
    /// Water, g (or mL).
    pub water: f32,
    /// Glue in all of it, % by weight.
    pub solids: f32,
}

/// A batch of so much dry glue (g), with so much water to one of glue.
///
/// # Errors
///
/// Glue outside 1 to 20,000 g, water outside 0.5 to 20 to one.
pub fn batch(glue_g: f32, water_ratio: f32) -> Result<Batch, Refused> {
    let glue = Quantity::GlueMass.within(glue_g, 1.0, 20_000.0)?;
    let ratio = Quantity::WaterRatio.within(water_ratio, 0.5, 20.0)?;
    Ok(Batch {
        glue,
        water: glue * ratio,
        solids: 100.0 / (1.0 + ratio),
    })
}

/// The batch that comes to so much in all (g).
///
/// # Errors
///
/// As [`batch`].
pub fn batch_of(all_g: f32, water_ratio: f32) -> Result<Batch, Refused> {
    let ratio = Quantity::WaterRatio.within(water_ratio, 0.5, 20.0)?;
    batch(all_g / (1.0 + ratio), ratio)
}

/// What glue is like at a heat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pot {
    /// It gels.
    Gels,
    /// It runs, but too thick to wet the wood well.
    Thick,
    /// It is right.
    Right,
    /// Hotter than need be; look to it.
    Hot,
    /// It loses strength by the hour.
    Spoils,
}

/// What glue is like at this heat (°C).
///
/// # Errors
///
/// Outside 0 to 100 °C.
pub fn pot(celsius: f32) -> Result<Pot, Refused> {
    let celsius = Quantity::Temperature.within(celsius, 0.0, 100.0)?;
    Ok(if celsius <= GELS.1 {
        Pot::Gels
    } else if celsius < POT.0 {
        Pot::Thick
    } else if celsius <= POT.1 {
        Pot::Right
    } else if celsius <= WEAKENS {
        Pot::Hot
    } else {
        Pot::Spoils
    })
}
