//! Wraps text into lines of so many characters.

use core::fmt;
use heapless::String;

/// Most characters of a line.
pub const MOST: usize = 25;

/// Takes text and passes each word on with its line and column. A word longer than
/// a line is split.
pub struct Wrap<'s> {
    columns: usize,
    line: usize,
    used: usize,
    word: String<{ 4 * MOST }>,
    length: usize,
    place: &'s mut dyn FnMut(usize, usize, &str),
}

impl<'s> Wrap<'s> {
    /// Lines of so many characters, at most [`MOST`].
    pub fn new(columns: usize, place: &'s mut dyn FnMut(usize, usize, &str)) -> Self {
        Self {
            columns: columns.clamp(1, MOST),
            line: 0,
            used: 0,
            word: String::new(),
            length: 0,
            place,
        }
    }

    fn end_word(&mut self) {
        if self.length == 0 {
            return;
        }
        let mut column = if self.used == 0 { 0 } else { self.used + 1 };
        if column + self.length > self.columns {
            self.line += 1;
            column = 0;
        }
        (self.place)(self.line, column, &self.word);
        self.used = column + self.length;
        self.word.clear();
        self.length = 0;
    }

    /// Ends the last word; returns how many lines there are.
    pub fn end(mut self) -> usize {
        self.end_word();
        self.line + 1
    }
}

impl fmt::Write for Wrap<'_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for sign in text.chars() {
            match sign {
                ' ' => self.end_word(),
                '\n' => {
                    self.end_word();
                    self.line += 1;
                    self.used = 0;
                }
                sign => {
                    if self.length == self.columns {
                        self.end_word();
                    }
                    // There is room for a whole line of the longest signs.
                    let _ = self.word.push(sign);
                    self.length += 1;
                }
            }
        }
        Ok(())
    }
}

/// How many lines a text fills.
pub fn lines(columns: usize, write: impl FnOnce(&mut dyn fmt::Write) -> fmt::Result) -> usize {
    let mut nowhere = |_: usize, _: usize, _: &str| {};
    let mut wrap = Wrap::new(columns, &mut nowhere);
    // Wrapping never fails.
    let _ = write(&mut wrap);
    wrap.end()
}
