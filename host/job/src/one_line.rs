//! What strangers wrote, as it may stand in a line of ours.
//!
//! A quotation is read line by line, so a text from a house's script must not begin a line
//! of its own, nor look like our columns. This is the one place where that is seen to.

/// The text in one line: what divides lines or words is one space each time, and what
/// cannot be seen, or would turn the direction of writing around, is left out.
#[must_use]
pub fn in_one_line(text: &str) -> String {
    let mut line = String::with_capacity(text.len());
    let mut space = false;
    for sign in text.chars() {
        if is_blank(sign) {
            space = !line.is_empty();
        } else if !is_unseen(sign) {
            if space {
                line.push(' ');
            }
            space = false;
            line.push(sign);
        }
    }
    line
}

/// The same with at most so many signs; what is left out is shown as "…".
#[must_use]
pub fn shortened(text: &str, most: usize) -> String {
    let line = in_one_line(text);
    match line.char_indices().nth(most) {
        Some((end, _)) => format!("{}…", line.get(..end).unwrap_or_default()),
        None => line,
    }
}

/// Spaces of every width, ends of lines, control characters, and signs that are drawn
/// as nothing but room (Unicode: braille blank, Hangul fillers).
fn is_blank(sign: char) -> bool {
    sign.is_whitespace()
        || sign.is_control()
        || matches!(
            sign,
            '\u{2800}' | '\u{115F}' | '\u{1160}' | '\u{3164}' | '\u{FFA0}'
        )
}

/// Marks and overrides of the direction of writing (UAX 9), zero-width spaces, tags.
fn is_unseen(sign: char) -> bool {
    matches!(
        sign,
        '\u{061C}' | '\u{200B}' | '\u{200E}' | '\u{200F}' | '\u{202A}'
            ..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FEFF}' | '\u{E0000}'..='\u{E007F}'
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_makes_no_line_and_no_column_of_its_own() {
        for (text, line) in [
            ("varnish\n  Total   5.00", "varnish Total 5.00"),
            ("a\r\nb\u{2028}c\u{85}d\u{0B}e", "a b c d e"),
            ("x\u{1b}[2Jy\u{7f}", "x [2Jy"),
            ("\u{202e}00.5\u{202c} wax", "00.5 wax"),
            ("wide\u{3000}\u{a0}\u{2800}\u{3164}room", "wide room"),
            ("  \t both ends \n", "both ends"),
            ("Grünspan – naïve 漆", "Grünspan – naïve 漆"),
        ] {
            assert_eq!(in_one_line(text), line);
        }
        assert_eq!(shortened("abcdef", 3), "abc…");
        assert_eq!(shortened("äöü", 3), "äöü");
    }
}
