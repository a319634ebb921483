//! How far a board moves across the grain, and what becomes of one that is held.

use crate::named;
use crate::quantity;
use crate::shown::{length, lengths, plain, span};
use crate::trouble::Trouble;
use crate::unit::Dimension;
use crate::worked::Worked;
use tellmark_core::handbook::moisture;
use tellmark_core::handbook::movement::{self, Cut, Held, Span};
use tellmark_core::handbook::woods::Wood;
use tellmark_language::words::list;

pub(crate) const CAUTION: &str = "A board follows the air slowly and seldom all the way, and is seldom purely \
                       flat-sawn or quartered: take it as a guide for gaps, and measure the piece.";
pub(crate) const HELD: &str = "Wood that was held for years is set already: free a panel before you dry or \
                    damp it, and change its air slowly.";
/// Climates of a year, at the most.
const MOST: usize = 12;

/// What the wood passes through.
#[derive(Clone, Copy, Debug)]
pub enum Between<'a> {
    /// Air, as "20 C 60 %"; the width is that in the first.
    Climates(&'a [&'a str]),
    /// Moistures of the wood, as "12 %"; the width is that at the first.
    Moistures(&'a [&'a str]),
}

/// A board as it was asked about.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// Its wood.
    pub wood: &'a str,
    /// "flat", "quarter" or "unknown".
    pub cut: Option<&'a str>,
    /// What it passes through.
    pub between: Between<'a>,
}

/// A board through a year, for a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Year {
    /// What moves: "flat-sawn board of oak".
    pub board: String,
    /// Its width at first, mm.
    pub width: f32,
    /// Where it is at each climate.
    pub points: Vec<Point>,
}

/// A board in one climate.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// "20 C 60 %".
    pub label: String,
    /// Moisture of the wood, %.
    pub moisture: f32,
    /// Change of width since the first, mm: the end nearer to nothing.
    pub least: f32,
    /// The end further from nothing.
    pub most: f32,
}

impl Asked<'_> {
    /// How far a board of this width moves.
    ///
    /// # Errors
    ///
    /// What cannot be read, or is outside the published tables.
    pub fn board(&self, width: &str) -> Result<(Worked, Year), Trouble> {
        let wood = named::wood(self.wood)?;
        let cut = named::cut(self.cut)?;
        let width = quantity::read("the width", width, Dimension::Length)?;
        let passed = self.passed()?;
        let points = points(wood, cut, width, &passed)?;
        let board = format!("{} of {}", cut_words(cut), wood.name);
        let of_width = length(width);
        let (least, most) = travel(&points);
        let answer = match points.as_slice() {
            [_, last] if last.most == 0.0 => {
                format!("A {board}, {of_width} wide, does not move.")
            }
            [_, last] => format!(
                "A {board}, {of_width} wide, {} by {}.",
                match last.most < 0.0 {
                    true => "shrinks",
                    false => "swells",
                },
                lengths(last.least.abs(), last.most.abs())
            ),
            _ => format!(
                "A {board}, {of_width} wide, moves through {} between its narrowest and its widest.",
                lengths(least, most)
            ),
        };
        let mut worked = Worked::new("movement", answer, CAUTION);
        for point in &points {
            worked.step(format!(
                "{}: wood at {} % of moisture, {} mm.",
                point.label,
                plain(point.moisture),
                signed(point.least, point.most)
            ));
        }
        explain(&mut worked, wood, &passed, self.between);
        worked.figure("width", width, "mm");
        worked.figure("movement least", least, "mm");
        worked.figure("movement most", most, "mm");
        for (number, point) in (1..).zip(&points) {
            worked.figure(format!("moisture {number}"), point.moisture, "%");
            worked.figure(format!("change least {number}"), point.least, "mm");
            worked.figure(format!("change most {number}"), point.most, "mm");
        }
        let year = Year {
            board,
            width,
            points,
        };
        Ok((worked, year))
    }

    /// What becomes of a panel that is held.
    ///
    /// # Errors
    ///
    /// What cannot be read, or is outside the published tables.
    pub fn panel(&self) -> Result<Worked, Trouble> {
        let wood = named::wood(self.wood)?;
        let cut = named::cut(self.cut)?;
        let passed = self.passed()?;
        // Of a hundred, so that millimetres are per cent.
        let points = points(wood, cut, 100.0, &passed)?;
        let furthest = points.iter().skip(1);
        let Some(worst) = furthest.max_by(|a, b| a.most.abs().total_cmp(&b.most.abs())) else {
            return Err(too_few());
        };
        let held = movement::held(worst.most);
        let strain = span(worst.least.abs(), worst.most.abs());
        let comes_to = match held {
            Held::Gives => "which wood gives and takes back",
            Held::Stressed => "which stresses it and its joints: expect open joints or checks",
            Held::Crushed => {
                "which crushes the wood in itself: once dry it will be too narrow, and split or gape"
            }
            Held::Splits => "which is more than wood stands across the grain: expect a split",
        };
        let answer = format!(
            "A {} of {}, held fast, is strained by {strain} %, {comes_to}.",
            cut_words(cut),
            wood.name
        );
        let mut worked = Worked::new("panel", answer, HELD);
        for point in &points {
            worked.step(format!(
                "{}: wood at {} % of moisture; free, it would be {} % wider than at first.",
                point.label,
                plain(point.moisture),
                signed(point.least, point.most)
            ));
        }
        worked.step(format!(
            "Up to {} % wood gives and takes back; over {} % it splits in drying (from memory).",
            movement::ELASTIC,
            movement::TEARS
        ));
        explain(&mut worked, wood, &passed, self.between);
        worked.from(movement::STRAIN_SOURCE);
        worked.figure("strain least", worst.least, "%");
        worked.figure("strain most", worst.most, "%");
        Ok(worked)
    }

    /// Each climate or moisture as it was typed, and the moisture of the wood.
    fn passed(&self) -> Result<Vec<(String, f32)>, Trouble> {
        let passed: Vec<(String, f32)> = match self.between {
            Between::Climates(climates) => climates
                .iter()
                .map(|text| {
                    let (celsius, humidity) = quantity::climate(text)?;
                    let wood = moisture::equilibrium(celsius, humidity)?;
                    Ok((
                        format!("{} °C, {} %", plain(celsius), plain(humidity)),
                        wood,
                    ))
                })
                .collect::<Result<_, Trouble>>()?,
            Between::Moistures(moistures) => moistures
                .iter()
                .map(|text| {
                    let wood = quantity::read("the moisture", text, Dimension::Share)?;
                    Ok((format!("at {} %", plain(wood)), wood))
                })
                .collect::<Result<_, Trouble>>()?,
        };
        match passed.len() {
            0 | 1 => Err(too_few()),
            2..=MOST => Ok(passed),
            _ => Err(Trouble::Wrong(format!(
                "{} climates are more than a year has room for, which is {MOST}, one a month. Leave some out.",
                passed.len()
            ))),
        }
    }
}

fn too_few() -> Trouble {
    Trouble::Wrong(
        "It takes at least two: say --climate \"20 C 60 %\" --climate \"20 C 35 %\", or --moisture \
         \"12 %\" --moisture \"8 %\"."
            .to_owned(),
    )
}

fn points(
    wood: &Wood,
    cut: Cut,
    width: f32,
    passed: &[(String, f32)],
) -> Result<Vec<Point>, Trouble> {
    let first = passed.first().map_or(0.0, |(_, first)| *first);
    let one = |(label, moisture): &(String, f32)| {
        let Span { least, most } = movement::of_wood(wood, cut, width, first, *moisture)?;
        Ok(Point {
            label: label.clone(),
            moisture: *moisture,
            least,
            most,
        })
    };
    passed.iter().map(one).collect()
}

/// From the narrowest to the widest: least and most.
fn travel(points: &[Point]) -> (f32, f32) {
    let over = |of: fn(&Point) -> f32| {
        let low = points.iter().map(of).fold(0.0, f32::min);
        let high = points.iter().map(of).fold(0.0, f32::max);
        high - low
    };
    (over(|point| point.least), over(|point| point.most))
}

fn cut_words(cut: Cut) -> &'static str {
    match cut {
        Cut::Flat => "flat-sawn board",
        Cut::Quarter => "quartered board",
        Cut::Unknown => "board, flat-sawn or quartered,",
    }
}

/// "+1.2", "-5.5", "-5.5 to -6.1".
fn signed(least: f32, most: f32) -> String {
    let (one, other) = (format!("{least:+.2}"), format!("{most:+.2}"));
    match one == other {
        true => one,
        false => format!("{one} to {other}"),
    }
}

/// Which figures were used, where sources disagree, and all sources.
fn explain(worked: &mut Worked, wood: &Wood, passed: &[(String, f32)], between: Between<'_>) {
    let (low, high) = movement::BY_COEFFICIENT;
    let is_within = |(_, wood): &&(String, f32)| *wood >= low && *wood <= high;
    let within = passed.iter().filter(is_within).count();
    let by = match (wood.movement.coefficients, within == passed.len()) {
        (None, _) => "Eq. (13-3), by shrinkage",
        (Some(_), true) => "Eq. (13-2), by coefficient",
        (Some(_), false) => {
            "Eq. (13-2), by coefficient, from 6 to 14 %; past these Eq. (13-3), by shrinkage"
        }
    };
    let figures = match wood.movement.coefficients {
        Some(c) => format!(
            ", {:.5} and {:.5} for each 1 % of moisture",
            c.radial, c.tangential
        ),
        None => String::new(),
    };
    worked.step(format!(
        "{by}; {} shrinks by {} % radially and {} % tangentially from green to dry{figures}.",
        wood.name,
        plain(wood.movement.radial),
        plain(wood.movement.tangential)
    ));
    if !wood.movement_elsewhere.is_empty() {
        let sources = std::iter::once(&wood.movement).chain(wood.movement_elsewhere);
        let sources: Vec<String> = sources.map(|one| one.source.to_string()).collect();
        worked.step(format!(
            "Sources disagree, so it is a range: {}. For a gap take the larger.",
            list(&sources)
        ));
    }
    if matches!(between, Between::Climates(_)) {
        worked.from(moisture::SOURCE);
    }
    worked.from(movement::SOURCE);
    worked.from(wood.movement.source);
    for other in wood.movement_elsewhere {
        worked.from(other.source);
    }
}
