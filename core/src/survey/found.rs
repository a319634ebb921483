//! What a survey finds, each with its words.

use core::fmt;

use crate::looking::Candidate;
use crate::number::Share;
use crate::pack::Pack;
use crate::piece::Part;
use crate::shortlist::Suspect;
use crate::words::{self, Capitalising};

/// A hidden fault that may be there. Shown as a sentence: "Left runner of drawer
/// 2 is probably worn thin (67 in 100)."
#[derive(Clone, Copy, Debug)]
pub struct Likely<'s> {
    pack: &'s Pack<'s>,
    parts: &'s [Part],
    suspect: Suspect,
}

impl<'s> Likely<'s> {
    pub(super) fn new(pack: &'s Pack<'s>, parts: &'s [Part], suspect: Suspect) -> Self {
        Self {
            pack,
            parts,
            suspect,
        }
    }

    /// Its chance.
    #[must_use]
    pub fn chance(&self) -> Share {
        self.suspect.chance
    }

    /// The part and the state by their numbers.
    #[must_use]
    pub fn suspect(&self) -> Suspect {
        self.suspect
    }
}

impl fmt::Display for Likely<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let state = self.pack.state(usize::from(self.suspect.state));
        let at = (usize::from(self.suspect.part), &state);
        words::sentence(f, self.pack, self.parts, at, self.suspect.chance)
    }
}

/// A check that has not been made. Shown as "Drawer 2: Does it drag? (feel, 1
/// min, saves 25 min)".
#[derive(Clone, Copy, Debug)]
pub struct Check<'s> {
    pack: &'s Pack<'s>,
    parts: &'s [Part],
    check: Candidate,
}

impl<'s> Check<'s> {
    pub(super) fn new(pack: &'s Pack<'s>, parts: &'s [Part], check: Candidate) -> Self {
        Self { pack, parts, check }
    }

    /// Minutes it takes.
    #[must_use]
    pub fn minutes(&self) -> u16 {
        self.check.minutes
    }

    /// Minutes of bench time that its answer is expected to save.
    #[must_use]
    pub fn saves(&self) -> u16 {
        let minutes = self.check.saves.tenths().saturating_add(5) / 10;
        u16::try_from(minutes).unwrap_or(u16::MAX)
    }

    /// How to check, in the words of the house; empty if the house does not say.
    #[must_use]
    pub fn how(&self) -> &'s str {
        self.pack
            .text(self.pack.ask(usize::from(self.check.ask)).how)
    }

    /// The part and what is asked by their numbers, and all that was weighed.
    #[must_use]
    pub fn candidate(&self) -> Candidate {
        self.check
    }
}

impl fmt::Display for Check<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let ask = self.pack.ask(usize::from(self.check.ask));
        let part = usize::from(self.check.part);
        words::part(&mut Capitalising::new(f), self.pack, self.parts, part)?;
        f.write_str(": ")?;
        words::question(f, self.pack, &ask)?;
        f.write_str(" (")?;
        words::effort(f, &ask)?;
        f.write_str(", saves ")?;
        words::time(f, self.saves())?;
        f.write_str(")")
    }
}
