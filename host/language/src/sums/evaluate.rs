//! What a sum comes to, by the handbook.

use crate::model::{InputSort, Sum};
use tellmark_core::handbook::fall::{Fall, Joint, LIKELY_PUSH, in_the_face, worst_screw};
use tellmark_core::handbook::fasteners::{Soundness, screw_lateral, screw_withdrawal};
use tellmark_core::handbook::moisture::equilibrium;
use tellmark_core::handbook::movement::{Cut, of_wood, strain};
use tellmark_core::handbook::shelf::{CREEP, Ends, Shelf};
use tellmark_core::handbook::tipping::{CHILD, Mass, load_that_tips, moment};
use tellmark_core::handbook::woods::Wood;
use tellmark_core::handbook::{GRAVITY, Refused};

/// The warmth of a room, °C, where a sum takes the damp of its air: moisture hardly hangs on it.
const ROOM: f32 = 20.0;

/// Something that goes into a sum.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Value {
    /// In mm, kg or %, or a bare number.
    Number(f32),
    /// A wood.
    Wood(&'static Wood),
    /// How a board was cut.
    Cut(Cut),
    /// How sound wood is.
    Soundness(Soundness),
}

/// A wood, a cut or a soundness by its name, if the handbook knows it.
pub(crate) fn value_called(sort: InputSort, name: &str) -> Option<Value> {
    let name = name.to_lowercase();
    match sort {
        InputSort::Wood => {
            let bare = name.strip_suffix(" wood").unwrap_or(&name);
            Wood::named(bare).map(Value::Wood)
        }
        InputSort::Cut => Some(Value::Cut(match name.as_str() {
            "flat" | "flat-sawn" | "slab-sawn" | "plain-sawn" => Cut::Flat,
            "quarter" | "quartered" | "quarter-sawn" => Cut::Quarter,
            "not known" | "unknown" => Cut::Unknown,
            _ => return None,
        })),
        InputSort::Soundness => Some(Value::Soundness(match name.as_str() {
            "sound" => Soundness::SOUND,
            "suspect" => Soundness::SUSPECT,
            "stripped" => Soundness::STRIPPED,
            _ => return None,
        })),
        InputSort::Length | InputSort::Share | InputSort::Weight | InputSort::Number => None,
    }
}

/// What goes into a sum, by its place in [`Sum::inputs`].
pub(crate) struct Given<'v>(pub(crate) &'v [Option<Value>]);

impl Given<'_> {
    fn number(&self, at: usize) -> f32 {
        match self.0.get(at) {
            Some(Some(Value::Number(number))) => *number,
            _ => f32::NAN,
        }
    }

    fn wood(&self, at: usize) -> Option<&'static Wood> {
        match self.0.get(at) {
            Some(Some(Value::Wood(wood))) => Some(*wood),
            _ => None,
        }
    }

    fn cut(&self, at: usize) -> Cut {
        match self.0.get(at) {
            Some(Some(Value::Cut(cut))) => *cut,
            _ => Cut::Unknown,
        }
    }

    fn soundness(&self, at: usize) -> Soundness {
        match self.0.get(at) {
            Some(Some(Value::Soundness(soundness))) => *soundness,
            _ => Soundness::SOUND,
        }
    }

    /// A number of hinges or screws; none of so many that no sum takes them.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn small(&self, at: usize) -> u8 {
        self.number(at) as u8
    }
}

/// Why a sum comes to nothing.
#[derive(Clone, Copy, Debug)]
pub(crate) enum NoSum {
    /// The handbook refuses it.
    Refused(Refused),
    /// The handbook has no strength of this wood.
    NoStrength(&'static str),
    /// A value of a choice that is no wood.
    NotKnown,
}

impl From<Refused> for NoSum {
    fn from(refused: Refused) -> Self {
        NoSum::Refused(refused)
    }
}

impl Sum {
    /// What it comes to, in its unit: mm or %.
    pub(crate) fn of(self, given: &Given<'_>) -> Result<f32, NoSum> {
        match self {
            Sum::Movement => {
                let wood = given.wood(1).ok_or(NoSum::NotKnown)?;
                let damp = equilibrium(ROOM, given.number(3))?;
                let dry = equilibrium(ROOM, given.number(4))?;
                let moved = of_wood(wood, given.cut(2), given.number(0), damp, dry)?;
                // Less than nothing if the dry air is the damper: so the table runs straight.
                Ok(-moved.most)
            }
            Sum::Strain => {
                let wood = given.wood(0).ok_or(NoSum::NotKnown)?;
                let damp = equilibrium(ROOM, given.number(2))?;
                let dry = equilibrium(ROOM, given.number(3))?;
                Ok(-strain(wood, given.cut(1), damp, dry)?.most)
            }
            Sum::Sag => {
                let wood = given.wood(3).ok_or(NoSum::NotKnown)?;
                let strength = wood.strength.ok_or(NoSum::NoStrength(wood.name))?;
                let (span, depth, thick) = (given.number(0), given.number(1), given.number(2));
                let shelf = Shelf::new(span, depth, thick, strength.stiffness, Ends::Resting)?;
                let load = given.number(4) * GRAVITY / 1000.0;
                let sag = shelf.sag(load + shelf.own_load(strength.density())?)?;
                Ok(sag * CREEP.1)
            }
            Sum::ScrewLoad => screw_load(given),
            Sum::Steadiness => {
                let behind = given.number(1);
                let carcase = Mass {
                    kg: given.number(0),
                    behind_mm: behind,
                };
                let drawers = Mass {
                    kg: given.number(2),
                    behind_mm: behind,
                };
                let held = moment([carcase, drawers.pulled_out(given.number(3))])?;
                // Less than nothing where it tips by itself: so the table runs straight there too.
                let load = load_that_tips(held.abs(), given.number(3))?.copysign(held);
                Ok(load / (CHILD * GRAVITY) * 100.0)
            }
        }
    }
}

/// What the worst screw carries of what it holds, drawn out or pushed sideways, whichever is
/// more; %.
fn screw_load(given: &Given<'_>) -> Result<f32, NoSum> {
    let wood = given.wood(3).ok_or(NoSum::NotKnown)?;
    let strength = wood.strength.ok_or(NoSum::NoStrength(wood.name))?;
    let (depth, length, thick) = (given.number(0), given.number(1), given.number(2));
    let fall = Fall {
        weight: length * depth * thick * strength.density() * 1e-9 * GRAVITY,
        weight_at_mm: depth / 2.0,
        hand: given.number(4) * GRAVITY,
        hand_at_mm: depth,
        thickness_mm: thick,
    };
    let at_pin = fall.by_hinges(Joint::Butts {
        depth_mm: thick * LIKELY_PUSH,
    })?;
    let loads = in_the_face(at_pin, given.number(5), given.number(6))?;
    let (hinges, screws) = (given.small(7), given.small(8));
    let (shank, thread, sound) = (given.number(9), given.number(10), given.soundness(11));
    let drawn = worst_screw(loads.withdrawal, hinges, screws)?;
    let pushed = worst_screw(loads.lateral, hinges, screws)?;
    let holds = screw_withdrawal(strength.gravity, shank, thread, sound)?;
    let gives = screw_lateral(wood.grain, strength.gravity, shank, thread, sound)?;
    Ok((drawn / holds).max(pushed / gives) * 100.0)
}
