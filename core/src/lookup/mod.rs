//! Finds kinds, parts, states, questions and jobs by their words in the pack.
//!
//! Names are read as people write them: "drawer 2", "the left runner of drawer
//! 2", "runner 1 of drawer 2". "The" and capitals make no difference. A part may
//! be named by the beginning of its path as long as that means one part only:
//! "drawer 2" for "drawer 2 of case".
//!
//! ```
//! use tellmark_core::survey::PackBytes;
//!
//! # let file = include_bytes!(concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/packs/v1/further.pack"));
//! let bytes: PackBytes = PackBytes::copy(file)?;
//! let pack = bytes.open()?;
//! let drawer = pack.find_kind("drawer")?;
//! let stiff = pack.find_state(drawer, "stiff")?;
//! assert_eq!(pack.text(pack.state(stiff.into()).phrase), "stiff");
//!
//! let unknown = pack.find_kind("wheel").unwrap_err();
//! assert_eq!(unknown.to_string(), "the rules know no kind of part called “wheel”");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod matching;
mod part;

use core::fmt;

pub(crate) use matching::after;
pub(crate) use part::{Fit, fit};

use crate::asking;
use crate::pack::{Form, Kind, Pack};
use crate::piece::Part;
use matching::is_nothing;

/// Words that name nothing the rules, or the piece, know.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotKnown<'t> {
    /// What was looked for.
    pub what: What,
    /// The words.
    pub words: &'t str,
}

/// What is looked for by its words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// A piece that can be looked over.
    Piece,
    /// A kind of part.
    Kind,
    /// A part of this piece.
    Part,
    /// A part of this piece, but more than one is called so.
    OnePart,
    /// Something that may be true of a part.
    State,
    /// Something that can be asked of a part.
    Ask,
    /// A job.
    Job,
}

impl<'t> NotKnown<'t> {
    fn new(what: What, words: &'t str) -> Self {
        Self { what, words }
    }
}

impl fmt::Display for NotKnown<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let words = self.words;
        match self.what {
            What::Piece => write!(f, "the rules know no piece called “{words}”"),
            What::Kind => write!(f, "the rules know no kind of part called “{words}”"),
            What::Part => write!(f, "this piece has no part called “{words}”"),
            What::OnePart => write!(
                f,
                "this piece has more than one “{words}”: say which, and of what"
            ),
            What::State => write!(f, "the rules do not say of this kind of part: “{words}”"),
            What::Ask => write!(f, "the rules do not ask this of such a part: “{words}”"),
            What::Job => write!(f, "the rules know no job called “{words}”"),
        }
    }
}

impl core::error::Error for NotKnown<'_> {}

impl Pack<'_> {
    /// A kind of part by its name, singular or plural.
    ///
    /// # Errors
    /// [`NotKnown`] if there is none.
    pub fn find_kind<'t>(&self, name: &'t str) -> Result<u16, NotKnown<'t>> {
        (0..self.kinds())
            .find(|&number| self.is_called(&self.kind(number), name))
            .and_then(|number| u16::try_from(number).ok())
            .ok_or(NotKnown::new(What::Kind, name))
    }

    /// The place of a piece that can be looked over, by its name.
    ///
    /// # Errors
    /// [`NotKnown`] if there is none.
    pub fn find_piece<'t>(&self, name: &'t str) -> Result<usize, NotKnown<'t>> {
        asking::pieces(self)
            .find(|&place| self.is_called(&self.kind(self.place(place).kind.into()), name))
            .ok_or(NotKnown::new(What::Piece, name))
    }

    /// A part of a piece by its name, such as "left runner of drawer 2".
    ///
    /// # Errors
    /// [`NotKnown`] if there is none, or if the name fits more than one.
    pub fn find_part<'t>(&self, parts: &[Part], name: &'t str) -> Result<usize, NotKnown<'t>> {
        let (mut begins, mut several) = (None, false);
        for part in 0..parts.len() {
            match fit(self, parts, part, name) {
                Fit::Whole => return Ok(part),
                Fit::Beginning => {
                    several |= begins.is_some();
                    begins = Some(part);
                }
                Fit::No => {}
            }
        }
        match begins {
            Some(part) if !several => Ok(part),
            Some(_) => Err(NotKnown::new(What::OnePart, name)),
            None => Err(NotKnown::new(What::Part, name)),
        }
    }

    /// What may be true of a kind of part, a sign or a hidden fault: "stiff",
    /// "shows old glue".
    ///
    /// # Errors
    /// [`NotKnown`] if the rules do not say that of it.
    pub fn find_state<'t>(&self, kind: u16, words: &'t str) -> Result<u16, NotKnown<'t>> {
        let fits = |state: &u16| {
            let phrase = self.text(self.state(usize::from(*state)).phrase);
            is(phrase, words) || is(phrase, without_verb(words))
        };
        self.kinds_of_part(kind)
            .flat_map(|kind| kind.first_state..kind.first_state.saturating_add(kind.states))
            .find(fits)
            .ok_or(NotKnown::new(What::State, words))
    }

    /// What can be asked of a kind of part, by the words of its answer ("stiff",
    /// "worn", "runners") or by its question ("Does it drag?").
    ///
    /// # Errors
    /// [`NotKnown`] if the rules do not ask it.
    pub fn find_ask<'t>(&self, kind: u16, words: &'t str) -> Result<u16, NotKnown<'t>> {
        let ask = self.asks_called(kind, words).next();
        ask.ok_or(NotKnown::new(What::Ask, words))
    }

    /// All that can be asked in these words: a measure and a yes or no may share
    /// them.
    pub(crate) fn asks_called(&self, kind: u16, words: &str) -> impl Iterator<Item = u16> {
        self.kinds_of_part(kind)
            .flat_map(|kind| kind.first_ask..kind.first_ask.saturating_add(kind.asks))
            .filter(move |&number| {
                let ask = self.ask(usize::from(number));
                let phrase = self.text(ask.phrase);
                let is_sign = match ask.form {
                    Form::HowMany { part } => self.is_called(&self.kind(part.into()), words),
                    Form::HowMuch { .. } => {
                        let word = self.text(ask.word);
                        let left = after(words, |out| write!(out, "{word} {phrase}"));
                        is(phrase, words) || left.is_some_and(is_nothing)
                    }
                    _ => is(phrase, words) || is(phrase, without_verb(words)),
                };
                is_sign || is(self.text(ask.question), words)
            })
    }

    /// A job by its name: "fit a new runner".
    ///
    /// # Errors
    /// [`NotKnown`] if there is none.
    pub fn find_job<'t>(&self, name: &'t str) -> Result<u16, NotKnown<'t>> {
        (0..self.jobs())
            .find(|&number| is(self.text(self.job(number).name), name))
            .and_then(|number| u16::try_from(number).ok())
            .ok_or(NotKnown::new(What::Job, name))
    }

    pub(crate) fn is_called(&self, kind: &Kind, name: &str) -> bool {
        is(self.text(kind.name), name) || is(self.text(kind.plural), name)
    }

    /// The kind itself and, for a whole piece, what any piece has.
    fn kinds_of_part(&self, kind: u16) -> impl Iterator<Item = Kind> {
        let any = (kind != 0 && self.root_of(kind).is_some()).then(|| self.kind(0));
        core::iter::once(self.kind(usize::from(kind))).chain(any)
    }
}

/// Whether these are the words of a text; no words are no name.
pub(crate) fn is(text: &str, words: &str) -> bool {
    after(words, |out| out.write_str(text)).is_some_and(is_nothing)
}

/// "stiff" of "is stiff", "fresh dust" of "shows fresh dust".
fn without_verb(words: &str) -> &str {
    let words = words.trim();
    match words.split_once(' ') {
        Some(("is" | "are" | "shows" | "show" | "has" | "have", rest)) => rest,
        _ => words,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::with_chest;
    use crate::words;

    #[test]
    fn kinds_and_jobs_are_found_by_their_words() {
        with_chest(4, |chest| {
            let pack = chest.pack();
            let kind = pack.find_kind("french Feet").map(usize::from);
            let name = kind.map(|kind| pack.text(pack.kind(kind).name));
            assert_eq!(name, Ok("French foot"));
            let job = pack.find_job("Clear the drawer").map(usize::from);
            let name = job.map(|job| pack.text(pack.job(job).name));
            assert_eq!(name, Ok("clear the drawer"));
            assert!(pack.find_kind("").is_err());
            let unknown = pack.find_job("paint it").map_err(|e| e.what);
            assert_eq!(unknown, Err(What::Job));
        });
    }

    #[test]
    fn states_and_questions_are_found_for_their_kind_only() {
        with_chest(4, |chest| {
            let pack = chest.pack();
            let kind = |name| pack.find_kind(name).unwrap_or(u16::MAX);
            let stiff = pack.find_state(kind("drawer"), "stiff");
            assert!(stiff.is_ok());
            assert_eq!(stiff, pack.find_state(kind("drawer"), "is stiff"));
            assert!(pack.find_state(kind("lock"), "stiff").is_err());
            // What any piece has, a whole piece has.
            let level = pack.find_state(kind("chest of drawers"), "out of level");
            assert!(level.is_ok());
            let drag = pack.find_ask(kind("drawer"), "Does it drag?");
            assert!(drag.is_ok());
            assert_eq!(drag, pack.find_ask(kind("drawer"), "stiff"));
            let thick = pack.find_ask(kind("runner"), "thick").map(usize::from);
            assert_eq!(thick.map(|ask| pack.text(pack.ask(ask).word)), Ok("thick"));
            let worn = pack.find_ask(kind("runner"), "worn");
            assert!(worn.is_ok());
            assert_eq!(worn, pack.find_ask(kind("runner"), "much worn"));
            let locks = pack.find_ask(kind("drawer"), "locks").map(usize::from);
            let form = locks.map(|ask| pack.ask(ask).form);
            assert!(matches!(form, Ok(Form::HowMany { .. })));
        });
    }

    #[test]
    fn a_part_is_found_by_every_name_that_means_one_part() {
        with_chest(4, |chest| {
            let (pack, parts) = (chest.pack(), chest.piece().parts());
            let find = |name| pack.find_part(parts, name);
            let runner = find("left runner of drawer 2 of case");
            assert!(runner.is_ok());
            assert_eq!(find("The left runner of the drawer 2"), runner);
            assert_eq!(find("runner 1 of drawer 2"), runner);
            assert_eq!(
                find("runner 1 of drawer 2 of case 1 of the chest of drawers"),
                runner
            );
            assert_eq!(find("lock 1 of drawer 2"), find("lock of drawer 2"));
            assert_eq!(find("chest of drawers"), Ok(0));
            for other in [
                "drawer",
                "drawer 2 of",
                "drawer 2 of drawer 2",
                "2 of case",
                "of case",
            ] {
                assert_eq!(find(other).map_err(|e| e.what), Err(What::Part), "{other}");
            }
            let several = find("left runner").map_err(|e| e.what);
            assert_eq!(several, Err(What::OnePart));
            assert_eq!(find("drawer 9").map_err(|e| e.what), Err(What::Part));
            assert_eq!(find("").map_err(|e| e.what), Err(What::Part));
            // Whatever a part is called, it is found by that name.
            for part in 0..parts.len() {
                let mut name: heapless::String<128> = heapless::String::new();
                assert!(words::part(&mut name, pack, parts, part).is_ok());
                assert_eq!(pack.find_part(parts, &name), Ok(part));
            }
        });
    }
}
