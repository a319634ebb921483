//! Whether words are those of a name that is being written.

use core::fmt::{self, Write};

use heapless::String;

/// Bytes of the longest word that is told apart.
const LONGEST: usize = 64;

/// How words fit a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Match {
    /// They are the name.
    Whole,
    /// They are the name up to an "of".
    Beginning,
    /// They are not.
    No,
}

/// How words fit the name that is written.
pub(crate) fn matching(words: &str, write: impl FnOnce(&mut dyn Write) -> fmt::Result) -> Match {
    let mut matching = Matching {
        left: words,
        word: String::new(),
        some: false,
        found: Match::Whole,
    };
    // Comparing never fails.
    let _ = write(&mut matching);
    matching.end()
}

/// Takes the name and compares it word by word.
struct Matching<'t> {
    /// The words that are still to come.
    left: &'t str,
    word: String<LONGEST>,
    /// A word fitted.
    some: bool,
    found: Match,
}

impl<'t> Matching<'t> {
    /// The next word that is still to come.
    fn next(&mut self) -> Option<&'t str> {
        loop {
            let text = self.left.trim_start();
            let length = text.find(char::is_whitespace).unwrap_or(text.len());
            let (word, rest) = text.split_at_checked(length)?;
            self.left = rest;
            if word.is_empty() {
                return None;
            }
            if !is_article(word) {
                return Some(word);
            }
        }
    }

    fn end_word(&mut self) {
        let word = core::mem::take(&mut self.word);
        if word.is_empty() || is_article(&word) || self.found != Match::Whole {
            return;
        }
        self.found = match self.next() {
            Some(next) if same(next, &word) => {
                self.some = true;
                Match::Whole
            }
            None if self.some && word == "of" => Match::Beginning,
            _ => Match::No,
        };
    }

    fn end(mut self) -> Match {
        self.end_word();
        if !self.some || self.next().is_some() {
            return Match::No;
        }
        self.found
    }
}

impl Write for Matching<'_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for sign in text.chars() {
            if sign.is_whitespace() {
                self.end_word();
            } else if self.word.push(sign).is_err() {
                self.found = Match::No;
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

    fn with(name: &str, words: &str) -> Match {
        matching(words, |out| out.write_str(name))
    }

    #[test]
    fn words_fit_whole_in_the_beginning_or_not() {
        let name = "left runner of drawer 2 of case";
        assert_eq!(with(name, "left runner of drawer 2 of case"), Match::Whole);
        assert_eq!(
            with(name, " The LEFT runner of the drawer 2 of case "),
            Match::Whole
        );
        assert_eq!(with(name, "left runner of drawer 2"), Match::Beginning);
        assert_eq!(with(name, "left runner"), Match::Beginning);
        for other in [
            "",
            "the",
            "left",
            "left runner of",
            "runner",
            "left runner of drawer",
        ] {
            assert_eq!(with(name, other), Match::No, "{other}");
        }
        assert_eq!(with(name, "left runner of drawer 2 of case 1"), Match::No);
        assert_eq!(with("clear the drawer", "Clear drawer"), Match::Whole);
    }
}
