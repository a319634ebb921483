//! The parts of the piece drawn as trees, one for each main part; how each stands is
//! shown by a shape, so that it can be read without colour.

use super::mark::{Mark, Part};
use super::svg::Svg;
use tellmark_language::words::{capital, some_of};

const WIDTH: u32 = 228;
const ROW: u32 = 17;
const INDENT: u32 = 14;
const EDGE: u32 = 8;
/// Width of a letter, on average.
const LETTER: u32 = 6;

/// One line of a tree.
struct Row {
    depth: u32,
    words: String,
    mark: Mark,
    suspected: bool,
}

/// A tree for each main part; the piece itself first.
pub(super) fn drawings(parts: &[Part]) -> Vec<String> {
    let mut trees: Vec<Vec<Row>> = Vec::new();
    for (at, part) in parts.iter().enumerate() {
        match part.owner {
            None => trees.insert(0, vec![row(part, 0, &part.name)]),
            Some(0) => {
                let mut rows = vec![row(part, 0, &part.short)];
                below(parts, at, 1, &mut rows);
                trees.push(rows);
            }
            Some(_) => {}
        }
    }
    together(trees).iter().map(|rows| tree(rows)).collect()
}

fn row(part: &Part, depth: u32, words: &str) -> Row {
    Row {
        depth,
        words: words.to_owned(),
        mark: part.mark,
        suspected: part.suspected,
    }
}

/// The parts of a part. Those of one kind that stand alike, and have no parts of their
/// own, share a line.
fn below(parts: &[Part], owner: usize, depth: u32, rows: &mut Vec<Row>) {
    let own: Vec<usize> = (0..parts.len())
        .filter(|&at| parts[at].owner == Some(owner))
        .collect();
    let has_parts = |at: usize| parts.iter().any(|p| p.owner == Some(at));
    let mut rest = own.as_slice();
    while let [first, more @ ..] = rest {
        let part = &parts[*first];
        let alike = more.iter().take_while(|&&at| {
            let other = &parts[at];
            other.kind == part.kind
                && (other.mark, other.suspected) == (part.mark, part.suspected)
                && !has_parts(at)
        });
        let alike = if has_parts(*first) { 0 } else { alike.count() };
        if alike == 0 {
            rows.push(row(part, depth, &part.short));
            below(parts, *first, depth + 1, rows);
        } else {
            let number = u32::try_from(alike + 1).unwrap_or(u32::MAX);
            rows.push(row(
                part,
                depth,
                &some_of(number, &part.kind.0, &part.kind.1),
            ));
        }
        rest = more.get(alike..).unwrap_or_default();
    }
}

/// Main parts that have no parts of their own, each a tree of one row, stand with the
/// piece itself.
fn together(trees: Vec<Vec<Row>>) -> Vec<Vec<Row>> {
    let mut trees = trees.into_iter();
    let mut first = trees.next().unwrap_or_default();
    let mut others = Vec::new();
    for mut tree in trees {
        if tree.len() == 1 {
            for row in &mut tree {
                row.depth = 1;
            }
            first.extend(tree);
        } else {
            others.push(tree);
        }
    }
    let mut all = vec![first];
    all.extend(others);
    all
}

fn tree(rows: &[Row]) -> String {
    let mut svg = Svg::default();
    let lines = u32::try_from(rows.len()).unwrap_or(u32::MAX);
    let height = lines * ROW + 2 * EDGE;
    svg.shape(
        "rect",
        &format!(
            "x='.5' y='.5' width='{}' height='{}' rx='3' class='box'",
            WIDTH - 1,
            height - 1
        ),
    );
    let mut label = String::new();
    for (number, row) in (0u32..).zip(rows) {
        let x = EDGE + row.depth * INDENT;
        let middle = EDGE + number * ROW + ROW / 2;
        if row.depth > 0 {
            let up = above(rows, number, row.depth);
            svg.shape(
                "path",
                &format!(
                    "d='M{} {}V{middle}H{}' class='twig'",
                    x - 7,
                    EDGE + up * ROW + ROW - 3,
                    x - 1
                ),
            );
        }
        shape(&mut svg, row.mark, x + 5, middle);
        let taken = x + 15 + EDGE + if row.suspected { 16 } else { 0 };
        let room = WIDTH.saturating_sub(taken);
        let class = if row.depth == 0 { "main" } else { "part" };
        svg.text(
            &format!("x='{}' y='{}' class='{class}'", x + 15, middle + 4),
            &fitted(&capital(&row.words), room),
        );
        if row.suspected {
            suspicion(&mut svg, WIDTH - EDGE - 6, middle);
        }
        label.push_str(&format!("{}: {}", row.words, said(row.mark)));
        if row.suspected {
            label.push_str(", a hidden fault is likely");
        }
        label.push_str(". ");
    }
    svg.finish(
        &format!("width='{WIDTH}' height='{height}' viewBox='0 0 {WIDTH} {height}' class='tree'"),
        label.trim_end(),
    )
}

/// The row that a twig comes from: the nearest above that is less deep, or the last of
/// the same depth.
fn above(rows: &[Row], number: u32, depth: u32) -> u32 {
    let before = (0u32..).zip(rows).take_while(|(at, _)| *at < number);
    let nearest = before.filter(|(_, row)| row.depth <= depth).last();
    nearest.map_or(0, |(at, _)| at)
}

/// The words, cut with an ellipsis if they are too long for so many dots.
fn fitted(words: &str, room: u32) -> String {
    let most = usize::try_from(room / LETTER).unwrap_or(usize::MAX);
    if words.chars().count() <= most {
        return words.to_owned();
    }
    let cut: String = words.chars().take(most.saturating_sub(1)).collect();
    format!("{}…", cut.trim_end())
}

fn said(mark: Mark) -> &'static str {
    match mark {
        Mark::InOrder => "what was looked at is in order",
        Mark::Found => "something found",
        Mark::NotLooked => "not looked at",
        Mark::OutOfSight => "cannot be seen",
    }
}

fn shape(svg: &mut Svg, mark: Mark, x: u32, y: u32) {
    match mark {
        Mark::InOrder => {
            svg.shape("circle", &format!("cx='{x}' cy='{y}' r='5' class='order'"));
            let tick = format!("d='M{} {}l2 2.4l3.6 -4.6' class='tick'", x - 3, y);
            svg.shape("path", &tick);
        }
        Mark::Found => svg.shape(
            "path",
            &format!("d='M{x} {}l6 10.5h-12z' class='found'", y - 6),
        ),
        Mark::NotLooked => svg.shape("circle", &format!("cx='{x}' cy='{y}' r='4.5' class='open'")),
        Mark::OutOfSight => {
            let (left, top) = (x - 5, y - 5);
            svg.shape(
                "path",
                &format!("d='M{left} {top}h10v10h-10zl10 10m0 -10l-10 10' class='hidden'"),
            );
        }
    }
}

fn suspicion(svg: &mut Svg, x: u32, y: u32) {
    svg.shape(
        "path",
        &format!(
            "d='M{x} {}l6.5 6.5l-6.5 6.5l-6.5 -6.5z' class='likely'",
            y - 6
        ),
    );
    svg.text(&format!("x='{x}' y='{}' class='query'", y + 4), "?");
}

/// Each mark with what it means.
pub(super) fn legend() -> Vec<(String, String)> {
    let marks = [
        Mark::Found,
        Mark::InOrder,
        Mark::NotLooked,
        Mark::OutOfSight,
    ];
    let framed = |svg: Svg, words: &str| {
        let svg = svg.finish(
            "width='16' height='16' viewBox='0 0 16 16' class='tree'",
            words,
        );
        (svg, words.to_owned())
    };
    let mut legend: Vec<(String, String)> = marks
        .into_iter()
        .map(|mark| {
            let mut svg = Svg::default();
            shape(&mut svg, mark, 8, 8);
            framed(svg, said(mark))
        })
        .collect();
    let mut svg = Svg::default();
    suspicion(&mut svg, 8, 8);
    legend.push(framed(svg, "a hidden fault is likely (60 in 100 or more)"));
    legend
}
