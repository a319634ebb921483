//! What screws and nails hold.

use crate::shown::{force, length, plain};
use crate::trouble::Trouble;
use crate::unit::Dimension;
use crate::worked::Worked;
use crate::{named, quantity};
use tellmark_core::handbook::fasteners::{self, Soundness};
use tellmark_core::handbook::woods::{Strength, Wood};

const CAUTION: &str = "It is for sound, seasoned wood and a right lead hole, of one fastener that \
                       does not break itself. Worm, rot and old holes hold less. Where a person \
                       could be hurt, let somebody licensed for it judge the load.";

/// Wood that something is fastened in.
#[derive(Clone, Copy, Debug)]
pub struct In<'a> {
    /// Its name.
    pub wood: &'a str,
    /// "sound", "suspect", "stripped" or a share; sound if not said.
    pub sound: Option<&'a str>,
    /// Whether it goes into end grain.
    pub end_grain: bool,
}

impl In<'_> {
    fn read(&self) -> Result<(&'static Wood, Strength, Soundness), Trouble> {
        let wood = named::wood(self.wood)?;
        Ok((wood, named::strength(wood)?, named::soundness(self.sound)?))
    }
}

/// How thick a wood screw is.
#[derive(Clone, Copy, Debug)]
pub enum Thick<'a> {
    /// By its gauge: "8".
    Gauge(&'a str),
    /// By its shank: "4.2 mm".
    Shank(&'a str),
}

impl Thick<'_> {
    pub(crate) fn mm(self) -> Result<f32, Trouble> {
        match self {
            Thick::Gauge(gauge) => {
                let gauge = gauge
                    .trim()
                    .trim_start_matches(['N', 'n', 'o', '.', ' ', '#']);
                Ok(fasteners::gauge_mm(quantity::bare("the gauge", gauge)?)?)
            }
            Thick::Shank(shank) => quantity::read("the shank", shank, Dimension::Length),
        }
    }
}

/// A load at which it comes out, what may be relied on, and a sideways load.
struct Loads {
    out: f32,
    sideways: Option<f32>,
}

/// What one wood screw holds, with so much thread in the wood.
///
/// # Errors
///
/// What cannot be read, or is outside the published tables.
pub fn screw(wood: In<'_>, thick: Thick<'_>, thread: &str) -> Result<Worked, Trouble> {
    let (named, strength, soundness) = wood.read()?;
    let shank = thick.mm()?;
    let thread = quantity::read("the thread in the wood", thread, Dimension::Length)?;
    let side = fasteners::screw_withdrawal(strength.gravity, shank, thread, soundness)?;
    // Too little in the wood is told, and the rest of the answer stands.
    let lateral =
        fasteners::screw_lateral(named.grain, strength.gravity, shank, thread, soundness).ok();
    let loads = in_grain(wood.end_grain, side, fasteners::SCREW_END_GRAIN, lateral);
    let what = format!(
        "A screw of {} with {} of thread in {}",
        length(shank),
        length(thread),
        named.name
    );
    let mut worked = worked("screw", &what, &loads, soundness);
    worked.step(format!(
        "Eq. (8-10): 108.25 × {}² × {} mm × {} mm × {} = {} N.",
        strength.gravity,
        plain(shank),
        plain(thread),
        soundness.share(),
        plain(side)
    ));
    let grain_words = "of side grain, and erratic";
    in_working(
        &mut worked,
        wood.end_grain,
        fasteners::SCREW_END_GRAIN,
        grain_words,
    );
    worked.step(match loads.sideways {
        Some(load) => format!(
            "Eq. (8-11), K × D², at a slip of about 0.25 mm: {} N.",
            plain(load)
        ),
        None => {
            "Sideways it is not to be relied on: that takes side grain, and 4 diameters in the \
                 wood."
                .to_owned()
        }
    });
    let (soft, hard) = fasteners::LEAD_HOLE;
    worked.step(format!(
        "Lead hole: {} % of the root of the thread in softwood, {} % in hardwood.",
        soft * 100.0,
        hard * 100.0
    ));
    finish(&mut worked, named, &strength, &loads);
    Ok(worked)
}

/// What one wire nail holds, with so much of it in the wood.
///
/// # Errors
///
/// What cannot be read, or is outside the published tables.
pub fn nail(wood: In<'_>, diameter: &str, in_wood: &str) -> Result<Worked, Trouble> {
    let (named, strength, soundness) = wood.read()?;
    let diameter = quantity::read("the diameter", diameter, Dimension::Length)?;
    let in_wood = quantity::read("the length in the wood", in_wood, Dimension::Length)?;
    let side = fasteners::nail_withdrawal(strength.gravity, diameter, in_wood, soundness)?;
    let lateral =
        fasteners::nail_lateral(named.grain, strength.gravity, diameter, in_wood, soundness).ok();
    let loads = in_grain(wood.end_grain, side, fasteners::NAIL_END_GRAIN, lateral);
    let what = format!(
        "A bright wire nail of {} with {} in {}",
        length(diameter),
        length(in_wood),
        named.name
    );
    let mut worked = worked("nail", &what, &loads, soundness);
    worked.step(format!(
        "Eq. (8-1): 54.12 × {}^2.5 × {} mm × {} mm × {} = {} N.",
        strength.gravity,
        plain(diameter),
        plain(in_wood),
        soundness.share(),
        plain(side)
    ));
    in_working(
        &mut worked,
        wood.end_grain,
        fasteners::NAIL_END_GRAIN,
        "of side grain, the lower end of half to three quarters",
    );
    worked.step(match loads.sideways {
        Some(load) => format!(
            "Eq. (8-2), K × D^1.5, at a slip of about 0.25 mm: {} N.",
            plain(load)
        ),
        None => {
            "Sideways it is not to be relied on: that takes side grain, and 10 diameters in the \
                 wood (14 in all but the densest)."
                .to_owned()
        }
    });
    worked.step("It is not for wrought or cut nails; old and re-driven ones hold less.");
    finish(&mut worked, named, &strength, &loads);
    Ok(worked)
}

/// Sideways loads are published for side grain alone.
fn in_grain(is_end: bool, side: f32, share: f32, lateral: Option<f32>) -> Loads {
    match is_end {
        true => Loads {
            out: side * share,
            sideways: None,
        },
        false => Loads {
            out: side,
            sideways: lateral,
        },
    }
}

fn worked(sum: &'static str, what: &str, loads: &Loads, soundness: Soundness) -> Worked {
    let answer = match soundness.share() <= 0.0 {
        true => format!("{what} holds nothing: the wood is stripped. Plug the hole first."),
        false => format!(
            "{what} comes out at about {}; rely on {}.",
            force(loads.out),
            force(fasteners::safe(loads.out))
        ),
    };
    Worked::new(sum, answer, CAUTION)
}

fn in_working(worked: &mut Worked, is_end: bool, share: f32, words: &str) {
    if is_end {
        worked.step(format!("End grain: {} % {words}.", share * 100.0));
    }
}

fn finish(worked: &mut Worked, wood: &Wood, strength: &Strength, loads: &Loads) {
    worked.step(format!(
        "Rely on one part in {} of what draws it out (common practice).",
        fasteners::SAFETY
    ));
    if let Some(stand_in) = named::stand_in(wood, strength) {
        worked.step(format!("{stand_in}."));
    }
    worked.from(fasteners::SOURCE);
    worked.from(strength.source);
    worked.figure("withdrawal", loads.out, "N");
    worked.figure("withdrawal to rely on", fasteners::safe(loads.out), "N");
    if let Some(sideways) = loads.sideways {
        worked.figure("sideways", sideways, "N");
    }
}
