//! A capital letter at the beginning.

use core::fmt::{self, Write};

/// A text, shown with a capital as its first letter.
#[derive(Clone, Copy, Debug)]
pub struct Capital<'t>(pub &'t str);

impl fmt::Display for Capital<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        Capitalising::new(f).write_str(self.0)
    }
}

/// Passes text on, with a capital as its first letter.
pub struct Capitalising<'o> {
    out: &'o mut dyn Write,
    begun: bool,
}

impl<'o> Capitalising<'o> {
    /// Nothing is written yet.
    pub fn new(out: &'o mut dyn Write) -> Self {
        Self { out, begun: false }
    }
}

impl Write for Capitalising<'_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        let mut signs = text.chars();
        if !self.begun
            && let Some(first) = signs.next()
        {
            self.begun = true;
            for capital in first.to_uppercase() {
                self.out.write_char(capital)?;
            }
            return self.out.write_str(signs.as_str());
        }
        self.out.write_str(text)
    }
}
