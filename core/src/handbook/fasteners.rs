//! What screws and nails hold, drawn straight out and pushed sideways.
//!
//! Source: Forest Products Laboratory, *Wood Handbook*, FPL-GTR-190 (2010), chapter 8,
//! Eq. (8-1), (8-2), (8-10), (8-11) and Table 8-4. Confirmed: the metric constants are the
//! inch-pound ones converted. The loads are for sound, clear, seasoned wood, with the right lead
//! hole. Worm, rot and holes that were used before make the density of the wood mean nothing;
//! for those there is the factor of [`Soundness`].

use super::woods::Grain;
use super::{Quantity, Refused, Source};

/// Where the sums of this module come from.
pub const SOURCE: Source = Source::confirmed(
    "Forest Products Laboratory, Wood Handbook FPL-GTR-190 (2010), ch. 8, Eq. (8-1), (8-2), \
     (8-10), (8-11) and Table 8-4",
);

/// A load at which a screw or nail comes out, divided by this, may be relied on (common
/// practice; the American National Design Specification divides by 5.5).
pub const SAFETY: f32 = 5.0;
/// Of what a screw holds in side grain, it holds so much in end grain, and erratically.
pub const SCREW_END_GRAIN: f32 = 0.75;
/// The same of a nail: the lower end of what the handbook gives, half to three quarters.
pub const NAIL_END_GRAIN: f32 = 0.5;
/// Lead hole for a screw, as a share of the root of its thread: in softwood and in hardwood.
pub const LEAD_HOLE: (f32, f32) = (0.7, 0.9);

/// How sound the wood is round a fastener: what is left of the load (common practice, set by
/// the restorer).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Soundness(f32);

impl Soundness {
    /// Sound wood: 1.
    pub const SOUND: Self = Self(1.0);
    /// Suspect: old worm, a hole used before. Half.
    pub const SUSPECT: Self = Self(0.5);
    /// Stripped: nothing is left.
    pub const STRIPPED: Self = Self(0.0);

    /// Any share.
    ///
    /// # Errors
    ///
    /// Outside 0 to 1.
    pub fn of(share: f32) -> Result<Self, Refused> {
        Ok(Self(Quantity::Soundness.within(share, 0.0, 1.0)?))
    }

    /// As a share of what sound wood holds.
    #[must_use]
    pub const fn share(self) -> f32 {
        self.0
    }
}

/// Diameter (mm) of the shank of a wood screw of this gauge: 0.060 + 0.013 N inches.
///
/// # Errors
///
/// A gauge outside 0 to 24.
pub fn gauge_mm(gauge: f32) -> Result<f32, Refused> {
    let gauge = Quantity::Gauge.within(gauge, 0.0, 24.0)?;
    Ok((0.060 + 0.013 * gauge) * 25.4)
}

/// Load (N) at which a wood screw is drawn out of the side grain: Eq. (8-10). `thread_mm` is
/// the threaded part that is in the wood. The screw itself may break first.
///
/// # Errors
///
/// A gravity outside 0.2 to 1.2, a diameter outside 1 to 12 mm, a thread outside 0 to 150 mm.
pub fn screw_withdrawal(
    gravity: f32,
    shank_mm: f32,
    thread_mm: f32,
    soundness: Soundness,
) -> Result<f32, Refused> {
    let (g, d) = (dense(gravity)?, diameter(shank_mm)?);
    let length = Quantity::Hold.within(thread_mm, 0.0, 150.0)?;
    Ok(108.25 * g * g * d * length * soundness.0)
}

/// Load (N) at which a bright, smooth wire nail is drawn out of the side grain: Eq. (8-1). It
/// is not for wrought or cut nails; old and re-driven ones hold less.
///
/// # Errors
///
/// A gravity outside 0.2 to 1.2, a diameter outside 1 to 12 mm, a length outside 0 to 150 mm.
pub fn nail_withdrawal(
    gravity: f32,
    diameter_mm: f32,
    length_mm: f32,
    soundness: Soundness,
) -> Result<f32, Refused> {
    let (g, d) = (dense(gravity)?, diameter(diameter_mm)?);
    let length = Quantity::Hold.within(length_mm, 0.0, 150.0)?;
    Ok(54.12 * g * g * libm::sqrtf(g) * d * length * soundness.0)
}

/// Sideways load (N) at which a wood screw gives about 0.25 mm: Eq. (8-11), K·D². It needs 7
/// diameters in the wood; with less, down to 4, it is less in proportion.
///
/// # Errors
///
/// A gravity below that of the table or over 1.2, a diameter outside 1 to 12 mm, fewer than 4
/// diameters in the wood.
pub fn screw_lateral(
    grain: Grain,
    gravity: f32,
    shank_mm: f32,
    in_wood_mm: f32,
    soundness: Soundness,
) -> Result<f32, Refused> {
    let (k, _) = factors(grain, gravity)?;
    let d = diameter(shank_mm)?;
    let length = Quantity::Hold.within(in_wood_mm, 4.0 * d, 200.0)?;
    let full = 7.0 * d;
    let share = if length < full { length / full } else { 1.0 };
    Ok(k * d * d * share * soundness.0)
}

/// Sideways load (N) at which a wire nail gives about 0.25 mm: Eq. (8-2), K·D^1.5. It needs
/// 10 diameters in the densest woods, 14 in all others.
///
/// # Errors
///
/// A gravity below that of the table or over 1.2, a diameter outside 1 to 12 mm, too little of
/// it in the wood.
pub fn nail_lateral(
    grain: Grain,
    gravity: f32,
    diameter_mm: f32,
    in_wood_mm: f32,
    soundness: Soundness,
) -> Result<f32, Refused> {
    let (_, k) = factors(grain, gravity)?;
    let d = diameter(diameter_mm)?;
    let diameters = if gravity >= DENSEST { 10.0 } else { 14.0 };
    Quantity::Hold.within(in_wood_mm, diameters * d, 200.0)?;
    Ok(k * d * libm::sqrtf(d) * soundness.0)
}

/// What may be relied on, of a load at which it comes out.
#[must_use]
pub fn safe(ultimate: f32) -> f32 {
    ultimate / SAFETY
}

fn dense(gravity: f32) -> Result<f32, Refused> {
    Quantity::Gravity.within(gravity, 0.2, 1.2)
}

fn diameter(mm: f32) -> Result<f32, Refused> {
    Quantity::Diameter.within(mm, 1.0, 12.0)
}

/// Where the densest class of hardwoods begins.
const DENSEST: f32 = 0.57;

/// K of Table 8-4 for screws and for nails, metric. The table prints classes to two places and
/// ends at 0.74 (hardwoods) and 0.52 (softwoods); denser wood is taken as its densest class,
/// which errs on the safe side.
fn factors(grain: Grain, gravity: f32) -> Result<(f32, f32), Refused> {
    let lowest = match grain {
        Grain::Hard => 0.325,
        Grain::Soft => 0.285,
    };
    let g = Quantity::Gravity.within(gravity, lowest, 1.2)?;
    Ok(match grain {
        Grain::Hard if g < 0.475 => (23.17, 50.04),
        Grain::Hard if g < 0.565 => (31.99, 69.50),
        Grain::Hard => (44.13, 94.52),
        Grain::Soft if g < 0.425 => (23.17, 50.04),
        Grain::Soft if g < 0.475 => (29.79, 62.55),
        Grain::Soft => (36.40, 76.45),
    })
}
