//! The one way to the terminal: everything printed goes through here.

use std::io::{self, Write};
use tellmark_language::ink::{Piece, escaped, pieces};

/// Escapes whatever a terminal might obey, apart from our own styling.
pub(super) struct Screen<W: Write> {
    to: W,
    /// The beginning of a character whose end was not written yet.
    begun: Vec<u8>,
}

impl<W: Write> Screen<W> {
    pub(super) fn new(to: W) -> Screen<W> {
        Screen {
            to,
            begun: Vec::new(),
        }
    }

    fn show(&mut self, text: &str) -> io::Result<()> {
        for piece in pieces(text) {
            match piece {
                Piece::Styling(styling) => self.to.write_all(styling.as_bytes())?,
                Piece::Words(words) => self.to.write_all(escaped(words).as_bytes())?,
            }
        }
        Ok(())
    }
}

impl<W: Write> Write for Screen<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let mut all = std::mem::take(&mut self.begun);
        all.extend_from_slice(bytes);
        let mut rest = all.as_slice();
        loop {
            match std::str::from_utf8(rest) {
                Ok(text) => {
                    self.show(text)?;
                    return Ok(bytes.len());
                }
                Err(bad) => {
                    let (good, after) = rest.split_at(bad.valid_up_to());
                    self.show(&String::from_utf8_lossy(good))?;
                    match bad.error_len() {
                        None => {
                            self.begun = after.to_vec();
                            return Ok(bytes.len());
                        }
                        Some(length) => {
                            self.show("\u{fffd}")?;
                            rest = after.get(length..).unwrap_or_default();
                        }
                    }
                }
            }
        }
    }

    fn flush(&mut self) -> io::Result<()> {
        self.to.flush()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tellmark_language::ink::Ink;

    fn shown(writes: &[&[u8]]) -> String {
        let mut screen = Screen::new(Vec::new());
        for bytes in writes {
            screen.write_all(bytes).expect("a vector takes it");
        }
        String::from_utf8(screen.to).expect("text")
    }

    #[test]
    fn words_are_escaped_and_our_own_styling_is_not() {
        let strong = Ink::STRONG;
        let mut screen = Screen::new(Vec::new());
        writeln!(screen, "{strong}a\u{1b}[2J{strong:#}").expect("a vector takes it");
        let shown = String::from_utf8(screen.to).expect("text");
        assert_eq!(shown, "\u{1b}[1ma\\u001b[2J\u{1b}[0m\n");
    }

    #[test]
    fn a_character_may_come_in_two_writes_and_bytes_may_be_no_text() {
        assert_eq!(shown(&[b"\xc3", b"\xa9"]), "é");
        assert_eq!(shown(&[b"\xc2", b"\x9b31m"]), "\\u009b31m");
        assert_eq!(shown(&[b"a\xffb"]), "a\u{fffd}b");
    }
}
