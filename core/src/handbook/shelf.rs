//! How far a shelf sags, at once and after years.
//!
//! Sources: *Wood Handbook* FPL-GTR-190 (2010), chapter 9, Eq. (9-2), bending and shear;
//! chapter 5 on creep; Eurocode 5 (EN 1995-1-1), Table 3.2, service class 1. Confirmed, but for
//! the shear modulus (a sixteenth of the stiffness) and the figure of Eurocode, which are
//! from memory.

use super::{Quantity, Refused, Source};

/// Where the sums of this module come from.
pub const SOURCE: Source = Source::confirmed(
    "Wood Handbook FPL-GTR-190 (2010), ch. 9, Eq. (9-2); creep: ch. 5, and Eurocode 5 (EN \
     1995-1-1) Table 3.2",
);

/// What a sag comes to after years, as a multiple of that at once: in a steady house by
/// Eurocode 5, and by the handbook.
pub const CREEP: (f32, f32) = (1.6, 2.0);
/// The eye notices a sag of about one in so many of the span (rule of thumb, from memory).
pub const EYE: f32 = 300.0;

/// How a shelf is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ends {
    /// Lying loose on two bearers.
    Resting,
    /// Held so that both ends cannot turn: housed and glued, at the very best.
    Fixed,
    /// Held at one end only.
    OneEnd,
}

/// A shelf.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shelf {
    span: f32,
    width: f32,
    thickness: f32,
    stiffness: f32,
    ends: Ends,
}

impl Shelf {
    /// Span, width (front to back) and thickness in mm, stiffness (modulus of elasticity) in
    /// MPa.
    ///
    /// # Errors
    ///
    /// A span outside 50 to 4,000 mm, a width outside 10 to 1,500, a thickness outside 3 to 100,
    /// a stiffness outside 1,000 to 30,000 MPa.
    pub fn new(
        span_mm: f32,
        width_mm: f32,
        thickness_mm: f32,
        stiffness: f32,
        ends: Ends,
    ) -> Result<Self, Refused> {
        Ok(Self {
            span: Quantity::Span.within(span_mm, 50.0, 4_000.0)?,
            width: Quantity::Width.within(width_mm, 10.0, 1_500.0)?,
            thickness: Quantity::Thickness.within(thickness_mm, 3.0, 100.0)?,
            stiffness: Quantity::Stiffness.within(stiffness, 1_000.0, 30_000.0)?,
            ends,
        })
    }

    /// Its own weight along its span (N/mm), of wood of this density (kg/m³).
    ///
    /// # Errors
    ///
    /// A density outside 100 to 1,500 kg/m³.
    pub fn own_load(&self, density: f32) -> Result<f32, Refused> {
        let density = Quantity::Density.within(density, 100.0, 1_500.0)?;
        Ok(density * self.width * self.thickness * 1e-9 * super::GRAVITY)
    }

    /// Second moment of its section, mm⁴.
    fn section(&self) -> f32 {
        self.width * self.thickness * self.thickness * self.thickness / 12.0
    }

    /// Sag (mm) in the middle, or at the free end, under a load along it (N/mm), by bending.
    ///
    /// # Errors
    ///
    /// A load outside 0 to 10 N/mm (about a tonne a metre).
    pub fn sag(&self, load: f32) -> Result<f32, Refused> {
        let load = along(load)?;
        let of_ends = match self.ends {
            Ends::Resting => 5.0 / 384.0,
            Ends::Fixed => 1.0 / 384.0,
            Ends::OneEnd => 1.0 / 8.0,
        };
        let l2 = self.span * self.span;
        Ok(of_ends * load * l2 * l2 / (self.stiffness * self.section()))
    }

    /// What shear adds to the sag (mm) of a shelf that rests on two bearers, for a load along it
    /// (N/mm): little, unless it is short and thick.
    ///
    /// # Errors
    ///
    /// As [`Shelf::sag`].
    pub fn shear_sag(&self, load: f32) -> Result<f32, Refused> {
        let all = along(load)? * self.span;
        let area = 5.0 * self.width * self.thickness / 6.0;
        Ok(all * self.span / 8.0 / (self.stiffness / 16.0 * area))
    }

    /// Sag (mm) by bending under a force (N) in the middle of a shelf on two bearers; of the
    /// other two, in the middle and at the free end.
    ///
    /// # Errors
    ///
    /// A force outside 0 to 5,000 N.
    pub fn sag_at_point(&self, force: f32) -> Result<f32, Refused> {
        let force = Quantity::Force.within(force, 0.0, 5_000.0)?;
        let of_ends = match self.ends {
            Ends::Resting => 1.0 / 48.0,
            Ends::Fixed => 1.0 / 192.0,
            Ends::OneEnd => 1.0 / 3.0,
        };
        let l3 = self.span * self.span * self.span;
        Ok(of_ends * force * l3 / (self.stiffness * self.section()))
    }

    /// The largest bending stress (MPa) under a load along it (N/mm).
    ///
    /// # Errors
    ///
    /// As [`Shelf::sag`].
    pub fn stress(&self, load: f32) -> Result<f32, Refused> {
        let of_ends = match self.ends {
            Ends::Resting => 1.0 / 8.0,
            Ends::Fixed => 1.0 / 12.0,
            Ends::OneEnd => 1.0 / 2.0,
        };
        let moment = of_ends * along(load)? * self.span * self.span;
        Ok(moment / (self.width * self.thickness * self.thickness / 6.0))
    }

    /// How thick (mm) it would have to be to sag by no more than one in so many of its span, at
    /// once, under a load along it (N/mm) that does not change with the thickness.
    ///
    /// # Errors
    ///
    /// As [`Shelf::sag`]; a ratio outside 50 to 2,000.
    pub fn thickness_for(&self, load: f32, ratio: f32) -> Result<f32, Refused> {
        let ratio = Quantity::SpanRatio.within(ratio, 50.0, 2_000.0)?;
        let times = self.sag(load)? / (self.span / ratio);
        Ok(self.thickness * libm::cbrtf(times))
    }
}

/// A sag after years (mm), from that at once: least and most.
#[must_use]
pub fn after_years(sag: f32) -> (f32, f32) {
    (sag * CREEP.0, sag * CREEP.1)
}

fn along(load: f32) -> Result<f32, Refused> {
    Quantity::LineLoad.within(load, 0.0, 10.0)
}
