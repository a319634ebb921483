//! When a piece of furniture tips forward, and what pull does it.
//!
//! Statics (confirmed): moments about the line of the front feet. The published tests that are
//! named are for new furniture, and only benchmarks for old pieces. Whatever a sum says: fix
//! tall pieces and pieces with drawers to the wall where children live or visit.

use super::{GRAVITY, Quantity, Refused, Source};

/// Where the sums of this module come from.
pub const SOURCE: Source = Source::confirmed(
    "Statics: moments about the line of the front feet; the child of 27.2 \
     kg: ASTM F2057-23",
);

/// Mass of the child in ASTM F2057-23: 60 lb, in kg.
pub const CHILD: f32 = 27.2;
/// Height (mm) from which a piece with drawers is to be restrained (common practice).
pub const RESTRAIN_FROM: f32 = 600.0;

/// A part of the piece, or what is in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mass {
    /// kg.
    pub kg: f32,
    /// How far behind the front feet it is, mm; less than nothing in front of them.
    pub behind_mm: f32,
}

impl Mass {
    /// A drawer with what is in it, pulled out so far (mm).
    #[must_use]
    pub fn pulled_out(self, by_mm: f32) -> Self {
        Self {
            behind_mm: self.behind_mm - by_mm,
            ..self
        }
    }
}

/// What holds a piece back: the moment (N·m) of all its parts about the front feet. It tips by
/// itself where this is nothing or less.
///
/// # Errors
///
/// A mass outside 0 to 1,000 kg, or further from the front feet than 2,000 mm.
pub fn moment(masses: impl IntoIterator<Item = Mass>) -> Result<f32, Refused> {
    let mut all = 0.0;
    for mass in masses {
        let kg = Quantity::Mass.within(mass.kg, 0.0, 1_000.0)?;
        let behind = Quantity::Behind.within(mass.behind_mm, -2_000.0, 2_000.0)?;
        all += kg * behind;
    }
    Ok(all * GRAVITY / 1_000.0)
}

/// The level pull (N), so high up (mm), that tips a piece with this moment.
///
/// # Errors
///
/// A height outside 10 to 4,000 mm; a moment of less than nothing, since it tips anyhow.
pub fn pull_that_tips(moment: f32, height_mm: f32) -> Result<f32, Refused> {
    let moment = standing(moment)?;
    let height = Quantity::Height.within(height_mm, 10.0, 4_000.0)?;
    Ok(moment * 1_000.0 / height)
}

/// The load (N) that tips it from so far in front of the feet (mm): a hand or a child on an
/// open drawer.
///
/// # Errors
///
/// A distance outside 1 to 2,000 mm; a moment of less than nothing.
pub fn load_that_tips(moment: f32, ahead_mm: f32) -> Result<f32, Refused> {
    let moment = standing(moment)?;
    let ahead = Quantity::Distance.within(ahead_mm, 1.0, 2_000.0)?;
    Ok(moment * 1_000.0 / ahead)
}

/// How far (mm) all drawers together can be pulled out before a piece tips by itself: of its
/// moment with all closed (N·m), and the mass of the drawers with what is in them (kg).
///
/// # Errors
///
/// Drawers outside 0.1 to 1,000 kg; a moment of less than nothing.
pub fn pulled_out_that_tips(moment: f32, drawers_kg: f32) -> Result<f32, Refused> {
    let moment = standing(moment)?;
    let kg = Quantity::Mass.within(drawers_kg, 0.1, 1_000.0)?;
    Ok(moment * 1_000.0 / (kg * GRAVITY))
}

/// The angle (degrees) by which a piece can be leaned forward before it tips, with its centre
/// of mass so far behind the front feet and so high (mm).
///
/// # Errors
///
/// A distance outside 0 to 2,000 mm, a height outside 10 to 4,000 mm.
pub fn tilt_that_tips(behind_mm: f32, height_mm: f32) -> Result<f32, Refused> {
    let behind = Quantity::Behind.within(behind_mm, 0.0, 2_000.0)?;
    let height = Quantity::Height.within(height_mm, 10.0, 4_000.0)?;
    Ok(libm::atan2f(behind, height).to_degrees())
}

/// How far the centre of mass is behind the front feet (mm) when the back feet stand higher by
/// `raised_mm`, as on the edge of a carpet, with feet `depth_mm` apart.
///
/// # Errors
///
/// A distance outside 0 to 2,000 mm, a height outside 10 to 4,000, feet outside 10 to 2,000
/// apart, a rise outside 0 to half of that.
pub fn leaned(
    behind_mm: f32,
    height_mm: f32,
    raised_mm: f32,
    depth_mm: f32,
) -> Result<f32, Refused> {
    let behind = Quantity::Behind.within(behind_mm, 0.0, 2_000.0)?;
    let height = Quantity::Height.within(height_mm, 10.0, 4_000.0)?;
    let depth = Quantity::Distance.within(depth_mm, 10.0, 2_000.0)?;
    let raised = Quantity::Distance.within(raised_mm, 0.0, depth / 2.0)?;
    let angle = libm::atanf(raised / depth);
    Ok(behind * libm::cosf(angle) - height * libm::sinf(angle))
}

fn standing(moment: f32) -> Result<f32, Refused> {
    Quantity::Moment.within(moment, 0.0, 50_000.0)
}

/// What to do about a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Restraint {
    /// It stands well by itself; a floor that slopes or a carpet can still alter that.
    NotNeeded,
    /// Fix it to the wall.
    Advised,
    /// Fix it to the wall whatever else, before it is used.
    Always,
}

/// What speaks for fixing a piece to the wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// How high it is, mm.
    pub height_mm: f32,
    /// Whether it has drawers, or doors and falls that open forward.
    pub opens_forward: bool,
    /// Two parts one on the other, or tall and narrow, or heavy above.
    pub is_top_heavy: bool,
    /// The moment (N·m) with everything open that can be.
    pub all_open: f32,
    /// How far in front of the feet a child would hang or climb, mm: the front of an open
    /// drawer; 0 for none.
    pub climbed_at_mm: f32,
}

/// What to do about a piece (common practice): always fix what is top-heavy, and what tips with
/// everything open or with a child on it; fix anything over [`RESTRAIN_FROM`] that opens forward.
#[must_use]
pub fn restraint(standing: &Standing) -> Restraint {
    let child = CHILD * GRAVITY * standing.climbed_at_mm / 1_000.0;
    if standing.is_top_heavy || standing.all_open <= 0.0 || standing.all_open <= child {
        Restraint::Always
    } else if standing.opens_forward && standing.height_mm > RESTRAIN_FROM {
        Restraint::Advised
    } else {
        Restraint::NotNeeded
    }
}
