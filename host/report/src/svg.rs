//! Lines, shapes and words as SVG.

use std::fmt::Write as _;

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
