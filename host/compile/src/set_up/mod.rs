//! Sets a piece up as a job's record says, and answers what the record
//! answers.

use std::collections::BTreeMap;

use tellmark_core::inspection::{Given, Inspection};
use tellmark_core::number::Number;
use tellmark_core::pack::{Form, Pack};
use tellmark_core::piece::{self, Answer, Eye, Judged, Part, SetUpError};

mod cautions;
mod clash;
mod found_out;
mod judged;
mod later;
mod parts;
mod work_room;

pub use cautions::Caution;
pub use clash::Clash;
pub use found_out::found_out;
pub use later::{At, Later, Mend, Mended, NoLater, Sorted, sound};
pub use parts::part_ref;
pub use work_room::WorkRoom;

use crate::built::Built;
use crate::ground::{Ground, GroundPart};
use crate::room::Room;
use parts::is_meant;
use tellmark_language::model::{
    Fact, Found, KindId, Model, Nature, PartRef, PieceOrder, StateId, Sure, Than,
};

/// What a piece is set up from.
#[derive(Clone, Copy, Debug)]
pub struct SetUp<'s> {
    /// The rules.
    pub model: &'s Model,
    /// The rules, compiled.
    pub built: &'s Built,
    /// What the piece is.
    pub order: &'s PieceOrder,
    /// What was found, oldest first.
    pub facts: &'s [&'s Fact],
    /// The chances of the piece as it is now, if something was mended: then the facts are
    /// those that hold now. `None`: the piece as it was found.
    pub later: Option<&'s Later>,
}

/// What gave an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Origin {
    /// The piece was opened with so many parts.
    Opened,
    /// A fact, by its index.
    Fact(usize),
}

/// An answer, and what gave it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Evidence {
    /// The answer.
    pub given: Given,
    /// Where it comes from.
    pub from: Origin,
}

/// A piece with its findings put to the rules.
#[derive(Debug)]
pub struct Case<'m, N> {
    /// The piece and its chances.
    pub inspection: Inspection<'m, 'm, N>,
    /// The answers that say something, with what gave them, part by part.
    pub evidence: Vec<Evidence>,
    /// The chances after something was mended, if something was.
    later: Option<&'m Later>,
}

impl<'s> SetUp<'s> {
    /// How many parts of a place an owner has: what was counted last, else what
    /// the job was opened with, else what is usual.
    fn count(&self, pack: &Pack<'_>, parts: &[Part], owner: usize, place: usize) -> u8 {
        let places = &self.built.places;
        let kind = places.kind(place);
        let counted = self.facts.iter().rev().find_map(|fact| match fact.found {
            Found::Count { part, number }
                if part == kind && is_meant(places, parts, owner, &fact.part) =>
            {
                Some(number)
            }
            _ => None,
        });
        let ordered = self.order.counts.iter().find(|(k, _)| *k == kind);
        let record = pack.place(place);
        counted
            .or(ordered.map(|(_, n)| *n))
            .unwrap_or(record.usual)
            .clamp(record.least, record.most)
    }

    /// The ground network of the piece as it is set up.
    #[must_use]
    pub fn ground<N: Number>(&self, inspection: &Inspection<'_, '_, N>) -> Ground {
        let piece = inspection.piece();
        let ground = |_: &[GroundPart], owner, place| {
            let last = piece.children_at(owner, place).last();
            last.and_then(|last| piece.part(last))
                .map_or(0, |part| part.number)
        };
        self.built.ground(self.model, piece.root(), ground)
    }

    /// The piece without any answer.
    ///
    /// # Errors
    /// If it is too large, or not a piece that the rules know.
    pub fn bare<'m, N: Number>(
        &self,
        pack: Pack<'m>,
        room: &'m mut Room<N>,
    ) -> Result<Inspection<'m, 'm, N>, SetUpError> {
        let root = pack
            .root_of(self.order.kind.0)
            .ok_or(SetUpError::NotAPiece)?;
        room.inspection(pack, root, |parts, owner, place| {
            self.count(&pack, parts, owner, place)
        })
    }

    /// The piece with everything that was found.
    ///
    /// # Errors
    /// If it is too large, or not a piece that the rules know.
    pub fn case<'m, N: Number>(
        &self,
        pack: Pack<'m>,
        room: &'m mut Room<N>,
    ) -> Result<Case<'m, N>, SetUpError>
    where
        's: 'm,
    {
        if let Some(later) = self.later {
            room.go_by(&later.chances());
        }
        let mut inspection = self.bare(pack, room)?;
        let mut found = BTreeMap::new();
        self.apply_counts(&mut inspection, &mut found);
        for (i, fact) in self.facts.iter().enumerate() {
            self.apply(&mut inspection, fact, i, &mut found);
        }
        let evidence = found
            .into_iter()
            .filter(|(_, (answer, _))| answer.says_something())
            .map(|((part, ask), (answer, from))| Evidence {
                given: Given { part, ask, answer },
                from,
            })
            .collect();
        Ok(Case {
            inspection,
            evidence,
            later: self.later,
        })
    }

    /// What the job was opened with is known.
    fn apply_counts<N: Number>(&self, inspection: &mut Inspection<'_, '_, N>, found: &mut Answers) {
        for part in 0..inspection.piece().parts().len() {
            for &(kind, number) in &self.order.counts {
                if let Some(answer) = count(inspection, part, kind, number) {
                    found.insert(answer, (Answer::Reading(number.into()), Origin::Opened));
                }
            }
        }
    }

    fn apply<N: Number>(
        &self,
        inspection: &mut Inspection<'_, '_, N>,
        fact: &Fact,
        number: usize,
        found: &mut Answers,
    ) {
        let from = Origin::Fact(number);
        let parts = resolve(self.built, inspection, &fact.part);
        for part in parts {
            if let Found::Count {
                part: kind,
                number: n,
            } = fact.found
            {
                if let Some(answer) = count(inspection, part, kind, n) {
                    found.insert(answer, (Answer::Reading(n.into()), from));
                }
                continue;
            }
            let Some((ask, answer)) = self.answer(&fact.found) else {
                // All these parts are parts of the piece.
                let hidden = fact.found == Found::PartCannotBeSeen;
                let _ = inspection.out_of_sight(part, hidden);
                continue;
            };
            if inspection.answer(part, ask, answer).is_ok() {
                found.insert((part, ask), (answer, from));
            }
        }
    }

    /// The ask that a finding about a sign or state answers; `None` if it is
    /// about the whole part.
    fn answer(&self, found: &Found) -> Option<(u16, Answer)> {
        let states = &self.built.states;
        let sign = |s| states.ask(s);
        Some(match *found {
            Found::State { state, yes, sure } if self.model.degree_of(state).is_some() => {
                let row = states.states.get(states.declared(state))?;
                row.said(yes, eye(sure))
            }
            Found::Degree {
                sign: s,
                degree,
                than,
                sure,
            } => (sign(s), judged(degree, than, sure)),
            Found::State { state, yes, sure } => {
                let (ask, hidden) = self.ask_of(state)?;
                let answer = match sure {
                    Sure::Looks => Answer::Looks(yes),
                    Sure::Ordinary if !hidden => Answer::Seen(yes),
                    Sure::Ordinary | Sure::Certain => Answer::Certain(yes),
                };
                (ask, answer)
            }
            Found::Measure { sign: s, ticks } => (sign(s), Answer::Reading(ticks)),
            Found::Choice { sign: s, value } => (sign(s), Answer::Value(value)),
            Found::Count { .. } => return None,
            Found::PartCannotBeSeen | Found::PartCanBeSeen => return None,
            Found::SignCannotBeSeen(s) => (sign(s), Answer::CannotSee),
            Found::NotLooked(s) => (sign(s), Answer::NotLooked),
            Found::NotOpened(state) => (self.ask_of(state)?.0, Answer::NotLooked),
        })
    }

    /// The ask that says whether a state is so, and whether it is hidden.
    fn ask_of(&self, state: StateId) -> Option<(u16, bool)> {
        let states = &self.built.states;
        Some(match &self.model.states[state.index()].nature {
            Nature::Seen(sign) => (states.ask(*sign), false),
            Nature::Hidden { .. } => (states.opened(state)?, true),
            Nature::CountsAs { .. } => (states.opened(state)?, false),
        })
    }
}

/// How sure an answer is of what was looked at.
fn eye(sure: Sure) -> Eye {
    match sure {
        Sure::Ordinary => Eye::Ordinary,
        Sure::Looks => Eye::Looks,
        Sure::Certain => Eye::Certain,
    }
}

/// The answer of a judgement in degrees.
fn judged(degree: u8, than: Than, sure: Sure) -> Answer {
    let than = match than {
        Than::Just => piece::Than::Just,
        Than::AtLeast => piece::Than::AtLeast,
        Than::LessThan => piece::Than::LessThan,
    };
    let eye = eye(sure);
    Answer::Value(Judged { degree, than, eye }.value())
}

/// Answers by part and ask, each with what gave it last.
type Answers = BTreeMap<(usize, u16), (Answer, Origin)>;

/// Notes how many parts of a kind a part has, and gives back which answer that is: its
/// part and ask. `None`, and nothing is noted, if that is not asked of this part.
fn count<N: Number>(
    inspection: &mut Inspection<'_, '_, N>,
    part: usize,
    kind: KindId,
    number: u8,
) -> Option<(usize, u16)> {
    let pack = inspection.pack();
    let place = usize::from(inspection.piece().part(part)?.place);
    let form = Form::HowMany { part: kind.0 };
    let mut asks = pack.asks_of(place);
    let ask = asks.find(|&ask| pack.ask(usize::from(ask)).form == form)?;
    inspection.count(part, kind.0, number)?;
    Some((part, ask))
}

/// The parts that these words mean on this piece.
#[must_use]
pub fn resolve<N: Number>(
    built: &Built,
    inspection: &Inspection<'_, '_, N>,
    meant: &PartRef,
) -> Vec<usize> {
    let parts = inspection.piece().parts();
    (0..parts.len())
        .filter(|&part| is_meant(&built.places, parts, part, meant))
        .collect()
}
