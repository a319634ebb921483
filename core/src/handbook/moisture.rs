//! How moist wood becomes in air that stays the same.
//!
//! Source: Forest Products Laboratory, *Wood Handbook*, FPL-GTR-190 (2010), chapter 4,
//! Eq. (4-5), the two-hydrate form of Hailwood and Horrobin with the constants of W. T.
//! Simpson, *Wood and Fiber* 5(1), 1973, 41-49. Confirmed: every cell of Table 4-2 comes out
//! within its rounding.

use super::{Quantity, Refused, Source};

/// Where the sums of this module come from.
pub const SOURCE: Source = Source::confirmed(
    "Forest Products Laboratory, Wood Handbook FPL-GTR-190 (2010), ch. 4, Eq. (4-5) and Table 4-2",
);

/// The coldest air that the sum takes, °C: the first row of the table is 30 °F.
pub const COLDEST: f32 = -1.2;
/// The warmest, °C. The handbook goes further, for kilns.
pub const WARMEST: f32 = 60.0;
/// By how much real wood may differ, in per cent of moisture: extractives, age and finish
/// (from memory).
pub const GIVE_OR_TAKE: f32 = 1.0;

/// The moisture content (% of dry mass) at which wood comes to rest in air of this
/// temperature and relative humidity (%).
///
/// # Errors
///
/// Outside [`COLDEST`] to [`WARMEST`], or outside 0 to 100 % of humidity.
pub fn equilibrium(celsius: f32, humidity: f32) -> Result<f32, Refused> {
    let t = Quantity::Temperature.within(celsius, COLDEST, WARMEST)?;
    let h = Quantity::Humidity.within(humidity, 0.0, 100.0)? / 100.0;
    Ok(two_hydrates(t, h))
}

/// The relative humidity (%) at which wood of this moisture content (%) neither takes up nor
/// gives off water: the inverse of [`equilibrium`].
///
/// # Errors
///
/// A temperature outside [`COLDEST`] to [`WARMEST`], or wood moister than it becomes in air
/// of 100 %.
pub fn humidity_for(celsius: f32, moisture: f32) -> Result<f32, Refused> {
    let t = Quantity::Temperature.within(celsius, COLDEST, WARMEST)?;
    let wanted = Quantity::Moisture.within(moisture, 0.0, two_hydrates(t, 1.0))?;
    let (mut low, mut high) = (0.0_f32, 1.0_f32);
    // Each step halves what is left; after thirty no `f32` lies between.
    for _ in 0..30 {
        let middle = (low + high) / 2.0;
        if two_hydrates(t, middle) < wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok((low + high) * 50.0)
}

/// Eq. (4-5); `h` is the humidity as a fraction.
fn two_hydrates(t: f32, h: f32) -> f32 {
    let w = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
    let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
    let kh = k * h;
    let hydrates = k1 * kh + 2.0 * k1 * k2 * kh * kh;
    1800.0 / w * (kh / (1.0 - kh) + hydrates / (1.0 + k1 * kh + k1 * k2 * kh * kh))
}
