//! A fall, flap or leaf that is let down: what its hinges, their screws and its supports carry.
//!
//! Statics, worked out here and confirmed by the balance of moments about other points. In
//! section, with the fall level: the pin of the hinge is at the top of the joint, the weight W
//! acts at a distance a from it and a hand P at b. Below the pin, at the depth h, the edge of the
//! fall butts against the carcase and is pushed back with C:
//!
//! ```text
//! C = T        V = W + P        T·h = W·a + P·b
//! ```
//!
//! T pulls the pin out level, V bears on it. As h is less than the thickness of a board, T is
//! ten to twenty-five times the weight.

use super::{Quantity, Refused, Source};

/// Where the sums of this module come from.
pub const SOURCE: Source =
    Source::confirmed("Statics: balance of forces, and of moments about the hinge pin");

/// Until a pair of hinges is proved level, one of them is taken to carry this share (common
/// practice).
pub const ONE_HINGE_TAKES: f32 = 0.7;
/// Where a fall butts below its pin, as a share of its thickness, if it is not measured: the
/// arris is crushed, so less than the whole. This is the end on the safe side; up to 0.9 is
/// found.
pub const LIKELY_PUSH: f32 = 0.8;

/// A joint that takes no moment: why a leaf on it falls unless something holds it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoStop {
    /// A rule joint, as on a drop-leaf table: the leaf rolls on its round.
    RuleJoint,
    /// A hinge with nothing of the carcase below its pin: pivots, a pin at the lower arris.
    NothingBelow,
}

impl NoStop {
    /// What it is called, with its article.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            NoStop::RuleJoint => "a rule joint",
            NoStop::NothingBelow => "a hinge with nothing below its pin",
        }
    }
}

/// What holds a fall level, if anything does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Joint {
    /// A square edge that butts below the pin, at this depth in mm.
    Butts {
        /// From the pin down to where it pushes, mm.
        depth_mm: f32,
    },
    /// Nothing.
    Open(NoStop),
}

/// A fall and what lies or leans on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fall {
    /// Its weight, N.
    pub weight: f32,
    /// How far from the pin its weight acts, mm: half its depth, for an even board.
    pub weight_at_mm: f32,
    /// A hand or a book, N; 0 for none.
    pub hand: f32,
    /// How far from the pin that acts, mm.
    pub hand_at_mm: f32,
    /// How thick it is, mm.
    pub thickness_mm: f32,
}

/// What the hinges of a fall carry in all.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtPin {
    /// Level, away from the carcase, N; the same pushes the edges together below.
    pub pull: f32,
    /// Down, N.
    pub down: f32,
}

/// What supports and hinges carry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Supported {
    /// On the supports, all together, N.
    pub support: f32,
    /// Down on the hinges, N; less than nothing where they are lifted out.
    pub hinge: f32,
}

impl Fall {
    fn checked(&self) -> Result<(), Refused> {
        Quantity::Force.within(self.weight, 0.0, 2_000.0)?;
        Quantity::Distance.within(self.weight_at_mm, 1.0, 2_000.0)?;
        Quantity::Force.within(self.hand, 0.0, 2_000.0)?;
        Quantity::Distance.within(self.hand_at_mm, 0.0, 2_000.0)?;
        Quantity::Thickness.within(self.thickness_mm, 3.0, 100.0)?;
        Ok(())
    }

    /// Moment about the pin, N·mm.
    fn moment(&self) -> f32 {
        self.weight * self.weight_at_mm + self.hand * self.hand_at_mm
    }

    /// Held open by its hinges alone.
    ///
    /// # Errors
    ///
    /// [`Refused::NoEquilibrium`] where the joint has no stop; a weight or hand outside 0 to
    /// 2,000 N, a distance outside 0 to 2,000 mm, a thickness outside 3 to 100 mm, a push less
    /// than 1 mm below the pin or deeper than the board.
    pub fn by_hinges(&self, joint: Joint) -> Result<AtPin, Refused> {
        self.checked()?;
        let depth = match joint {
            Joint::Butts { depth_mm } => {
                Quantity::PushDepth.within(depth_mm, 1.0, self.thickness_mm)?
            }
            Joint::Open(why) => return Err(Refused::NoEquilibrium(why)),
        };
        Ok(AtPin {
            pull: self.moment() / depth,
            down: self.weight + self.hand,
        })
    }

    /// Held by supports that reach so far (mm) from the pin. It holds for any joint.
    ///
    /// # Errors
    ///
    /// As [`Fall::by_hinges`], and a reach outside 1 to 2,000 mm.
    pub fn on_supports(&self, reach_mm: f32) -> Result<Supported, Refused> {
        self.checked()?;
        let reach = Quantity::Distance.within(reach_mm, 1.0, 2_000.0)?;
        let support = self.moment() / reach;
        Ok(Supported {
            support,
            hinge: self.weight + self.hand - support,
        })
    }

    /// How far supports must reach from the pin (mm) so that the hinges are not lifted.
    ///
    /// # Errors
    ///
    /// As [`Fall::by_hinges`]; nothing that weighs anything.
    pub fn reach_needed(&self) -> Result<f32, Refused> {
        self.checked()?;
        let all = Quantity::Force.within(self.weight + self.hand, 0.01, 4_000.0)?;
        Ok(self.moment() / all)
    }
}

/// Screws of leaves that are let into the edges, so that their screws lie level and are drawn
/// straight out: what each row carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeLoads<const ROWS: usize> {
    /// On each row, N, all hinges together.
    pub rows: [f32; ROWS],
    /// On all rows, N.
    pub all: f32,
    /// How hard the lower end of the leaf pries on the wood, N.
    pub pry: f32,
}

/// Leaves let into the edges. `leaf_mm` is how far a leaf goes down from the pin, `depths_mm`
/// how far below the pin each row of screws sits. The lower end of the leaf pries, so that the
/// screws carry more than the pull: with one row half way down, twice.
///
/// # Errors
///
/// A leaf outside 3 to 100 mm; a row that is not above the leaf's end; a pull outside 0 to
/// 500,000 N.
pub fn in_the_edge<const ROWS: usize>(
    pull: f32,
    leaf_mm: f32,
    depths_mm: [f32; ROWS],
) -> Result<EdgeLoads<ROWS>, Refused> {
    let pull = Quantity::Force.within(pull, 0.0, 500_000.0)?;
    let leaf = Quantity::Distance.within(leaf_mm, 3.0, 100.0)?;
    let mut squares = 0.0;
    for depth in depths_mm {
        let arm = leaf - Quantity::ScrewDepth.within(depth, 0.0, leaf - 0.5)?;
        squares += arm * arm;
    }
    // Of no rows at all nothing is carried.
    let per_arm = if squares > 0.0 {
        pull * leaf / squares
    } else {
        0.0
    };
    let rows = depths_mm.map(|depth| per_arm * (leaf - depth));
    let all = rows.iter().sum();
    let pry = all - pull;
    Ok(EdgeLoads { rows, all, pry })
}

/// Screws of leaves that are let flush into the face, so that they stand upright.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceLoads {
    /// Sideways, on all screws, N: the whole pull.
    pub lateral: f32,
    /// Straight out, on all screws, N: what bears down on the pin, with the leaf as a lever.
    pub withdrawal: f32,
}

/// Leaves let flush into the face, as desk hinges are. `leaf_mm` is how far a leaf reaches from
/// the pin along the face, `screws_at_mm` how far its screws are from the pin.
///
/// # Errors
///
/// A leaf outside 3 to 300 mm; screws that are not between pin and end; forces outside 0 to
/// 500,000 N.
pub fn in_the_face(at_pin: AtPin, leaf_mm: f32, screws_at_mm: f32) -> Result<FaceLoads, Refused> {
    let lateral = Quantity::Force.within(at_pin.pull, 0.0, 500_000.0)?;
    let down = Quantity::Force.within(at_pin.down, 0.0, 500_000.0)?;
    let leaf = Quantity::Distance.within(leaf_mm, 3.0, 300.0)?;
    let at = Quantity::ScrewDepth.within(screws_at_mm, 0.0, leaf - 0.5)?;
    Ok(FaceLoads {
        lateral,
        withdrawal: down * leaf / (leaf - at),
    })
}

/// What one screw may have to carry, of a load on all of them: with more than one hinge, one
/// is taken to carry [`ONE_HINGE_TAKES`] of it.
///
/// # Errors
///
/// Hinges outside 1 to 6, screws in each outside 1 to 12.
pub fn worst_screw(load: f32, hinges: u8, screws_each: u8) -> Result<f32, Refused> {
    let hinges = Quantity::Count.within(f32::from(hinges), 1.0, 6.0)?;
    let screws = Quantity::Count.within(f32::from(screws_each), 1.0, 12.0)?;
    let share = if hinges > 1.0 { ONE_HINGE_TAKES } else { 1.0 };
    Ok(load * share / screws)
}
