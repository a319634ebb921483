//! Ten pegs in a rail: a chance, or hours. One peg is one of ten pieces like this.

use super::super::svg::Svg;
use tellmark_language::words::hours;

/// Ten places, so many of them with a peg standing in it. The words beside it say the same.
pub(super) fn chance(tenths: usize) -> String {
    let mut svg = Svg::default();
    svg.shape("path", "class=\"rail\" d=\"M1 19h132v8H1z\"");
    for place in 0..10_usize {
        let left = 5 + place * 12 + if place > 4 { 8 } else { 0 };
        if place < tenths {
            svg.shape(
                "rect",
                &format!("class=\"peg\" x=\"{left}\" y=\"4\" width=\"7\" height=\"19\" rx=\"2\""),
            );
        } else {
            let middle = left * 2 + 7;
            svg.shape(
                "circle",
                &format!(
                    "class=\"hole\" cx=\"{}.{}\" cy=\"23\" r=\"2.2\"",
                    middle / 2,
                    middle % 2 * 5
                ),
            );
        }
    }
    svg.beside_words("class=\"pegs\" viewBox=\"0 0 134 28\"")
}

/// A rule of hours with ten pegs on it, one for each tenth of all that may be: `at` has the
/// hours of each, fewest first.
pub(super) fn rule_of_hours(at: &[f64; 10], wide: bool) -> String {
    let width = if wide { 720.0 } else { 340.0 };
    let (least, most) = (at[0].floor(), at[9].ceil());
    let pad = if most - least > 6.0 {
        (most - least) / 12.0
    } else {
        1.0
    };
    let (from, to) = ((least - pad).floor().max(0.0), (most + pad).ceil());
    let place = |hours: f64| 14.0 + (hours - from) / (to - from) * (width - 28.0);
    let mut svg = Svg::default();
    for &hours in at {
        svg.shape(
            "rect",
            &format!(
                "class=\"peg\" x=\"{:.1}\" y=\"12\" width=\"7\" height=\"27\" rx=\"2\"",
                place(hours) - 3.5
            ),
        );
    }
    svg.shape(
        "path",
        &format!("class=\"rail\" d=\"M1 36h{:.0}v12H1z\"", width - 2.0),
    );
    let step = step(to - from, if wide { 14.0 } else { 7.0 });
    let mut mark = (from / step).ceil() * step;
    while mark <= to {
        let x = place(mark);
        svg.shape("path", &format!("class=\"tick\" d=\"M{x:.1} 36v12\""));
        svg.text(
            &format!("x=\"{x:.1}\" y=\"66\" text-anchor=\"middle\""),
            &format!("{mark:.0}"),
        );
        mark += step;
    }
    let label = format!(
        "A rule of hours with ten pegs on it, from {} to {}; the fifth stands at {}.",
        hours(at[0]),
        hours(at[9]),
        hours(at[4])
    );
    let class = if wide { "wide" } else { "narrow" };
    svg.finish(
        &format!("class=\"rule {class}\" viewBox=\"0 0 {width:.0} 72\""),
        &label,
    )
}

/// Whole hours from one mark to the next, so that there are not more marks than these.
fn step(span: f64, marks: f64) -> f64 {
    let steps = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0];
    let fits = steps.into_iter().find(|step| span / step <= marks);
    fits.unwrap_or(1000.0)
}
