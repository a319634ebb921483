//! Hours drawn: the range of an estimate with its pegs and marks, and what was taken beside
//! what was expected.

use crate::svg::{INK, LINE, MADDER, PEG, SOFT, Svg, TINT};
use tellmark_job::one_line::shortened;
use tellmark_job::papers::{Beside, HoursRange, Row};
use tellmark_language::words::{capital, hours, minutes};

/// Dots across, and free at either side.
const WIDE: f64 = 720.0;
const SIDE: f64 = 28.0;
/// Where the rule of hours lies, and where the rows of jobs begin.
const RULE: f64 = 96.0;
const ROWS: f64 = 190.0;
/// From one row to the next, and where their bars begin.
const ROW: f64 = 30.0;
const BARS: f64 = 300.0;

/// The range of hours as an SVG of its own; with what was taken, if it is given.
#[must_use]
pub fn hours_drawing(range: &HoursRange, beside: Option<&Beside>) -> String {
    let mut svg = Svg::default();
    let rows: Vec<&Row> = beside.map_or_else(Vec::new, compared);
    let tall = match rows.len() {
        0 => ROWS - 20.0,
        #[allow(clippy::cast_precision_loss)]
        some => ROWS + 30.0 + ROW * some as f64,
    };
    svg.shape(
        "rect",
        &format!("width=\"{WIDE}\" height=\"{tall}\" fill=\"#fff\""),
    );
    let taken = beside
        .map(|b| f64::from(b.taken) / 60.0)
        .filter(|taken| *taken > 0.0);
    draw_rule(&mut svg, range, taken);
    if !rows.is_empty() {
        draw_rows(&mut svg, &rows);
    }
    svg.finish(
        &format!(
            "viewBox=\"0 0 {WIDE} {tall}\" width=\"{WIDE}\" height=\"{tall}\" \
             font-family=\"Vollkorn, Georgia, serif\" font-size=\"14\" fill=\"{INK}\""
        ),
        &said(range, taken),
    )
}

/// What the drawing shows, for whoever cannot see it.
fn said(range: &HoursRange, taken: Option<f64>) -> String {
    let [one, five, nine] = [1, 9, 17].map(|at| hours(at_twentieth(range, at)));
    let taken = taken.map_or(String::new(), |taken| {
        format!(" {} were taken.", hours(taken))
    });
    format!(
        "A rule of bench hours. In 1 of 10 such pieces {one} are enough, in 5 of 10 {five}, in 9 of \
         10 {nine}.{taken}"
    )
}

fn at_twentieth(range: &HoursRange, at: usize) -> f64 {
    range.twentieths.get(at).copied().unwrap_or(0.0)
}

/// Jobs with both times.
fn compared(beside: &Beside) -> Vec<&Row> {
    let rows = beside.rows.iter();
    rows.filter(|row| row.expected.is_some() && row.taken.is_some())
        .collect()
}

/// Where so many hours lie, of the most that are drawn.
struct Scale {
    from: f64,
    to: f64,
    most: f64,
}

impl Scale {
    fn at(&self, hours: f64) -> f64 {
        self.from + (self.to - self.from) * (hours / self.most).clamp(0.0, 1.0)
    }

    /// Hours from one figure to the next.
    fn step(&self) -> f64 {
        let steps = [0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0];
        let fits = |step: &&f64| self.most / **step <= 9.0;
        steps.iter().find(fits).copied().unwrap_or(200.0)
    }

    fn figures(&self) -> Vec<f64> {
        let (mut figures, mut at) = (Vec::new(), 0.0);
        while at <= self.most + 1e-9 {
            figures.push(at);
            at += self.step();
        }
        figures
    }
}

fn draw_rule(svg: &mut Svg, range: &HoursRange, taken: Option<f64>) {
    let most = at_twentieth(range, 18).max(taken.unwrap_or(0.0)) * 1.05;
    let scale = Scale {
        from: SIDE,
        to: WIDE - SIDE,
        most: most.max(0.25),
    };
    let (one, nine) = (
        scale.at(at_twentieth(range, 1)),
        scale.at(at_twentieth(range, 17)),
    );
    svg.shape(
        "rect",
        &format!(
            "x=\"{one:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"34\" fill=\"{TINT}\"",
            RULE - 34.0,
            (nine - one).max(1.0)
        ),
    );
    svg.line((SIDE, RULE), (WIDE - SIDE, RULE), INK, 1.5);
    for figure in scale.figures() {
        let x = scale.at(figure);
        svg.line((x, RULE), (x, RULE + 6.0), INK, 1.0);
        svg.words((x, RULE + 22.0), "middle", SOFT, &plain(figure));
    }
    // Ten pegs: each is one of ten such pieces, at the hours it takes.
    for peg in 0..10 {
        let x = scale.at(at_twentieth(range, peg * 2));
        svg.shape(
            "rect",
            &format!(
                "x=\"{:.1}\" y=\"{:.1}\" width=\"5\" height=\"22\" rx=\"2\" fill=\"{PEG}\"",
                x - 2.5,
                RULE - 24.0
            ),
        );
    }
    draw_marks(svg, range, &scale);
    svg.words((WIDE - SIDE, RULE + 66.0), "end", SOFT, "bench hours");
    let pegs = "Ten pegs: each is one of ten such pieces, at the hours that are enough for it.";
    svg.words((SIDE, RULE + 66.0), "start", SOFT, pegs);
    if let Some(taken) = taken {
        let x = scale.at(taken);
        svg.line((x, RULE - 30.0), (x, RULE + 46.0), MADDER, 2.5);
        let (anchor, x) = if x > WIDE / 2.0 {
            ("end", x - 6.0)
        } else {
            ("start", x + 6.0)
        };
        let said = format!("{} taken", hours(taken));
        svg.words((x, RULE + 44.0), anchor, MADDER, &said);
    }
}

/// The hours that are enough in one, five and nine of ten cases.
fn draw_marks(svg: &mut Svg, range: &HoursRange, scale: &Scale) {
    /// Dots that a label takes to either side.
    const LABEL: f64 = 56.0;
    let [one, five, nine] = [1, 9, 17].map(|at| scale.at(at_twentieth(range, at)));
    let before = if one < SIDE + LABEL { "start" } else { "end" };
    let has_room = five - one > LABEL && nine - five > LABEL;
    for (at, x, anchor, label) in [
        (1, one, before, "1 in 10"),
        (9, five, "middle", "5 in 10"),
        (17, nine, "start", "9 in 10"),
    ] {
        svg.line((x, RULE - 44.0), (x, RULE), SOFT, 1.0);
        if at != 9 || has_room {
            svg.words((x, RULE - 64.0), anchor, SOFT, label);
            svg.words(
                (x, RULE - 48.0),
                anchor,
                INK,
                &hours(at_twentieth(range, at)),
            );
        }
    }
}

/// Each job: a bar from the quickest to the slowest, the usual time, and what it took.
fn draw_rows(svg: &mut Svg, rows: &[&Row]) {
    let longest = rows.iter().flat_map(|row| {
        let most = row.expected.map_or(0, |[_, _, most]| most);
        [most, row.taken.unwrap_or(0)]
    });
    let longest = f64::from(longest.max().unwrap_or(60)) / 60.0;
    let scale = Scale {
        from: BARS,
        to: WIDE - SIDE - 76.0,
        most: longest.max(0.25),
    };
    let heading = "Each job: from the quickest to the slowest, mostly the dot; taken, the stroke";
    svg.words((SIDE, ROWS), "start", SOFT, heading);
    for (at, row) in (0u32..).zip(rows) {
        let y = ROWS + ROW * f64::from(at + 1);
        svg.line((SIDE, y + 11.0), (WIDE - SIDE, y + 11.0), LINE, 0.5);
        let label = shortened(&capital(&row.job), 38);
        svg.words((SIDE, y + 4.0), "start", INK, &label);
        let (Some([least, mostly, most]), Some(taken)) = (row.expected, row.taken) else {
            continue;
        };
        let at = |minutes: u32| scale.at(f64::from(minutes) / 60.0);
        svg.shape(
            "rect",
            &format!(
                "x=\"{:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"10\" fill=\"{TINT}\" \
                 stroke=\"{LINE}\"",
                at(least),
                y - 6.0,
                (at(most) - at(least)).max(1.0)
            ),
        );
        svg.shape(
            "circle",
            &format!(
                "cx=\"{:.1}\" cy=\"{:.1}\" r=\"3\" fill=\"{PEG}\"",
                at(mostly),
                y - 1.0
            ),
        );
        svg.line((at(taken), y - 9.0), (at(taken), y + 7.0), MADDER, 2.5);
        svg.words((WIDE - SIDE, y + 4.0), "end", MADDER, &minutes(taken));
    }
}

/// "2", "0.5".
fn plain(hours: f64) -> String {
    let text = format!("{hours:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
