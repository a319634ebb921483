//! What is shown on a terminal: our own styling, and everybody else's words.
//!
//! Words from records, rules, file names and command lines may hold control bytes, which
//! a terminal would obey. So they are shown escaped ([`escaped`]), and our own styling is
//! marked ([`Ink`]) with a number that is drawn anew by every run of the program: no
//! words that were there before can imitate it.

use anstyle::Style;
use std::fmt;
use std::hash::{BuildHasher as _, RandomState};
use std::sync::LazyLock;

/// Begins a piece of our own styling. By itself it is a control sequence that terminals
/// pass over (ECMA-48, application program command).
static BEGIN: LazyLock<String> = LazyLock::new(|| {
    let (one, other) = (RandomState::new(), RandomState::new());
    format!("\u{1b}_{:016x}{:016x};", one.hash_one(1), other.hash_one(2))
});
/// Ends one.
const END: &str = "\u{1b}\\";

/// Styling with its marks: one text, so that it is also written in one go.
fn marked(styling: impl fmt::Display) -> String {
    format!("{}{styling}{END}", BEGIN.as_str())
}

/// A style of our own: `{STRONG}` begins it and `{STRONG:#}` ends it. What is printed
/// must go through [`pieces`], which takes the marks off again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ink(Style);

impl Ink {
    /// No style.
    pub const PLAIN: Ink = Ink(Style::new());
    /// For what matters most.
    pub const STRONG: Ink = Ink(Style::new().bold());
    /// For what matters less.
    pub const FAINT: Ink = Ink(Style::new().dimmed());

    /// Any other style.
    #[must_use]
    pub const fn of(style: Style) -> Ink {
        Ink(style)
    }
}

impl fmt::Display for Ink {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.is_plain() {
            return Ok(());
        }
        if f.alternate() {
            f.write_str(&marked(self.0.render_reset()))
        } else {
            f.write_str(&marked(self.0.render()))
        }
    }
}

/// Takes the terminal back to the beginning of its line, for a text that grows.
#[derive(Clone, Copy, Debug)]
pub struct LineStart;

impl fmt::Display for LineStart {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&marked("\r"))
    }
}

/// A piece of what is to be shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Piece<'t> {
    /// Our own styling, for the terminal to obey.
    Styling(&'t str),
    /// Words from anywhere.
    Words(&'t str),
}

/// Parts our own styling from everything else.
#[must_use]
pub fn pieces(text: &str) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    let mut rest = text;
    while let Some((words, after)) = rest.split_once(BEGIN.as_str()) {
        let Some((styling, after)) = after.split_once(END) else {
            break;
        };
        if !words.is_empty() {
            pieces.push(Piece::Words(words));
        }
        pieces.push(Piece::Styling(styling));
        rest = after;
    }
    if !rest.is_empty() {
        pieces.push(Piece::Words(rest));
    }
    pieces
}

/// The words with everything escaped that a terminal might obey, or that cannot be seen:
/// `\u001b`. The same escapes are right inside of JSON, where nothing else has such
/// signs. Ends of lines stay, and a tab becomes a space.
#[must_use]
pub fn escaped(words: &str) -> String {
    let mut shown = String::with_capacity(words.len());
    for sign in words.chars() {
        push_escaped(&mut shown, sign);
    }
    shown
}

/// Adds one sign, escaped if it must be.
pub fn push_escaped(shown: &mut String, sign: char) {
    if sign == '\t' {
        shown.push(' ');
    } else if sign == '\n' || can_be_seen(sign) {
        shown.push(sign);
    } else {
        let mut units = [0; 2];
        for unit in sign.encode_utf16(&mut units) {
            shown.push_str(&format!("\\u{unit:04x}"));
        }
    }
}

/// Whether a sign is printed as what it is, and steers nothing.
fn can_be_seen(sign: char) -> bool {
    if sign.is_ascii() {
        return !sign.is_ascii_control();
    }
    // Spaces of other widths are seen as spaces; ends of lines and paragraphs are not.
    if sign.is_whitespace() {
        return !matches!(sign, '\u{85}' | '\u{2028}' | '\u{2029}');
    }
    // Letters, marks and fillers that Unicode lets be ignored (Default_Ignorable_Code_Point)
    // and that are not among the format characters.
    if matches!(sign,
        '\u{34f}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}' | '\u{180b}'..='\u{180f}'
        | '\u{3164}' | '\u{fe00}'..='\u{fe0f}' | '\u{ffa0}' | '\u{e0000}'..='\u{e0fff}')
    {
        return false;
    }
    // After a letter, only control and format characters, private use and what is not
    // assigned are escaped; a mark over a letter is not.
    let mut after_a_letter = [b'a', 0, 0, 0, 0];
    let (_, room) = after_a_letter.split_at_mut(1);
    let length = 1 + sign.encode_utf8(room).len();
    std::str::from_utf8(after_a_letter.get(..length).unwrap_or_default())
        .is_ok_and(|text| text.escape_debug().count() == 2)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_terminal_obeys_is_escaped() {
        for (words, shown) in [
            (
                "red \u{1b}[31m, bell \u{7}",
                "red \\u001b[31m, bell \\u0007",
            ),
            ("\r\u{8}\u{7f}", "\\u000d\\u0008\\u007f"),
            ("C1 \u{9b}31m", "C1 \\u009b31m"),
            ("\u{202e}txt.exe\u{2066}", "\\u202etxt.exe\\u2066"),
            ("a\u{200b}b\u{ad}\u{feff}", "a\\u200bb\\u00ad\\ufeff"),
            ("\u{2028}\u{85}", "\\u2028\\u0085"),
            ("\u{e0041}\u{fe0f}\u{3164}", "\\udb40\\udc41\\ufe0f\\u3164"),
            ("\u{f8ff}\u{ffff}", "\\uf8ff\\uffff"),
        ] {
            assert_eq!(escaped(words), shown);
        }
    }

    #[test]
    fn what_is_printed_stays() {
        let words = "é ½ “old” – e\u{301} 日本 ⣿ 🪑 \u{a0}\n'\"\\";
        assert_eq!(escaped(words), words);
        assert_eq!(escaped("a\tb"), "a b");
    }

    #[test]
    fn styling_is_told_from_words_that_look_like_it() {
        let strong = Ink::STRONG;
        let text = format!("a{strong}b\u{1b}[1m{strong:#}{}", Ink::PLAIN);
        let told = [
            Piece::Words("a"),
            Piece::Styling("\u{1b}[1m"),
            Piece::Words("b\u{1b}[1m"),
            Piece::Styling("\u{1b}[0m"),
        ];
        assert_eq!(pieces(&text), told);
        let forged = "\u{1b}_0000;\u{1b}[1m\u{1b}\\";
        assert_eq!(pieces(forged), [Piece::Words(forged)]);
    }
}
