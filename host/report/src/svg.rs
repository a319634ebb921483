//! Lines, shapes and words as SVG.

use std::fmt::Write as _;

/// Of lines and words that matter.
pub(super) const INK: &str = "#2a201a";
/// Of those that explain.
pub(super) const SOFT: &str = "#5f5347";
/// Of what is to be seen first.
pub(super) const MADDER: &str = "#8a2d1c";
/// Of wood.
pub(super) const PEG: &str = "#4a3021";
/// Of areas.
pub(super) const TINT: &str = "#f3e7d0";
/// Of rules and edges.
pub(super) const LINE: &str = "#cdbfa8";

/// A drawing.
#[derive(Debug, Default)]
pub(super) struct Svg {
    body: String,
}

impl Svg {
    /// Adds a shape: its name, and its attributes as written.
    pub(super) fn shape(&mut self, name: &str, attributes: &str) {
        // Writing to a string cannot fail.
        let _ = write!(self.body, "<{name} {attributes}/>");
    }

    /// Adds words.
    pub(super) fn text(&mut self, attributes: &str, words: &str) {
        let _ = write!(self.body, "<text {attributes}>{}</text>", escaped(words));
    }

    /// Adds a straight line.
    pub(super) fn line(&mut self, from: (f64, f64), to: (f64, f64), colour: &str, wide: f64) {
        self.shape(
            "line",
            &format!(
                "x1=\"{:.1}\" y1=\"{:.1}\" x2=\"{:.1}\" y2=\"{:.1}\" stroke=\"{colour}\" \
                 stroke-width=\"{wide}\"",
                from.0, from.1, to.0, to.1
            ),
        );
    }

    /// Adds words at a place; `anchor` says whether they begin, end or have their middle there.
    pub(super) fn words(&mut self, at: (f64, f64), anchor: &str, colour: &str, said: &str) {
        let attributes = format!(
            "x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"{anchor}\" fill=\"{colour}\"",
            at.0, at.1
        );
        self.text(&attributes, said);
    }

    /// The drawing with its opening tag; `label` says what it shows to whoever cannot
    /// see it.
    pub(super) fn finish(self, attributes: &str, label: &str) -> String {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"{}\" {attributes}>{}</svg>",
            escaped(label),
            self.body
        )
    }
}

impl Svg {
    /// A drawing that says no more than the words beside it, so that nobody needs to be
    /// told of it.
    pub(super) fn beside_words(self, attributes: &str) -> String {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" aria-hidden=\"true\" focusable=\"false\" \
             {attributes}>{}</svg>",
            self.body
        )
    }
}

/// Text as it may stand between tags and in quotation marks.
pub(super) fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            c if c.is_control() => safe.push(' '),
            c => safe.push(c),
        }
    }
    safe
}
