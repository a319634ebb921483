//! A piece looked over by name: the easiest way into this library.
//!
//! [`Survey`] sets a piece up by counts, takes answers by the names of parts and
//! signs, and tells the likeliest faults and the check to make next. It needs no
//! knowledge of how packs are laid out. Memory is a [`Memory`] and a
//! [`PackBytes`], whose sizes are given by their types.
//!
//! ```
//! use tellmark_core::survey::{Memory, PackBytes, Said, Survey};
//!
//! # let file = include_bytes!(concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/packs/v1/further.pack"));
//! let bytes: PackBytes = PackBytes::copy(file)?;
//! let mut memory: Memory = Memory::new();
//! let mut chest = Survey::begin(
//!     bytes.open()?,
//!     &mut memory,
//!     "chest of drawers",
//!     &[("drawers", 4)],
//! )?;
//! chest.answer("drawer 2", "stiff", Said::Yes)?;
//! chest.answer("left runner of drawer 2", "worn", Said::Measure("3 mm"))?;
//! for fault in chest.likeliest()?.take(3) {
//!     println!("{fault}");
//! }
//! if let Some(check) = chest.next_check()? {
//!     println!("Look next: {check}");
//! }
//!
//! let wrong = chest.answer("drawer 2", "stiff", Said::Number(3)).unwrap_err();
//! assert_eq!(wrong.to_string(), "“stiff” is answered with yes or no");
//! let wrong = chest.answer("drawer 9", "stiff", Said::Yes).unwrap_err();
//! assert_eq!(wrong.to_string(), "this piece has no part called “drawer 9”");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! What needs more (a record of what is noted, the round, jobs in their order) is
//! reached through [`Survey::work`], or built on [`crate::work`] directly.

mod bytes;
mod error;
mod found;
mod memory;

pub use bytes::{PackBytes, TooLong};
pub use error::{Error, Wants};
pub use found::{Check, Likely};
pub use memory::Memory;

use crate::asking::{self, Unfit};
use crate::looking::{Looking, Progress};
use crate::lookup::{Fit, after, fit, is};
use crate::number::{Share, UFloat};
use crate::pack::{Ask, Form, Pack};
use crate::piece::Answer;
use crate::record::Noted;
use crate::shortlist;
use crate::words::{self, Reading};
use crate::work::{Count, Refused, Work};

/// What is answered about a sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Said<'t> {
    /// Yes. Of a hidden fault: opened up, and it is so.
    Yes,
    /// No. Of a hidden fault: opened up, and it is not.
    No,
    /// It looks like it, but is not sure.
    LooksLikeIt,
    /// It looks unlikely, but is not sure.
    LooksUnlikely,
    /// It cannot be seen.
    CannotBeSeen,
    /// Nothing: what was said before is taken back.
    Nothing,
    /// A measure with its unit: "3.5 mm", "1 3/32 in", "12 %".
    Measure(&'t str),
    /// A number of parts.
    Number(u8),
    /// One of the values of a choice: "oak".
    Choice(&'t str),
}

/// A piece that is looked over, its parts and signs known by name.
#[derive(Debug)]
pub struct Survey<'m, 'a> {
    work: Work<'m, 'a, UFloat>,
    looking: Looking<'m, UFloat>,
}

impl<'m, 'a> Survey<'m, 'a> {
    /// Begins a piece with so many of its parts: `("drawers", 4)` for every owner
    /// of drawers, `("handles of drawer 2", 1)` for one. What is not counted is
    /// as the rules take it to be.
    ///
    /// # Errors
    /// [`Error`] if the rules know no such piece or parts, if there cannot be so
    /// many, or if the memory is too small.
    pub fn begin<'t, const PARTS: usize, const ANSWERS: usize, const NUMBERS: usize>(
        pack: Pack<'a>,
        memory: &'m mut Memory<PARTS, ANSWERS, NUMBERS>,
        piece: &'t str,
        counts: &[(&'t str, u8)],
    ) -> Result<Self, Error<'t>> {
        let root = pack.find_piece(piece).map_err(Error::NotKnown)?;
        let (memory, looking) = memory.lend();
        let mut survey = Self {
            work: Work::new(pack, memory),
            looking,
        };
        survey
            .work
            .note_begun(root, &mut forget)
            .map_err(Error::Refused)?;
        for &(what, number) in counts {
            if !survey.count(what, number)? {
                return Err(Error::NothingToCount(what));
            }
        }
        survey
            .work
            .note_set_up(&mut forget)
            .map_err(Error::Refused)?;
        Ok(survey)
    }

    /// Counts parts for every owner that is meant; whether there is any.
    fn count<'t>(&mut self, what: &'t str, number: u8) -> Result<bool, Error<'t>> {
        let pack = *self.work.pack();
        let (mut any, mut owner) = (false, 0);
        // More parts of an owner come after it, and are looked at in their turn.
        while let Some(part) = self.work.parts().get(owner).copied() {
            for place in pack.children(usize::from(part.place)) {
                if !self.is_meant(what, owner, place) {
                    continue;
                }
                let record = pack.place(place);
                if !(record.least..=record.most).contains(&number) {
                    return Err(Error::Count {
                        what,
                        least: record.least,
                        most: record.most,
                    });
                }
                let count = Count {
                    owner: u16::try_from(owner).map_err(|_| Error::Refused(Refused::TooLarge))?,
                    place: u16::try_from(place).map_err(|_| Error::Refused(Refused::TooLarge))?,
                    number,
                };
                let counted = self.work.note_count(count, &mut forget);
                counted.map_err(Error::Refused)?;
                any = true;
            }
            owner += 1;
        }
        Ok(any)
    }

    /// Whether these words are the name of the parts at a place, alone or with
    /// that of their owner.
    fn is_meant(&self, what: &str, owner: usize, place: usize) -> bool {
        let pack = self.work.pack();
        let kind = pack.kind(usize::from(pack.place(place).kind));
        let with_owner = |name: u16| {
            let owner_name = after(what, |out| write!(out, "{} of", pack.text(name)));
            owner_name.is_some_and(|words| fit(pack, self.work.parts(), owner, words) != Fit::No)
        };
        pack.is_called(&kind, what) || with_owner(kind.name) || with_owner(kind.plural)
    }

    /// Notes an answer about a part.
    ///
    /// # Errors
    /// [`Error`] if there is no such part or sign, or if this is no answer to it;
    /// then nothing has changed.
    pub fn answer<'t>(
        &mut self,
        part: &'t str,
        sign: &'t str,
        said: Said<'t>,
    ) -> Result<(), Error<'t>> {
        let index = self.find(part)?;
        let pack = *self.work.pack();
        let record = self.work.parts().get(index).copied().unwrap_or_default();
        // A yes or no may be asked in the same words as a measure.
        let mut wrong = None;
        for number in pack.asks_called(record.kind, sign) {
            let ask = pack.ask(usize::from(number));
            let place = usize::from(record.place);
            let answer = answer(&pack, sign, &ask, said)
                .and_then(|answer| fits(&pack, place, sign, &ask, answer).map(|()| answer));
            match answer {
                Ok(answer) => {
                    let noted = self.work.note_answer(index, number, answer, &mut forget);
                    return noted.map_err(Error::Refused);
                }
                Err(error) => wrong = wrong.or(Some(error)),
            }
        }
        match wrong {
            Some(error) => Err(error),
            // Says what is not known.
            None => pack
                .find_ask(record.kind, sign)
                .map(|_| ())
                .map_err(Error::NotKnown),
        }
    }

    /// The likeliest hidden faults, the likeliest first: at most
    /// [`shortlist::SUSPECTS`], and none less likely than 5 in 100.
    ///
    /// # Errors
    /// [`Error::Clash`] if the answers cannot all be true.
    pub fn likeliest(&mut self) -> Result<impl Iterator<Item = Likely<'_>>, Error<'static>> {
        let inspection = self.work.inspection_mut().ok_or(NOT_BEGUN)?;
        inspection.settle().map_err(|_| Error::Clash)?;
        let suspects = shortlist::suspects(inspection);
        let (pack, parts) = (self.work.pack(), self.work.parts());
        let likely = move |suspect| Likely::new(pack, parts, suspect);
        Ok(suspects.into_iter().map(likely))
    }

    /// The chance of anything that may be true of a part, a fault or a sign.
    ///
    /// # Errors
    /// [`Error`] if there is no such part, if the rules do not say that of it, or
    /// if the answers cannot all be true.
    pub fn chance<'t>(&mut self, part: &'t str, state: &'t str) -> Result<Share, Error<'t>> {
        let index = self.find(part)?;
        let kind = self.work.parts().get(index).map_or(0, |part| part.kind);
        let pack = self.work.pack();
        let state = pack.find_state(kind, state).map_err(Error::NotKnown)?;
        let inspection = self.work.inspection_mut().ok_or(NOT_BEGUN)?;
        inspection.chance(index, state).map_err(|_| Error::Clash)
    }

    /// The check most worth making next: what is expected to save most bench
    /// time for each minute it takes. `None` if none that is left would change
    /// what to plan.
    ///
    /// # Errors
    /// [`Error::Clash`] if the answers cannot all be true.
    pub fn next_check(&mut self) -> Result<Option<Check<'_>>, Error<'static>> {
        let inspection = self.work.inspection_mut().ok_or(NOT_BEGUN)?;
        inspection.settle().map_err(|_| Error::Clash)?;
        // There is memory for every question that can be answered.
        let started = self.looking.start(inspection);
        started.map_err(|_| Error::Refused(Refused::TooLarge))?;
        while self.looking.step(inspection, |_, _| {}) == Progress::More {}
        let best = self.looking.best().first().copied();
        let (pack, parts) = (self.work.pack(), self.work.parts());
        Ok(best.map(|check| Check::new(pack, parts, check)))
    }

    /// The piece with all that has been noted, for everything else.
    #[must_use]
    pub fn work(&self) -> &Work<'m, 'a, UFloat> {
        &self.work
    }

    /// The same, to work things out: [`crate::shortlist`], [`crate::round`],
    /// [`crate::weighing`] and [`crate::dating`] take its inspection.
    pub fn work_mut(&mut self) -> &mut Work<'m, 'a, UFloat> {
        &mut self.work
    }

    fn find<'t>(&self, part: &'t str) -> Result<usize, Error<'t>> {
        let found = self.work.pack().find_part(self.work.parts(), part);
        found.map_err(Error::NotKnown)
    }
}

/// Cannot be: a survey is of a piece that was begun.
const NOT_BEGUN: Error<'static> = Error::Refused(Refused::OutOfTurn);

/// Keeps no record of what is noted.
fn forget(_: Noted) {}

/// What was said, as an answer to this question.
fn answer<'t>(
    pack: &Pack<'_>,
    sign: &'t str,
    ask: &Ask,
    said: Said<'t>,
) -> Result<Answer, Error<'t>> {
    Ok(match said {
        Said::Yes => asking::yes_or_no(ask, true),
        Said::No => asking::yes_or_no(ask, false),
        Said::LooksLikeIt => Answer::Looks(true),
        Said::LooksUnlikely => Answer::Looks(false),
        Said::CannotBeSeen => Answer::CannotSee,
        Said::Nothing => Answer::NotLooked,
        Said::Number(number) => match ask.form {
            Form::HowMany { .. } => Answer::Reading(i32::from(number)),
            _ => return Err(wrong_kind(sign, ask)),
        },
        Said::Measure(text) => match ask.form {
            Form::HowMuch { unit, .. } => {
                let reading = Reading::read(text).ok_or(Error::NotAMeasure(text))?;
                let wanted = words::Unit::numbered(unit);
                if wanted.dimension() != reading.unit.dimension() {
                    return Err(wrong_kind(sign, ask));
                }
                Answer::Reading(reading.ticks)
            }
            _ => return Err(wrong_kind(sign, ask)),
        },
        Said::Choice(value) => match ask.form.choices() {
            Some((first, values)) => {
                let number = (0..values).find(|n| is(pack.text(first.saturating_add(*n)), value));
                let number = number.and_then(|number| u8::try_from(number).ok());
                Answer::Value(number.ok_or(Error::NoSuchChoice { sign, value })?)
            }
            None => return Err(wrong_kind(sign, ask)),
        },
    })
}

/// Whether it can be the answer.
fn fits<'t>(
    pack: &Pack<'_>,
    place: usize,
    sign: &'t str,
    ask: &Ask,
    answer: Answer,
) -> Result<(), Error<'t>> {
    asking::fits(pack, place, ask, answer).map_err(|unfit| match unfit {
        Unfit::Form => wrong_kind(sign, ask),
        Unfit::Bounds { least, most } => Error::OutOfRange {
            sign,
            least,
            most,
            unit: match ask.form {
                Form::HowMuch { unit, .. } => Some(words::Unit::numbered(unit)),
                _ => None,
            },
        },
    })
}

fn wrong_kind<'t>(sign: &'t str, ask: &Ask) -> Error<'t> {
    let wants = match ask.form {
        Form::Whether => Wants::YesOrNo,
        Form::Which { .. } | Form::Degrees { .. } => Wants::Choice,
        Form::HowMuch { unit, .. } => Wants::Measure(words::Unit::numbered(unit)),
        Form::HowMany { .. } => Wants::Number,
    };
    Error::WrongKind { sign, wants }
}
