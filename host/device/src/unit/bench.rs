//! What was noted at the bench, in the words of the rules.
//!
//! The notes are played back over the pack they were made by, so that their
//! numbers of parts and asks become the words for them.

use crate::bench::{Room, finished, found, heeded, remarked};
use tellmark_compile::Built;
use tellmark_compile::set_up::part_ref;
use tellmark_core::number::UFloat;
use tellmark_core::pack::{Form, OpenError};
use tellmark_core::piece::{Answer, Part};
use tellmark_core::record::Noted;
use tellmark_core::work::{Refused, Work};
use tellmark_language::AnswerReader;
use tellmark_language::model::{Fact, Found, KindId, Model, PartRef, PieceOrder};
use tellmark_language::span::Span;
use tellmark_language::words::{self, capital};

/// What a note comes to in a job's record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Said {
    /// A finding.
    Finding(String),
    /// A line with a label.
    Label(String),
    /// A remark, which nothing goes by.
    Remark(String),
}

/// Why a note cannot be put into words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unsaid {
    /// It was made by other rules.
    OtherRules {
        /// The check sum of their pack.
        pack: u32,
    },
    /// It is about a piece whose beginning is not known.
    NoPiece,
    /// It speaks of something that these rules do not have.
    NoSuch,
}

/// The bench, as far as it was played back.
pub struct Bench<'r> {
    model: &'r Model,
    built: &'r Built,
    reader: AnswerReader<'r>,
    work: Work<'r, 'r, UFloat>,
}

impl<'r> Bench<'r> {
    /// An empty bench, in memory that is lent.
    ///
    /// # Errors
    /// If the pack is not sound.
    pub fn new(model: &'r Model, built: &'r Built, room: &'r mut Room) -> Result<Self, OpenError> {
        Ok(Bench {
            model,
            built,
            reader: AnswerReader::new(model),
            work: Work::new(built.bytes.open()?, room.memory()),
        })
    }

    /// Whether a piece is set up.
    #[must_use]
    pub fn has_piece(&self) -> bool {
        self.work.inspection().is_some()
    }

    /// The parts of the piece.
    #[must_use]
    pub fn parts(&self) -> &[Part] {
        self.work.parts()
    }

    /// Takes a note and says it. Where it sets the piece up, nothing is said:
    /// see [`order`](Self::order) and [`differs`](Self::differs).
    ///
    /// # Errors
    /// See [`Unsaid`].
    pub fn take(&mut self, noted: Noted) -> Result<Option<Said>, Unsaid> {
        // Before it is played, for a count changes which part is which.
        let said = self.said(noted)?;
        match (self.work.play(noted), noted) {
            (Ok(()), _) => Ok(said),
            (Err(Refused::OtherPack), Noted::Begun { pack, .. }) => {
                Err(Unsaid::OtherRules { pack })
            }
            (Err(Refused::OutOfTurn), _) => Err(Unsaid::NoPiece),
            (Err(_), _) => Err(Unsaid::NoSuch),
        }
    }

    fn said(&self, noted: Noted) -> Result<Option<Said>, Unsaid> {
        Ok(match noted {
            Noted::Begun { .. } | Noted::Parts { .. } | Noted::SetUp { .. } => None,
            Noted::Answered { part, ask, answer } => {
                Some(self.answered(self.index(part)?, ask, answer)?)
            }
            Noted::OutOfSight { part, out_of_sight } => {
                let part = self.index(part)?;
                Some(self.finding(
                    part,
                    match out_of_sight {
                        true => Found::PartCannotBeSeen,
                        false => Found::PartCanBeSeen,
                    },
                )?)
            }
            Noted::Heeded { caution, part } => {
                let part = words::part_name(self.model, &self.part(self.index(part)?));
                let pack = self.work.pack();
                if usize::from(caution) >= pack.cautions() {
                    return Err(Unsaid::NoSuch);
                }
                Some(Said::Label(heeded(pack, caution, &part)))
            }
            Noted::Finished => Some(Said::Label(finished())),
            Noted::Remarked { part, remark } => {
                let part = words::part_name(self.model, &self.part(self.index(part)?));
                let pack = self.work.pack();
                if usize::from(remark) >= pack.remarks() {
                    return Err(Unsaid::NoSuch);
                }
                Some(Said::Label(remarked(pack, remark, &part)))
            }
        })
    }

    /// A part that there is.
    fn index(&self, part: u16) -> Result<usize, Unsaid> {
        let part = usize::from(part);
        if !self.has_piece() {
            return Err(Unsaid::NoPiece);
        }
        (part < self.parts().len())
            .then_some(part)
            .ok_or(Unsaid::NoSuch)
    }

    fn part(&self, part: usize) -> PartRef {
        part_ref(&self.built.places, self.parts(), part)
    }

    fn answered(&self, part: usize, ask: u16, answer: Answer) -> Result<Said, Unsaid> {
        let pack = self.work.pack();
        let place = self.parts().get(part).map_or(0, |p| usize::from(p.place));
        pack.ask_slot(place, ask).ok_or(Unsaid::NoSuch)?;
        let is_known = !matches!(answer, Answer::NotLooked | Answer::CannotSee);
        let counts = matches!(pack.ask(usize::from(ask)).form, Form::HowMany { .. });
        let meant = found(self.model, self.built, ask, answer);
        match meant {
            // The parts are as many as were counted, whatever is said of
            // counting them later; a line that takes a count back would take
            // parts away.
            Some(found) if counts && !is_known => {
                let text = words::fact_line(self.model, &self.fact(part, found));
                Ok(Said::Remark(text))
            }
            Some(found) => self.finding(part, found),
            // The record has no sentence for "cannot be seen" of what is only
            // seen when a part is opened. It takes back what was said before.
            None if !is_known => {
                let before = self.work.answer(part, ask).says_something();
                match found(self.model, self.built, ask, Answer::NotLooked) {
                    Some(found) if before => self.finding(part, found),
                    _ => {
                        let name = words::part_name(self.model, &self.part(part));
                        let phrase = pack.text(pack.ask(usize::from(ask)).phrase);
                        Ok(Said::Remark(format!("{name}, {phrase}: cannot be told")))
                    }
                }
            }
            None => Err(Unsaid::NoSuch),
        }
    }

    fn fact(&self, part: usize, found: Found) -> Fact {
        Fact {
            part: self.part(part),
            found,
            at: Span::default(),
        }
    }

    /// A finding, if the rules read it as it is meant.
    fn finding(&self, part: usize, found: Found) -> Result<Said, Unsaid> {
        let fact = self.fact(part, found);
        let text = words::fact_line(self.model, &fact);
        let read = self.reader.facts(&text).map_err(|_| Unsaid::NoSuch)?;
        match read.as_slice() {
            [read] if read.found == fact.found && words::fact_line(self.model, read) == text => {
                Ok(Said::Finding(text))
            }
            _ => Err(Unsaid::NoSuch),
        }
    }

    /// What the piece is: its kind, and how many it has of the parts built into
    /// it, where that is not as usual.
    #[must_use]
    pub fn order(&self) -> Option<PieceOrder> {
        let (pack, root) = (self.work.pack(), self.work.root()?);
        let counts = pack.children(root).filter_map(|place| {
            let here = number(self.parts(), 0, place);
            let is_said = self.stands_once(place) && here != pack.place(place).usual;
            is_said.then_some((self.built.places.kind(place), here))
        });
        Some(PieceOrder {
            kind: self.built.places.kind(root),
            counts: counts.collect(),
        })
    }

    /// Whether a piece has no other place for the kind that stands there. Of one
    /// that it has, the words for the piece would count those there too.
    fn stands_once(&self, place: usize) -> bool {
        let Some(root) = self.work.root() else {
            return false;
        };
        let places = &self.built.places;
        let end = usize::from(self.work.pack().place(root).end);
        let kind = places.kind(place);
        (root..end).filter(|&p| places.kind(p) == kind).count() == 1
    }

    /// Where the piece has another number of parts than this one, which is of
    /// the same kind: the owner's words, how many there and how many here.
    #[must_use]
    pub fn differs(&self, other: &[Part]) -> Option<Difference> {
        let parts = self.parts();
        for (owner, record) in parts.iter().enumerate() {
            for place in self.work.pack().children(usize::from(record.place)) {
                let (here, there) = (number(parts, owner, place), number(other, owner, place));
                if here != there {
                    return Some(Difference {
                        owner: self.part(owner),
                        is_named: owner == 0 && self.stands_once(place),
                        part: self.built.places.kind(place),
                        here,
                        there,
                    });
                }
            }
        }
        None
    }

    /// "Drawer 2 has 3 handles", as a line of a record.
    pub fn counted(&self, difference: &Difference) -> Result<String, Unsaid> {
        let fact = Fact {
            part: difference.owner.clone(),
            found: Found::Count {
                part: difference.part,
                number: difference.here,
            },
            at: Span::default(),
        };
        let text = words::fact_line(self.model, &fact);
        self.reader.facts(&text).map_err(|_| Unsaid::NoSuch)?;
        Ok(text)
    }

    /// The piece in words: "chest of drawers with 3 drawers".
    #[must_use]
    pub fn name(&self) -> String {
        self.order()
            .map_or_else(String::new, |order| words::piece_order(self.model, &order))
    }

    /// A note for people, whether or not it can be said.
    pub fn plainly(&mut self, noted: Noted) -> String {
        match (self.take(noted), noted) {
            (Ok(Some(Said::Finding(text) | Said::Label(text) | Said::Remark(text))), _) => {
                words::sentence(&text)
            }
            (Ok(None), Noted::SetUp { .. }) => capital(&words::a(&self.name())) + ".",
            (Ok(None), _) => "A piece is being begun.".to_owned(),
            (Err(_), noted) => format!("Not in the words of these rules: {noted:?}."),
        }
    }
}

/// A number of parts that is not the same.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// Who has them.
    pub owner: PartRef,
    /// Whether the words for the piece name this number.
    pub is_named: bool,
    /// The kind of part.
    pub part: KindId,
    /// How many at the bench.
    pub here: u8,
    /// How many by the job.
    pub there: u8,
}

/// How many parts of a place an owner has.
fn number(parts: &[Part], owner: usize, place: usize) -> u8 {
    let is_one = |p: &&Part| (usize::from(p.owner), usize::from(p.place)) == (owner, place);
    u8::try_from(parts.iter().filter(is_one).count()).unwrap_or(u8::MAX)
}
