//! Wood dust breathed over a day, beside the limits of several countries.
//!
//! Sources: HSE, *Workplace exposure limits* EH40 (Great Britain); Directive (EU) 2017/2398;
//! OSHA 29 CFR 1910.1000; ACGIH TLV. The first two were read, the others are from memory.
//! Hardwood dust causes cancer of the nose: as little as can be is the rule, whatever a limit
//! says.

use super::{Quantity, Refused, Source};

/// Where the sums of this module come from.
pub const SOURCE: Source =
    Source::confirmed("Eight-hour time-weighted average as in HSE EH40/2005, 4th edition (2020)");

/// Hours that exposure is averaged over.
pub const DAY: f32 = 8.0;

/// A limit for eight hours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// Whose, and of what.
    pub name: &'static str,
    /// mg/m³.
    pub limit: f32,
    /// Whether it is for dust of hardwood or of mixtures with hardwood.
    pub for_hardwood: bool,
    /// Whether it is for dust of softwood alone.
    pub for_softwood: bool,
    /// Where it is from.
    pub source: Source,
}

/// The limits.
pub const LIMITS: &[Limit] = &[
    Limit {
        name: "Great Britain, hardwood and mixtures",
        limit: 3.0,
        for_hardwood: true,
        for_softwood: false,
        source: Source::confirmed("HSE EH40/2005, 4th edition (2020)"),
    },
    Limit {
        name: "Great Britain, softwood",
        limit: 5.0,
        for_hardwood: false,
        for_softwood: true,
        source: Source::confirmed("HSE EH40/2005, 4th edition (2020)"),
    },
    Limit {
        name: "the European Union, hardwood and mixtures",
        limit: 2.0,
        for_hardwood: true,
        for_softwood: false,
        source: Source::confirmed("Directive (EU) 2017/2398, since January 2023"),
    },
    Limit {
        name: "ACGIH, all but western red cedar",
        limit: 1.0,
        for_hardwood: true,
        for_softwood: true,
        source: Source::remembered("ACGIH TLV"),
    },
    Limit {
        name: "the United States, any dust",
        limit: 15.0,
        for_hardwood: true,
        for_softwood: true,
        source: Source::remembered("OSHA 29 CFR 1910.1000"),
    },
];

/// The average over eight hours (mg/m³) of stretches of work, each as dust in the air (mg/m³)
/// and hours. The rest of the day counts as clean air.
///
/// # Errors
///
/// Dust outside 0 to 1,000 mg/m³, a stretch outside 0 to 24 h, more than 24 h in all.
pub fn average(stretches: impl IntoIterator<Item = (f32, f32)>) -> Result<f32, Refused> {
    let (mut dose, mut all) = (0.0, 0.0);
    for (dust, hours) in stretches {
        let dust = Quantity::Dust.within(dust, 0.0, 1_000.0)?;
        let hours = Quantity::Hours.within(hours, 0.0, 24.0)?;
        dose += dust * hours;
        all += hours;
    }
    Quantity::Hours.within(all, 0.0, 24.0)?;
    Ok(dose / DAY)
}
