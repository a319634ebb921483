//! What tips a piece, and whether to fix it to the wall.

use crate::quantity;
use crate::shown::{force, length, plain};
use crate::trouble::Trouble;
use crate::unit::Dimension;
use crate::worked::Worked;
use tellmark_core::handbook::GRAVITY;
use tellmark_core::handbook::tipping::{
    self, CHILD, Mass, RESTRAIN_FROM, Restraint, Standing, load_that_tips, moment, pull_that_tips,
    restraint, tilt_that_tips,
};

pub(crate) const CAUTION: &str = "Whatever the sum says: where children live or visit, fix tall pieces and \
                       pieces with drawers to the wall, into solid wood and so that it can be \
                       undone. Floors slope and carpets give. Local rules come first.";

/// A piece as it was asked about.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// What the carcase weighs without its drawers.
    pub carcase: &'a str,
    /// How far its middle is behind the front feet.
    pub behind: &'a str,
    /// How high the piece is, where it would be pulled.
    pub height: &'a str,
    /// How high its middle is; to say how far it can be leaned.
    pub middle: Option<&'a str>,
    /// How many drawers.
    pub drawers: u8,
    /// What one weighs with what is in it; needed where there are drawers.
    pub drawer: Option<&'a str>,
    /// How many are open; all if not said.
    pub open: Option<u8>,
    /// How far they come out; needed where there are drawers.
    pub opens_by: Option<&'a str>,
    /// Two parts one on the other, tall and narrow, or heavy above.
    pub is_top_heavy: bool,
}

/// The sum.
///
/// # Errors
///
/// What cannot be read or is missing, or is outside the sum.
pub fn worked(asked: Asked<'_>) -> Result<Worked, Trouble> {
    let carcase = quantity::read("the carcase", asked.carcase, Dimension::Mass)?;
    let behind = quantity::read(
        "the distance behind the feet",
        asked.behind,
        Dimension::Length,
    )?;
    let height = quantity::read("the height", asked.height, Dimension::Length)?;
    let (drawer, out) = drawers(&asked)?;
    let open = asked.open.unwrap_or(asked.drawers);
    if open > asked.drawers {
        return Err(Trouble::Wrong(format!(
            "{open} drawers are open, and there are {}. Look at --open and --drawers.",
            asked.drawers
        )));
    }
    let with_open = |open: u8| {
        let closed = Mass {
            kg: drawer,
            behind_mm: behind,
        };
        let drawers = (0..asked.drawers).map(|number| match number < open {
            true => closed.pulled_out(out),
            false => closed,
        });
        let carcase = Mass {
            kg: carcase,
            behind_mm: behind,
        };
        moment(drawers.chain([carcase]))
    };
    let held = with_open(open)?;
    let all_open = with_open(asked.drawers)?;
    let standing = Standing {
        height_mm: height,
        opens_forward: asked.drawers > 0,
        is_top_heavy: asked.is_top_heavy,
        all_open,
        climbed_at_mm: out,
    };
    let advice = advice(&standing);
    let many = match (asked.drawers, open) {
        (0, _) => String::new(),
        (_, 0) => " with its drawers closed".to_owned(),
        (all, open) if all == open => " with all drawers open".to_owned(),
        (_, 1) => " with one drawer open".to_owned(),
        (_, open) => format!(" with {open} drawers open"),
    };
    let answer = if held > 0.0 {
        format!(
            "The piece{many} is tipped by a pull of {} at {}. {advice}",
            force(pull_that_tips(held, height)?),
            length(height)
        )
    } else {
        format!("The piece{many} tips by itself. {advice}")
    };
    let mut worked = Worked::new("tipping", answer, CAUTION);
    worked.step(format!(
        "Moment about the front feet: {} kg at {}{}: {} N·m.",
        plain(carcase),
        length(behind),
        match open {
            0 => String::new(),
            open => format!(
                ", {open} × {} kg brought forward by {}",
                plain(drawer),
                length(out)
            ),
        },
        plain(held)
    ));
    if held > 0.0 && out > 0.0 {
        let load = load_that_tips(held, out)?;
        worked.step(format!(
            "On the front of an open drawer, {} ahead of the feet at the most, {} tips it; a child \
             of {CHILD} kg is {}.",
            length(out),
            force(load),
            match load > CHILD * GRAVITY {
                true => "less",
                false => "more",
            }
        ));
        worked.figure("load on a drawer that tips", load, "N");
    }
    if asked.drawers > 0 {
        worked.step(format!(
            "With all drawers open: {} N·m; with a child hanging on one, {}.",
            plain(all_open),
            match all_open > CHILD * GRAVITY * out / 1000.0 {
                true => "it stands",
                false => "it tips",
            }
        ));
    }
    if let Some(middle) = asked.middle {
        let middle = quantity::read("the height of its middle", middle, Dimension::Length)?;
        let tilt = tilt_that_tips(behind, middle)?;
        worked.step(format!(
            "Closed, and leaned forward, it tips at {} degrees.",
            plain(tilt)
        ));
        worked.figure("tilt that tips", tilt, "degrees");
    }
    worked.from(tipping::SOURCE);
    worked.figure("moment", held, "N·m");
    worked.figure("moment with all open", all_open, "N·m");
    if held > 0.0 {
        worked.figure("pull that tips", pull_that_tips(held, height)?, "N");
    }
    Ok(worked)
}

/// What to do, and why.
fn advice(standing: &Standing) -> String {
    let why = match (standing.is_top_heavy, standing.all_open > 0.0) {
        (true, _) => "it is heavy above".to_owned(),
        (false, false) => "it tips by itself with all drawers open".to_owned(),
        (false, true) => format!("with all drawers open a child of {CHILD} kg on one tips it"),
    };
    match restraint(standing) {
        Restraint::NotNeeded => "By the sum it need not be fixed to the wall.".to_owned(),
        Restraint::Advised => format!(
            "Fix it to the wall: it stands with a child on it, but it has drawers and is higher than {}.",
            length(RESTRAIN_FROM)
        ),
        Restraint::Always => format!("Fix it to the wall before it is used: {why}."),
    }
}

/// What one drawer weighs in kg, and how far it comes out in mm.
fn drawers(asked: &Asked<'_>) -> Result<(f32, f32), Trouble> {
    match (asked.drawers, asked.drawer, asked.opens_by) {
        (0, None, None) => Ok((0.0, 0.0)),
        (0, ..) => Err(Trouble::Wrong(
            "Say how many drawers there are: --drawers 4.".to_owned(),
        )),
        (_, Some(drawer), Some(out)) => Ok((
            quantity::read("a drawer", drawer, Dimension::Mass)?,
            quantity::read("how far a drawer comes out", out, Dimension::Length)?,
        )),
        _ => Err(Trouble::Wrong(
            "Say what one drawer weighs with what is in it, and how far it comes out: --drawer \"5 kg\" \
             --opens-by \"300 mm\"."
                .to_owned(),
        )),
    }
}
