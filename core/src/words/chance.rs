//! Chances in words and in figures.

use core::fmt::{self, Write};

use crate::number::Share;
use crate::sureness::{POSSIBLY, PROBABLY, PROBABLY_NOT, SURELY};

/// A chance in hundredths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hundredths(pub Share);

/// Never 0 or 100: an answer may be a slip of the eye, so no chance is certain.
enum Figure {
    UnderOne,
    OverNinetyNine,
    Whole(u64),
}

impl Hundredths {
    fn figure(self) -> Figure {
        const ONE: u64 = (1 << 32) / 100;
        let units = self.0.units();
        if units <= ONE {
            Figure::UnderOne
        } else if units >= Share::WHOLE.units() - ONE {
            Figure::OverNinetyNine
        } else {
            Figure::Whole((units * 100 + (1 << 31)) >> 32)
        }
    }

    /// Three characters: " 67", " <1", ">99".
    ///
    /// # Errors
    /// Those of `out`.
    pub fn short(self, out: &mut dyn Write) -> fmt::Result {
        match self.figure() {
            Figure::UnderOne => out.write_str(" <1"),
            Figure::OverNinetyNine => out.write_str(">99"),
            Figure::Whole(whole) => write!(out, "{whole:3}"),
        }
    }
}

impl fmt::Display for Hundredths {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.figure() {
            Figure::UnderOne => f.write_str("under 1 in 100"),
            Figure::OverNinetyNine => f.write_str("over 99 in 100"),
            Figure::Whole(whole) => write!(f, "{whole} in 100"),
        }
    }
}

/// How sure, as an adverb: "probably", "almost certainly not".
#[must_use]
pub fn sureness(chance: Share) -> &'static str {
    const WORDS: [(u16, &str); 4] = [
        (SURELY, "almost certainly"),
        (PROBABLY, "probably"),
        (POSSIBLY, "possibly"),
        (PROBABLY_NOT, "probably not"),
    ];
    let reached = WORDS.iter().find(|(mark, _)| chance.reaches(*mark));
    reached.map_or("almost certainly not", |(_, word)| word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chance_is_said_in_hundredths_and_never_for_certain() {
        let said = |thousandths| {
            let mut text: heapless::String<48> = heapless::String::new();
            let share = Share::from_thousandths(thousandths);
            assert!(write!(text, "{} ({})", sureness(share), Hundredths(share)).is_ok());
            text
        };
        assert_eq!(said(820), "probably (82 in 100)");
        assert_eq!(said(155), "possibly (16 in 100)");
        assert_eq!(said(0), "almost certainly not (under 1 in 100)");
        assert_eq!(said(1000), "almost certainly (over 99 in 100)");
    }
}
