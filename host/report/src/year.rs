//! A board through the climates of a year, drawn.

use crate::svg::{INK, LINE, MADDER, PEG, SOFT, Svg, TINT};
use tellmark_language::words::capital;
use tellmark_sums::movement::{Point, Year};

/// Dots across and down.
const WIDE: f64 = 720.0;
const TALL: f64 = 400.0;
/// Where the field of the curve begins and ends.
const LEFT: f64 = 78.0;
const RIGHT: f64 = WIDE - 36.0;
const TOP: f64 = 84.0;
const BOTTOM: f64 = TALL - 84.0;
/// Letters of a label under a climate, at the most.
const MONTHS: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];

/// A board through the climates of a year as an SVG of its own: its change of width since the
/// first, as a band where sources disagree. Twelve climates are months.
#[must_use]
pub fn year_drawing(year: &Year) -> String {
    let mut svg = Svg::default();
    svg.shape(
        "rect",
        &format!("width=\"{WIDE}\" height=\"{TALL}\" fill=\"#fff\""),
    );
    let heading = format!(
        "{}, {:.0} mm wide at first",
        capital(&year.board),
        year.width
    );
    svg.words((LEFT, 30.0), "start", INK, &heading);
    let is_open = |point: &Point| point.least != point.most;
    let explained = match year.points.iter().any(is_open) {
        true => {
            "In mm, if it kept up with the air, which no board does; a band where it is not sure"
        }
        false => "Change of width in mm, if it kept up with the air, which no board does",
    };
    svg.words((LEFT, 50.0), "start", SOFT, explained);
    let field = Field::of(&year.points);
    draw_scale(&mut svg, &field);
    draw_curve(&mut svg, &field, &year.points);
    draw_climates(&mut svg, &field, &year.points);
    svg.finish(
        &format!(
            "viewBox=\"0 0 {WIDE} {TALL}\" width=\"{WIDE}\" height=\"{TALL}\" \
             font-family=\"Vollkorn, Georgia, serif\" font-size=\"14\" fill=\"{INK}\""
        ),
        &said(year),
    )
}

/// What the drawing shows, for whoever cannot see it.
fn said(year: &Year) -> String {
    let changes: Vec<String> = year
        .points
        .iter()
        .map(|point| format!("{}: {}", point.label, signed(point.least, point.most)))
        .collect();
    format!(
        "Change of width of a {}, in mm since the first climate. {}.",
        year.board,
        changes.join("; ")
    )
}

fn signed(least: f32, most: f32) -> String {
    let (one, other) = (format!("{least:+.1}"), format!("{most:+.1}"));
    match one == other {
        true => one,
        false => format!("{one} to {other}"),
    }
}

/// Where climates and changes lie.
struct Field {
    low: f64,
    high: f64,
    climates: f64,
}

impl Field {
    fn of(points: &[Point]) -> Field {
        let both = |point: &Point| [f64::from(point.least), f64::from(point.most)];
        let all = || points.iter().flat_map(both);
        let (low, high) = (all().fold(0.0, f64::min), all().fold(0.0, f64::max));
        // A board that does not move has its line in the middle.
        let edge = ((high - low) * 0.08).max(0.05);
        #[allow(clippy::cast_precision_loss, reason = "twelve at the most")]
        let climates = points.len() as f64;
        Field {
            low: low - edge,
            high: high + edge,
            climates,
        }
    }

    fn x(&self, number: u32) -> f64 {
        LEFT + (RIGHT - LEFT) * (f64::from(number) + 0.5) / self.climates.max(1.0)
    }

    fn y(&self, change: f64) -> f64 {
        BOTTOM - (BOTTOM - TOP) * (change - self.low) / (self.high - self.low)
    }

    /// Changes that are written at the side.
    fn figures(&self) -> Vec<f64> {
        let steps = [0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0];
        let fits = |step: &&f64| (self.high - self.low) / **step <= 8.0;
        let step = steps.iter().find(fits).copied().unwrap_or(100.0);
        let mut figures = Vec::new();
        let mut at = (self.low / step).ceil() * step;
        while at <= self.high + 1e-9 {
            figures.push(at);
            at += step;
        }
        figures
    }
}

fn draw_scale(svg: &mut Svg, field: &Field) {
    for figure in field.figures() {
        let y = field.y(figure);
        let is_first = figure.abs() < 1e-9;
        let (colour, wide) = match is_first {
            true => (SOFT, 1.2),
            false => (LINE, 0.7),
        };
        svg.line((LEFT, y), (RIGHT, y), colour, wide);
        let shown = match is_first {
            true => "0".to_owned(),
            false => {
                let text = format!("{figure:+.2}");
                text.trim_end_matches('0').trim_end_matches('.').to_owned()
            }
        };
        svg.words((LEFT - 8.0, y + 4.0), "end", SOFT, &shown);
    }
}

fn draw_curve(svg: &mut Svg, field: &Field, points: &[Point]) {
    let place = |number: u32, change: f32| (field.x(number), field.y(f64::from(change)));
    let along = |of: fn(&Point) -> f32| -> Vec<(f64, f64)> {
        (0..)
            .zip(points)
            .map(|(number, point)| place(number, of(point)))
            .collect()
    };
    let (least, most) = (along(|point| point.least), along(|point| point.most));
    let corners: Vec<String> = least
        .iter()
        .chain(most.iter().rev())
        .map(|(x, y)| format!("{x:.1},{y:.1}"))
        .collect();
    svg.shape(
        "polygon",
        &format!(
            "points=\"{}\" fill=\"{TINT}\" stroke=\"{LINE}\"",
            corners.join(" ")
        ),
    );
    for pair in most.windows(2) {
        if let [from, to] = pair {
            svg.line(*from, *to, MADDER, 2.0);
        }
    }
    for (x, y) in most {
        svg.shape(
            "circle",
            &format!("cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"3.5\" fill=\"{PEG}\""),
        );
    }
}

fn draw_climates(svg: &mut Svg, field: &Field, points: &[Point]) {
    let is_a_year = points.len() == MONTHS.len();
    for ((number, point), month) in (0..).zip(points).zip(MONTHS.iter().cycle()) {
        let x = field.x(number);
        svg.line((x, BOTTOM), (x, BOTTOM + 5.0), SOFT, 1.0);
        let name = match is_a_year {
            true => (*month).to_owned(),
            false => (number + 1).to_string(),
        };
        svg.words((x, BOTTOM + 22.0), "middle", INK, &name);
        // Two parts of a label, one under the other: temperature and humidity.
        for (row, part) in (0u32..).zip(point.label.split(", ")) {
            let y = BOTTOM + 40.0 + 16.0 * f64::from(row);
            svg.words((x, y), "middle", SOFT, part);
        }
    }
    svg.line((LEFT, BOTTOM), (RIGHT, BOTTOM), SOFT, 1.0);
}
