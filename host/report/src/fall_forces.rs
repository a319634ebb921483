//! The forces on a fall that is let down, drawn in section.

use crate::svg::{INK, LINE, MADDER, SOFT, Svg, TINT};
use tellmark_sums::fall::Forces;

/// Dots across and down.
const WIDE: f64 = 720.0;
const TALL: f64 = 360.0;
/// Where the pin is.
const PIN: (f64, f64) = (230.0, 150.0);
/// How far the free edge is from it.
const REACH: f64 = 440.0;
/// How thick the fall is drawn, whatever it is.
const THICK: f64 = 44.0;
/// Arrows of the largest force, and the shortest that are drawn.
const LONGEST: f64 = 92.0;
const SHORTEST: f64 = 16.0;

/// The forces on a fall as an SVG of its own. The section is not to scale; arrows of one drawing
/// are, down to the shortest that can be seen.
#[must_use]
pub fn forces_drawing(forces: &Forces) -> String {
    let mut svg = Svg::default();
    svg.shape(
        "rect",
        &format!("width=\"{WIDE}\" height=\"{TALL}\" fill=\"#fff\""),
    );
    draw_section(&mut svg);
    let loads = loads(forces);
    let largest = loads.iter().map(|load| load.newtons).fold(1.0, f64::max);
    for load in &loads {
        draw(&mut svg, load, largest);
    }
    svg.words((28.0, 30.0), "start", INK, heading(forces));
    svg.words(
        (28.0, 50.0),
        "start",
        SOFT,
        "In section; thickness and lengths are not to scale",
    );
    svg.finish(
        &format!(
            "viewBox=\"0 0 {WIDE} {TALL}\" width=\"{WIDE}\" height=\"{TALL}\" \
             font-family=\"Vollkorn, Georgia, serif\" font-size=\"14\" fill=\"{INK}\""
        ),
        &said(forces, &loads),
    )
}

fn heading(forces: &Forces) -> &'static str {
    match forces.supports {
        Some(_) => "A fall on its supports",
        None => "A fall held open by its hinges alone",
    }
}

/// What the drawing shows, for whoever cannot see it.
fn said(forces: &Forces, loads: &[Load]) -> String {
    let loads: Vec<String> = loads.iter().map(Load::in_words).collect();
    format!("{}: {}.", heading(forces), loads.join("; "))
}

/// A force on the fall.
struct Load {
    name: &'static str,
    newtons: f64,
    /// Where it acts.
    at: (f64, f64),
    /// Which way it acts: right and down are positive, of length one.
    way: (f64, f64),
    /// Where its words stand from the end of its arrow, and how they are anchored there.
    words: (f64, f64, &'static str),
}

impl Load {
    fn in_words(&self) -> String {
        format!("{} {:.0} N", self.name, self.newtons)
    }
}

fn loads(forces: &Forces) -> Vec<Load> {
    let fall = forces.fall;
    let along = |mm: f32| PIN.0 + REACH * f64::from(mm / forces.depth);
    let mut loads = vec![Load {
        name: "weight",
        newtons: fall.weight.into(),
        at: (along(fall.weight_at_mm), PIN.1),
        way: (0.0, 1.0),
        words: (8.0, 6.0, "start"),
    }];
    if fall.hand > 0.0 {
        loads.push(Load {
            name: "hand",
            newtons: fall.hand.into(),
            at: (along(fall.hand_at_mm), PIN.1),
            way: (0.0, 1.0),
            words: (-8.0, 6.0, "end"),
        });
    }
    if let Some((depth, at_pin)) = forces.by_hinges {
        let share = f64::from(depth / fall.thickness_mm);
        loads.push(Load {
            name: "hinges hold back",
            newtons: at_pin.pull.into(),
            at: PIN,
            way: (-1.0, 0.0),
            words: (0.0, -10.0, "middle"),
        });
        loads.push(Load {
            name: "carcase pushes",
            newtons: at_pin.pull.into(),
            at: (PIN.0, PIN.1 + THICK * share),
            way: (1.0, 0.0),
            words: (8.0, -4.0, "start"),
        });
        loads.push(hinges_down(at_pin.down));
    }
    if let Some((reach, held)) = forces.supports {
        loads.push(Load {
            name: "supports carry",
            newtons: held.support.into(),
            at: (along(reach), PIN.1 + THICK),
            way: (0.0, -1.0),
            words: (0.0, 18.0, "middle"),
        });
        loads.push(hinges_down(held.hinge));
    }
    loads
}

/// What hinges do to the fall: they bear it up, or hold it down where it would lift.
fn hinges_down(down: f32) -> Load {
    let (name, way, words) = match down < 0.0 {
        true => ("hinges hold down", 1.0, (-10.0, 6.0, "end")),
        false => ("hinges bear", -1.0, (8.0, 4.0, "start")),
    };
    Load {
        name,
        newtons: f64::from(down.abs()),
        at: PIN,
        way: (0.0, way),
        words,
    }
}

/// Carcase, fall and pin.
fn draw_section(svg: &mut Svg) {
    let board = |svg: &mut Svg, x: f64, wide: f64| {
        svg.shape(
            "rect",
            &format!(
                "x=\"{x:.1}\" y=\"{:.1}\" width=\"{wide:.1}\" height=\"{THICK}\" fill=\"{TINT}\" \
                 stroke=\"{LINE}\" stroke-width=\"1.5\"",
                PIN.1
            ),
        );
    };
    board(svg, 28.0, PIN.0 - 28.0 - 2.0);
    board(svg, PIN.0 + 2.0, REACH);
    svg.words((36.0, PIN.1 + THICK + 18.0), "start", SOFT, "carcase");
    svg.words(
        (PIN.0 + REACH, PIN.1 + THICK + 18.0),
        "end",
        SOFT,
        "fall, level",
    );
    svg.shape(
        "circle",
        &format!(
            "cx=\"{:.1}\" cy=\"{:.1}\" r=\"6\" fill=\"#fff\" stroke=\"{INK}\" stroke-width=\"2\"",
            PIN.0, PIN.1
        ),
    );
}

/// An arrow with its words. What presses ends where it acts; what pulls begins there.
fn draw(svg: &mut Svg, load: &Load, largest: f64) {
    let long = (LONGEST * load.newtons / largest).max(SHORTEST);
    let presses = load.way.1 > 0.0 && load.at.1 <= PIN.1 && load.at != PIN;
    let supports = load.way.1 < 0.0 && load.at.1 > PIN.1;
    let (from, to) = match presses || supports {
        true => (
            (load.at.0 - load.way.0 * long, load.at.1 - load.way.1 * long),
            load.at,
        ),
        false => (
            load.at,
            (load.at.0 + load.way.0 * long, load.at.1 + load.way.1 * long),
        ),
    };
    svg.line(from, to, MADDER, 2.5);
    let (back, aside) = (9.0, 4.5);
    let corner = |side: f64| {
        format!(
            "{:.1},{:.1}",
            to.0 - load.way.0 * back + load.way.1 * aside * side,
            to.1 - load.way.1 * back + load.way.0 * aside * side
        )
    };
    svg.shape(
        "polygon",
        &format!(
            "points=\"{:.1},{:.1} {} {}\" fill=\"{MADDER}\"",
            to.0,
            to.1,
            corner(1.0),
            corner(-1.0)
        ),
    );
    // Words stand at the far end of the arrow.
    let end = match presses || supports {
        true => from,
        false => to,
    };
    let (dx, dy, anchor) = load.words;
    svg.words((end.0 + dx, end.1 + dy), anchor, MADDER, &load.in_words());
}
