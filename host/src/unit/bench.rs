//! What was noted at the bench, in the words of the rules.
//!
//! The notes are played back over the pack they were made by, so that their
//! numbers of parts and asks become the words for them.

use crate::compile::{Asked, Built};
use crate::inspect::part_ref;
use crate::language::AnswerReader;
use crate::model::{
    Asks, Fact, Found, KindId, Model, Nature, PartRef, PieceOrder, SignId, StateId, Sure,
};
use crate::words::{self, capital};
use std::collections::BTreeMap;
use tellmark_core::pack::{Form, NONE, OpenError, Pack};
use tellmark_core::piece::{Answer, Part, Piece};
use tellmark_core::record::Noted;

/// What a note comes to in a job's record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Said {
    /// A finding.
    Finding(String),
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

/// Where a part is: places and numbers, from the piece down.
type Way = Vec<(u16, u8)>;

/// A piece at the bench, as its notes say.
#[derive(Clone, Debug, Default)]
struct Standing {
    root: usize,
    parts: Vec<Part>,
    counts: BTreeMap<(Way, u16), u8>,
    answers: BTreeMap<(Way, u16), Answer>,
}

/// The bench, as far as it was played back.
pub struct Bench<'r> {
    model: &'r Model,
    built: &'r Built,
    pack: Pack<'r>,
    reader: AnswerReader<'r>,
    /// The place of a piece that is begun, and what was counted.
    begun: Option<(usize, Vec<(u16, u16, u8)>)>,
    standing: Option<Standing>,
}

/// Most parts and answers of a piece.
const MOST: usize = 60_000;

impl<'r> Bench<'r> {
    /// An empty bench.
    ///
    /// # Errors
    /// If the pack is not sound.
    pub fn new(model: &'r Model, built: &'r Built) -> Result<Self, OpenError> {
        Ok(Bench {
            model,
            built,
            pack: built.bytes.open()?,
            reader: AnswerReader::new(model),
            begun: None,
            standing: None,
        })
    }

    /// Whether a piece is set up.
    #[must_use]
    pub fn has_piece(&self) -> bool {
        self.standing.is_some()
    }

    /// The parts of the piece.
    #[must_use]
    pub fn parts(&self) -> &[Part] {
        self.standing.as_ref().map_or(&[], |s| &s.parts)
    }

    /// Takes a note and says it. Where it sets the piece up, nothing is said:
    /// see [`order`](Self::order) and [`differs`](Self::differs).
    pub fn take(&mut self, noted: Noted) -> Result<Option<Said>, Unsaid> {
        match noted {
            Noted::Begun { root, pack } => {
                if pack != self.pack.id() {
                    return Err(Unsaid::OtherRules { pack });
                }
                let root = usize::from(root);
                if root >= self.pack.places() || self.pack.place(root).owner != NONE {
                    return Err(Unsaid::NoSuch);
                }
                self.begun = Some((root, Vec::new()));
                self.standing = None;
                Ok(None)
            }
            Noted::Parts {
                owner,
                place,
                number,
            } => {
                let (_, counts) = self.begun.as_mut().ok_or(Unsaid::NoPiece)?;
                counts.retain(|(o, p, _)| (*o, *p) != (owner, place));
                counts.push((owner, place, number));
                Ok(None)
            }
            Noted::SetUp { parts } => {
                let (root, counts) = self.begun.take().ok_or(Unsaid::NoPiece)?;
                self.set_up(root, &counts, usize::from(parts))?;
                Ok(None)
            }
            Noted::Answered { part, ask, answer } => {
                let way = self.way(usize::from(part))?;
                let said = self.answered(usize::from(part), ask, answer)?;
                self.answer(&way, usize::from(part), ask, answer)?;
                Ok(Some(said))
            }
            Noted::OutOfSight { part, out_of_sight } => {
                self.out_of_sight(usize::from(part), out_of_sight).map(Some)
            }
            Noted::Heeded { caution, part } => {
                self.way(usize::from(part))?;
                let caution = usize::from(caution);
                if caution >= self.pack.cautions() {
                    return Err(Unsaid::NoSuch);
                }
                let text = self.pack.text(self.pack.caution(caution).text);
                let part = words::part_name(self.model, &self.part(usize::from(part)));
                Ok(Some(Said::Remark(format!("heeded ({part}): {text}"))))
            }
            Noted::Finished => {
                self.standing.as_ref().ok_or(Unsaid::NoPiece)?;
                let text = "the inspection is finished".to_owned();
                Ok(Some(Said::Remark(text)))
            }
        }
    }

    fn set_up(
        &mut self,
        root: usize,
        counts: &[(u16, u16, u8)],
        number: usize,
    ) -> Result<(), Unsaid> {
        let parts = self.lay_out(root, |_, owner, place| {
            let same =
                |(o, p, _): &&(u16, u16, u8)| (usize::from(*o), usize::from(*p)) == (owner, place);
            counts.iter().find(same).map(|(_, _, number)| *number)
        })?;
        if parts.len() != number {
            return Err(Unsaid::NoSuch);
        }
        let counts = counts.iter().filter_map(|&(owner, place, number)| {
            Some(((way(&parts, usize::from(owner))?, place), number))
        });
        self.standing = Some(Standing {
            root,
            counts: counts.collect(),
            parts,
            answers: BTreeMap::new(),
        });
        Ok(())
    }

    /// The parts of a piece; what is not counted is as usual.
    fn lay_out(
        &self,
        root: usize,
        mut counted: impl FnMut(&[Part], usize, usize) -> Option<u8>,
    ) -> Result<Vec<Part>, Unsaid> {
        let mut parts = vec![Part::default(); MOST];
        let mut answers = vec![Answer::NotLooked; MOST];
        let pack = &self.pack;
        let count = |parts: &[Part], owner: usize, place: usize| {
            counted(parts, owner, place).unwrap_or(pack.place(place).usual)
        };
        let piece = Piece::set_up(pack, root, count, &mut parts, &mut answers)
            .map_err(|_| Unsaid::NoSuch)?;
        let used = piece.parts().len();
        parts.truncate(used);
        Ok(parts)
    }

    fn way(&self, part: usize) -> Result<Way, Unsaid> {
        let standing = self.standing.as_ref().ok_or(Unsaid::NoPiece)?;
        way(&standing.parts, part).ok_or(Unsaid::NoSuch)
    }

    fn part(&self, part: usize) -> PartRef {
        part_ref(&self.built.places, self.parts(), part)
    }

    /// Keeps an answer. One that counts parts changes how many there are.
    fn answer(&mut self, way: &Way, part: usize, ask: u16, answer: Answer) -> Result<(), Unsaid> {
        let form = self.pack.ask(usize::from(ask)).form;
        let Some(mut standing) = self.standing.take() else {
            return Err(Unsaid::NoPiece);
        };
        standing.answers.insert((way.clone(), ask), answer);
        if let (Answer::Reading(number), Form::HowMany { part: kind }) = (answer, form) {
            let place = standing.parts.get(part).map(|p| usize::from(p.place));
            let mut children = self.pack.children(place.unwrap_or_default());
            let child = children.find(|&c| self.pack.place(c).kind == kind);
            if let (Some(child), Ok(number)) = (child, u8::try_from(number)) {
                let child = u16::try_from(child).unwrap_or(NONE);
                standing.counts.insert((way.clone(), child), number);
                let counts = &standing.counts;
                standing.parts = self.lay_out(standing.root, |parts, owner, place| {
                    let place = u16::try_from(place).unwrap_or(NONE);
                    counts.get(&(self::way(parts, owner)?, place)).copied()
                })?;
            }
        }
        self.standing = Some(standing);
        Ok(())
    }

    fn answered(&self, part: usize, ask: u16, answer: Answer) -> Result<Said, Unsaid> {
        let place = self.parts().get(part).ok_or(Unsaid::NoSuch)?.place;
        self.pack
            .ask_slot(usize::from(place), ask)
            .ok_or(Unsaid::NoSuch)?;
        let row = self.built.states.asks.get(usize::from(ask));
        let found = match row.ok_or(Unsaid::NoSuch)?.what {
            Asked::Sign(sign) => self.of_sign(sign, answer),
            Asked::State(state) => self.of_state(state, answer),
        };
        match found {
            Some(found) => self.finding(part, found),
            // "Cannot be seen" of a fault that is only seen when a part is
            // opened says nothing that the record has a sentence for.
            None => {
                let name = words::part_name(self.model, &self.part(part));
                let phrase = self.pack.text(self.pack.ask(usize::from(ask)).phrase);
                Ok(Said::Remark(format!("{name}, {phrase}: cannot be told")))
            }
        }
    }

    fn of_sign(&self, sign: SignId, answer: Answer) -> Option<Found> {
        let asks = &self.model.signs.get(sign.index())?.asks;
        Some(match (answer, asks) {
            (Answer::NotLooked, _) => Found::NotLooked(sign),
            (Answer::CannotSee, _) => Found::SignCannotBeSeen(sign),
            (_, Asks::Whether(state)) => {
                let state = *state;
                let (yes, sure) = sureness(answer)?;
                Found::State { state, yes, sure }
            }
            (Answer::Reading(ticks), Asks::HowMuch { .. }) => Found::Measure { sign, ticks },
            (Answer::Reading(number), Asks::HowMany(part)) => Found::Count {
                part: *part,
                number: u8::try_from(number).ok()?,
            },
            (Answer::Value(value), Asks::Which { .. }) => Found::Choice { sign, value },
            _ => return None,
        })
    }

    fn of_state(&self, state: StateId, answer: Answer) -> Option<Found> {
        if answer == Answer::NotLooked {
            return Some(Found::NotOpened(state));
        }
        let (yes, mut sure) = sureness(answer)?;
        let record = self.model.states.get(state.index())?;
        // A hidden fault that was seen was seen for certain.
        if matches!(record.nature, Nature::Hidden { .. }) && sure == Sure::Certain {
            sure = Sure::Ordinary;
        }
        Some(Found::State { state, yes, sure })
    }

    fn out_of_sight(&mut self, part: usize, out_of_sight: bool) -> Result<Said, Unsaid> {
        let way = self.way(part)?;
        if out_of_sight {
            return self.finding(part, Found::PartCannotBeSeen);
        }
        // The record has no word for "can be seen after all"; but whatever is
        // said of a part, that it was looked at or not, says that it can be.
        let place = self.parts().get(part).map_or(0, |p| usize::from(p.place));
        let standing = self.standing.as_ref().ok_or(Unsaid::NoPiece)?;
        let again = self.pack.asks_of(place).find_map(|ask| {
            let answer = standing.answers.get(&(way.clone(), ask)).copied();
            match self.answered(part, ask, answer.unwrap_or_default()) {
                Ok(Said::Finding(said)) => Some(Said::Finding(said)),
                _ => None,
            }
        });
        let name = words::part_name(self.model, &self.part(part));
        Ok(again.unwrap_or_else(|| Said::Remark(format!("{name} can be seen"))))
    }

    /// A finding, if the rules read it as it is meant.
    fn finding(&self, part: usize, found: Found) -> Result<Said, Unsaid> {
        let fact = Fact {
            part: self.part(part),
            found,
            at: crate::language::span::Span::default(),
        };
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
        let standing = self.standing.as_ref()?;
        Some(PieceOrder {
            kind: self.built.places.kind(standing.root),
            counts: self.counts(standing),
        })
    }

    /// The counts that "chest of drawers with 3 drawers" names.
    fn counts(&self, standing: &Standing) -> Vec<(KindId, u8)> {
        let pack = &self.pack;
        pack.children(standing.root)
            .filter_map(|place| {
                let here = number(&standing.parts, 0, place);
                let is_said = self.stands_once(place) && here != pack.place(place).usual;
                is_said.then_some((self.built.places.kind(place), here))
            })
            .collect()
    }

    /// Whether a piece has no other place for the kind that stands there. Of one
    /// that it has, the words for the piece would count those there too.
    fn stands_once(&self, place: usize) -> bool {
        let Some(standing) = &self.standing else {
            return false;
        };
        let (places, root) = (&self.built.places, standing.root);
        let end = usize::from(self.pack.place(root).end);
        let kind = places.kind(place);
        (root..end).filter(|&p| places.kind(p) == kind).count() == 1
    }

    /// Where the piece has another number of parts than this one, which is of
    /// the same kind: the owner's words, how many there and how many here.
    #[must_use]
    pub fn differs(&self, other: &[Part]) -> Option<Difference> {
        let parts = self.parts();
        for (owner, record) in parts.iter().enumerate() {
            for place in self.pack.children(usize::from(record.place)) {
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
            at: crate::language::span::Span::default(),
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
            (Ok(Some(Said::Finding(text) | Said::Remark(text))), _) => words::sentence(&text),
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

fn sureness(answer: Answer) -> Option<(bool, Sure)> {
    match answer {
        Answer::Seen(yes) => Some((yes, Sure::Ordinary)),
        Answer::Looks(yes) => Some((yes, Sure::Looks)),
        Answer::Certain(yes) => Some((yes, Sure::Certain)),
        Answer::NotLooked | Answer::CannotSee | Answer::Reading(_) | Answer::Value(_) => None,
    }
}

fn way(parts: &[Part], part: usize) -> Option<Way> {
    let mut way = Vec::new();
    let mut at = part;
    loop {
        let record = parts.get(at)?;
        if record.owner == NONE {
            break;
        }
        way.push((record.place, record.number));
        at = usize::from(record.owner);
    }
    way.reverse();
    Some(way)
}

/// How many parts of a place an owner has.
fn number(parts: &[Part], owner: usize, place: usize) -> u8 {
    let is_one = |p: &&Part| (usize::from(p.owner), usize::from(p.place)) == (owner, place);
    u8::try_from(parts.iter().filter(is_one).count()).unwrap_or(u8::MAX)
}
