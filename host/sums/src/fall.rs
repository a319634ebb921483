//! What a fall does to its hinges, and how far supports must reach.

use crate::fastener::{In, Thick};
use crate::shown::{force, length, plain};
use crate::trouble::Trouble;
use crate::unit::Dimension;
use crate::worked::Worked;
use crate::{named, quantity};
use tellmark_core::handbook::GRAVITY;
use tellmark_core::handbook::fall::{
    self, AtPin, EdgeLoads, Fall, Joint, LIKELY_PUSH, NoStop, in_the_edge, in_the_face, worst_screw,
};
use tellmark_core::handbook::fasteners::{safe, screw_lateral, screw_withdrawal};

pub(crate) const CAUTION: &str = "Do not try it by leaning on the fall. Pull the supports right out before it \
                       is let down. Old screw holes hold less than the sum says; where a person \
                       could be hurt, let somebody licensed for it judge the load.";

/// A fall as it was asked about.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// From the pin to its free edge.
    pub depth: &'a str,
    /// How thick it is.
    pub thickness: &'a str,
    /// What it weighs.
    pub weighs: Weighs<'a>,
    /// A hand or books on it, at its free edge; a force or a weight.
    pub hand: Option<&'a str>,
    /// "square", "rule" or "open"; square if not said.
    pub joint: Option<&'a str>,
    /// From the pin down to where it butts; eight tenths of the thickness if not said.
    pub push_depth: Option<&'a str>,
    /// From the pin to where supports end; none if not said.
    pub supports: Option<&'a str>,
    /// How its hinges are screwed.
    pub leaf: Option<Leaf<'a>>,
}

/// What a fall weighs.
#[derive(Clone, Copy, Debug)]
pub enum Weighs<'a> {
    /// Weighed.
    Weight(&'a str),
    /// By its wood and its length along the joint.
    Wood {
        /// Its wood.
        wood: &'a str,
        /// Its length along the joint.
        length: &'a str,
    },
}

/// How the hinges of a fall are screwed.
#[derive(Clone, Copy, Debug)]
pub struct Leaf<'a> {
    /// "edge", let into the edges so that the screws lie level; or "face", let flush into the
    /// face.
    pub position: &'a str,
    /// How far a leaf goes from the pin.
    pub depth: &'a str,
    /// How far from the pin the screws are: in the edge a row each, up to three.
    pub screws_at: &'a [&'a str],
    /// How many hinges.
    pub hinges: u8,
    /// How many screws in each leaf.
    pub screws_each: u8,
    /// How thick the screws are.
    pub thick: Thick<'a>,
    /// How much of their thread is in the wood.
    pub thread: &'a str,
    /// What they are in.
    pub wood: In<'a>,
}

/// Forces on a fall, for a drawing. Lengths in mm, forces in N.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forces {
    /// From the pin to its free edge.
    pub depth: f32,
    /// The fall and what is on it.
    pub fall: Fall,
    /// Without supports: how deep it butts, and what its hinges carry.
    pub by_hinges: Option<(f32, AtPin)>,
    /// With supports: how far they reach, what they carry, and what the hinges do.
    pub supports: Option<(f32, fall::Supported)>,
}

impl Asked<'_> {
    /// The sum, and what is to be drawn of it.
    ///
    /// # Errors
    ///
    /// What cannot be read; a fall that nothing holds ([`Trouble::NoEquilibrium`]); what is
    /// outside the sums.
    pub fn worked(&self) -> Result<(Worked, Forces), Trouble> {
        let depth = quantity::read("the depth of the fall", self.depth, Dimension::Length)?;
        let thickness = quantity::read("the thickness", self.thickness, Dimension::Length)?;
        let (weight, by) = self.weight(depth, thickness)?;
        let hand = match self.hand {
            Some(hand) => quantity::force("the hand", hand)?,
            None => 0.0,
        };
        let fall = Fall {
            weight,
            weight_at_mm: depth / 2.0,
            hand,
            hand_at_mm: depth,
            thickness_mm: thickness,
        };
        let needed = fall.reach_needed()?;
        let mut forces = Forces {
            depth,
            fall,
            by_hinges: None,
            supports: None,
        };
        let mut worked = match self.supports {
            Some(reach) => supported(&mut forces, reach, needed)?,
            None => self.unsupported(&mut forces, needed)?,
        };
        let first = std::mem::take(&mut worked.working);
        worked.step(by);
        worked.working.extend(first);
        worked.from(fall::SOURCE);
        worked.figure("weight", weight, "N");
        worked.figure("hand", hand, "N");
        worked.figure("reach needed", needed, "mm");
        if let (Some(leaf), Some((_, at_pin))) = (&self.leaf, forces.by_hinges) {
            leaf.work(at_pin, &mut worked)?;
        }
        Ok((worked, forces))
    }

    /// In N, and how it comes about.
    fn weight(&self, depth: f32, thickness: f32) -> Result<(f32, String), Trouble> {
        match self.weighs {
            Weighs::Weight(weight) => {
                let kg = quantity::read("the weight", weight, Dimension::Mass)?;
                let weight = kg * GRAVITY;
                Ok((weight, format!("Weight: {}.", force(weight))))
            }
            Weighs::Wood { wood, length: long } => {
                let wood = named::wood(wood)?;
                let strength = named::strength(wood)?;
                let long = quantity::read("the length of the fall", long, Dimension::Length)?;
                let density = strength.density();
                let weight = long * depth * thickness * density * 1e-9 * GRAVITY;
                let by = format!(
                    "Weight: {} × {} × {} at {} kg/m³: {}.",
                    length(long),
                    length(depth),
                    length(thickness),
                    plain(density),
                    force(weight)
                );
                Ok((weight, by))
            }
        }
    }

    fn unsupported(&self, forces: &mut Forces, needed: f32) -> Result<Worked, Trouble> {
        let choices = [
            ("square", None),
            ("rule", Some(NoStop::RuleJoint)),
            ("open", Some(NoStop::NothingBelow)),
        ];
        let joint = named::one_of("joint of a fall", self.joint.unwrap_or("square"), &choices)?;
        let fall = forces.fall;
        let (push, is_measured) = match self.push_depth {
            Some(depth) => (
                quantity::read("the depth of the push", depth, Dimension::Length)?,
                true,
            ),
            None => (fall.thickness_mm * LIKELY_PUSH, false),
        };
        let joint = joint.map_or(Joint::Butts { depth_mm: push }, Joint::Open);
        let at_pin = fall.by_hinges(joint)?;
        forces.by_hinges = Some((push, at_pin));
        let answer = format!(
            "Held open by its hinges alone, the fall pulls at them with {}; supports must reach {} \
             from the pin.",
            force(at_pin.pull),
            length(needed)
        );
        let mut worked = Worked::new("fall", answer, CAUTION);
        worked.step(format!(
            "It butts {} below the pin{}.",
            length(push),
            match is_measured {
                true => "",
                false =>
                    ", taken as eight tenths of the thickness; where it butts deeper, it pulls less",
            }
        ));
        worked.step(format!(
            "Pull at the pin: ({} N × {} mm + {} N × {} mm) / {} mm = {} N.",
            plain(fall.weight),
            plain(fall.weight_at_mm),
            plain(fall.hand),
            plain(fall.hand_at_mm),
            plain(push),
            plain(at_pin.pull)
        ));
        worked.step(format!("Down on the pin: {} N.", plain(at_pin.down)));
        worked.figure("pull at the pin", at_pin.pull, "N");
        worked.figure("down on the pin", at_pin.down, "N");
        worked.figure("push depth", push, "mm");
        Ok(worked)
    }
}

fn supported(forces: &mut Forces, reach: &str, needed: f32) -> Result<Worked, Trouble> {
    let reach = quantity::read("the reach of the supports", reach, Dimension::Length)?;
    if reach > forces.depth {
        return Err(Trouble::Wrong(format!(
            "Supports that reach {} end beyond the fall, which is {} deep. Measure both from the pin.",
            length(reach),
            length(forces.depth)
        )));
    }
    let fall = forces.fall;
    let held = fall.on_supports(reach)?;
    forces.supports = Some((reach, held));
    let answer = match held.hinge < 0.0 {
        true => format!(
            "The supports carry {} and the hinges are lifted out with {}: the supports must reach {} \
             from the pin.",
            force(held.support),
            force(-held.hinge),
            length(needed)
        ),
        false => format!(
            "The supports carry {} and the hinges {}: nothing lifts.",
            force(held.support),
            force(held.hinge)
        ),
    };
    let mut worked = Worked::new("fall", answer, CAUTION);
    worked.step(format!(
        "On the supports: ({} N × {} mm + {} N × {} mm) / {} mm = {} N.",
        plain(fall.weight),
        plain(fall.weight_at_mm),
        plain(fall.hand),
        plain(fall.hand_at_mm),
        plain(reach),
        plain(held.support)
    ));
    worked.step(format!("Down on the hinges: {} N.", plain(held.hinge)));
    worked.figure("on the supports", held.support, "N");
    worked.figure("down on the hinges", held.hinge, "N");
    worked.figure("reach", reach, "mm");
    Ok(worked)
}

impl Leaf<'_> {
    /// What the worst screw carries, beside what it holds.
    fn work(&self, at_pin: AtPin, worked: &mut Worked) -> Result<(), Trouble> {
        let choices = [("edge", true), ("face", false)];
        let is_edge = named::one_of("position of a leaf", self.position, &choices)?;
        let wood = named::wood(self.wood.wood)?;
        let strength = named::strength(wood)?;
        let soundness = named::soundness(self.wood.sound)?;
        let (shank, leaf) = (
            self.thick.mm()?,
            quantity::read("the leaf", self.depth, Dimension::Length)?,
        );
        let thread = quantity::read("the thread in the wood", self.thread, Dimension::Length)?;
        let rows = self
            .screws_at
            .iter()
            .map(|at| quantity::read("the place of the screws", at, Dimension::Length))
            .collect::<Result<Vec<f32>, Trouble>>()?;
        let holds = screw_withdrawal(strength.gravity, shank, thread, soundness)?;
        let mut gives_sideways = false;
        let (all, as_worst) = match is_edge {
            true => drawn(&rows, at_pin.pull, leaf)?,
            false => {
                let [at] = rows[..] else {
                    return Err(rows_wrong());
                };
                let loads = in_the_face(at_pin, leaf, at)?;
                let each = worst_screw(loads.lateral, self.hinges, self.screws_each)?;
                let slips = screw_lateral(wood.grain, strength.gravity, shank, thread, soundness)?;
                worked.step(format!(
                    "Let into the face, the screws are pushed sideways: the worst by {} N, {} % of \
                     the {} N at which it gives.",
                    plain(each),
                    percent(each, slips),
                    plain(slips)
                ));
                worked.figure("sideways on the worst screw", each, "N");
                worked.figure("one screw gives sideways at", slips, "N");
                gives_sideways = each > slips;
                (loads.withdrawal, loads.withdrawal)
            }
        };
        let each = worst_screw(as_worst, self.hinges, self.screws_each)?;
        worked.step(format!(
            "{} screws of {} in {}: all are drawn with {} N, the worst with {} N (one hinge of \
             several is taken to carry seven tenths).",
            u16::from(self.hinges) * u16::from(self.screws_each),
            length(shank),
            wood.name,
            plain(all),
            plain(each)
        ));
        let relied_on = safe(holds);
        worked.step(format!(
            "One comes out at {} N and may be relied on for {} N.",
            plain(holds),
            plain(relied_on)
        ));
        let verdict = match (each < holds, gives_sideways, each <= relied_on) {
            (false, ..) => "That draws the screws out.",
            (true, true, _) => "Sideways that is more than the screws hold, so they give.",
            (true, false, false) => "That is more than the screws may be relied on for.",
            (true, false, true) => "The screws may be relied on.",
        };
        worked.answer = format!("{} {verdict}", worked.answer);
        if let Some(stand_in) = named::stand_in(wood, &strength) {
            worked.step(format!("{stand_in}."));
        }
        worked.from(tellmark_core::handbook::fasteners::SOURCE);
        worked.from(strength.source);
        worked.figure("drawn on all screws", all, "N");
        worked.figure("drawn on the worst screw", each, "N");
        worked.figure("one screw comes out at", holds, "N");
        worked.figure("one screw to rely on", relied_on, "N");
        Ok(())
    }
}

/// On all screws of leaves let into the edges, N; and what that would be if every row carried
/// as the worst does.
fn drawn(rows: &[f32], pull: f32, leaf: f32) -> Result<(f32, f32), Trouble> {
    fn of<const ROWS: usize>(loads: EdgeLoads<ROWS>) -> (f32, f32) {
        let worst = loads.rows.iter().copied().fold(0.0, f32::max);
        (loads.all, loads.rows.iter().map(|_| worst).sum())
    }
    Ok(match *rows {
        [one] => of(in_the_edge(pull, leaf, [one])?),
        [one, two] => of(in_the_edge(pull, leaf, [one, two])?),
        [one, two, three] => of(in_the_edge(pull, leaf, [one, two, three])?),
        _ => return Err(rows_wrong()),
    })
}

fn rows_wrong() -> Trouble {
    Trouble::Wrong(
        "Say where the screws are, from the pin: --screws-at \"10 mm\". In the edge it may be said \
         for up to three rows, in the face once."
            .to_owned(),
    )
}

fn percent(part: f32, whole: f32) -> String {
    match whole > 0.0 {
        true => plain(part / whole * 100.0),
        false => "more than 100".to_owned(),
    }
}
