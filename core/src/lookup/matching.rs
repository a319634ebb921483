//! Whether words begin with a name that is being written.

use core::fmt::{self, Write};

use heapless::String;

/// Bytes of the longest word that is told apart.
const LONGEST: usize = 64;

/// The words that are left after the name that is written; `None` if they do not
/// begin with it, or if it is empty. "The" and capitals make no difference.
pub(crate) fn after(
    words: &str,
    write: impl FnOnce(&mut dyn Write) -> fmt::Result,
) -> Option<&str> {
    let mut matching = Matching {
        left: words,
        word: String::new(),
        some: false,
        fits: true,
    };
    // Comparing never fails.
    let _ = write(&mut matching);
    matching.end_word();
    let Matching {
        left, some, fits, ..
    } = matching;
    (some && fits).then_some(left)
}

/// Whether there are no words but articles.
pub(crate) fn is_nothing(words: &str) -> bool {
    next(words).is_none()
}

/// The next word that is no article, and what is left after it.
fn next(mut left: &str) -> Option<(&str, &str)> {
    loop {
        let text = left.trim_start();
        let length = text.find(char::is_whitespace).unwrap_or(text.len());
        let (word, rest) = text.split_at_checked(length)?;
        if word.is_empty() {
            return None;
        }
        if !is_article(word) {
            return Some((word, rest));
        }
        left = rest;
    }
}

/// Takes the name and compares it word by word.
struct Matching<'t> {
    /// The words that are still to come.
    left: &'t str,
    word: String<LONGEST>,
    /// The name has a word.
    some: bool,
    fits: bool,
}

impl Matching<'_> {
    fn end_word(&mut self) {
        let word = core::mem::take(&mut self.word);
        if word.is_empty() || is_article(&word) {
            return;
        }
        self.some = true;
        match next(self.left) {
            Some((next, rest)) if same(next, &word) => self.left = rest,
            _ => self.fits = false,
        }
    }
}

impl Write for Matching<'_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for sign in text.chars() {
            if sign.is_whitespace() {
                self.end_word();
            } else if self.word.push(sign).is_err() {
                self.fits = false;
            }
        }
        Ok(())
    }
}

fn is_article(word: &str) -> bool {
    word.eq_ignore_ascii_case("the")
}

fn same(one: &str, other: &str) -> bool {
    let small = one.chars().flat_map(char::to_lowercase);
    small.eq(other.chars().flat_map(char::to_lowercase))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_taken_off_whole_words() {
        let after = |words| after(words, |out| write!(out, "left Runner"));
        assert_eq!(after("left runner"), Some(""));
        assert_eq!(after(" The LEFT  the runner of x"), Some(" of x"));
        for other in [
            "",
            "the",
            "left",
            "left runners",
            "runner",
            "my left runner",
        ] {
            assert_eq!(after(other), None, "{other}");
        }
        assert_eq!(super::after("x", |_| Ok(())), None);
        assert!(is_nothing(" the "));
    }
}
