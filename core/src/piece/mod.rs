//! The piece on the bench: a tree of parts, and what was answered about each.
//!
//! A [`Piece`] lives in memory that its caller lends it: one [`Part`] for each
//! part and one [`Answer`] for each thing that can be asked of each part.

mod answer;
mod judged;
mod recount;
mod tabled;
mod worked_out;

pub use answer::{Answer, Deviation, NotNoted};
pub use judged::{Eye, Judged, Than};

use crate::limits::MAX_DEPTH;
use crate::pack::{NONE, Pack, Way};
use crate::truth::Truth;

/// One part of the piece.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Part {
    /// Where its kind stands in the pack's tree.
    pub place: u16,
    /// The kind.
    pub kind: u16,
    /// The part it is built into; [`NONE`] for the piece itself.
    pub owner: u16,
    /// Which of its owner's parts of this kind, from 1.
    pub number: u8,
    /// Nobody can see it: boxed in, or missing.
    pub out_of_sight: bool,
    /// First of its own parts; those of one kind stand together.
    pub first_child: u16,
    /// How many parts it has.
    pub children: u16,
    /// First of its answers.
    pub first_answer: u16,
}

/// Why a piece could not be set up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SetUpError {
    /// The pack has no such piece.
    NotAPiece,
    /// More parts than there is room for.
    TooManyParts,
    /// More answers than there is room for.
    TooManyAnswers,
    /// The owner would have fewer or more of these parts than the pack allows.
    Count {
        /// The place of the parts.
        place: u16,
        /// How many were asked for.
        number: u8,
    },
}

/// The piece on the bench.
#[derive(Debug)]
pub struct Piece<'m> {
    /// The lent memory; the first [`Piece::parts`] of it are in use.
    parts: &'m mut [Part],
    answers: &'m mut [Answer],
    used: usize,
    asked: usize,
}

impl<'m> Piece<'m> {
    /// Sets up the piece whose root stands at `root` in the pack's tree.
    ///
    /// `count` says how many parts of the given place this owner (its index,
    /// and the parts set up so far) has; the usual number is there to be used.
    ///
    /// # Errors
    /// See [`SetUpError`].
    pub fn set_up(
        pack: &Pack<'_>,
        root: usize,
        count: impl FnMut(&[Part], usize, usize) -> u8,
        parts: &'m mut [Part],
        answers: &'m mut [Answer],
    ) -> Result<Self, SetUpError> {
        let (used, asked) = lay_out(pack, root, count, parts)?;
        let no_answers = answers.get_mut(..asked);
        no_answers
            .ok_or(SetUpError::TooManyAnswers)?
            .fill(Answer::NotLooked);
        let mut piece = Self {
            parts,
            answers,
            used,
            asked,
        };
        piece.work_out_all(pack);
        Ok(piece)
    }

    /// Gives back the lent memory, all of it.
    #[must_use]
    pub fn into_memory(self) -> (&'m mut [Part], &'m mut [Answer]) {
        (self.parts, self.answers)
    }

    /// All parts; an owner comes before its parts.
    #[must_use]
    pub fn parts(&self) -> &[Part] {
        self.parts.get(..self.used).unwrap_or(&[])
    }

    fn answers(&self) -> &[Answer] {
        self.answers.get(..self.asked).unwrap_or(&[])
    }

    /// Where the whole piece stands in the pack's tree.
    #[must_use]
    pub fn root(&self) -> usize {
        usize::from(self.record(0).place)
    }

    /// One part; `None` for a number there is not.
    #[must_use]
    pub fn part(&self, part: usize) -> Option<Part> {
        self.parts().get(part).copied()
    }

    /// One part, by a number that comes from this piece. (Any other gives the piece
    /// itself: numbers from outside go through [`Self::part`] first.)
    pub(crate) fn record(&self, part: usize) -> Part {
        let parts = self.parts();
        parts
            .get(part)
            .or(parts.first())
            .copied()
            .unwrap_or_default()
    }

    /// The parts of this one that stand at `place` in the pack's tree; none, of a part
    /// there is not.
    #[must_use]
    pub fn children_at(&self, part: usize, place: usize) -> core::ops::Range<usize> {
        children_at(self.parts(), part, place)
    }

    /// The owners of a part, from the nearest to the piece itself; none, of a part
    /// there is not.
    pub fn owners(&self, part: usize) -> impl Iterator<Item = usize> + '_ {
        let mut next = self.record(part).owner;
        core::iter::from_fn(move || {
            if next == NONE {
                return None;
            }
            let owner = usize::from(next);
            next = self.record(owner).owner;
            Some(owner)
        })
        .take(MAX_DEPTH)
    }

    /// Where the answer to an ask stands.
    fn answer_index(&self, pack: &Pack<'_>, part: usize, ask: u16) -> Result<usize, NotNoted> {
        let record = self.parts().get(part).ok_or(NotNoted::NoSuchPart)?;
        let slot = pack
            .ask_slot(usize::from(record.place), ask)
            .ok_or(NotNoted::NoSuchAsk)?;
        Ok(usize::from(record.first_answer) + slot)
    }

    /// What was answered; `None` if this part has no such ask.
    #[must_use]
    pub fn answer(&self, pack: &Pack<'_>, part: usize, ask: u16) -> Option<Answer> {
        let index = self.answer_index(pack, part, ask).ok()?;
        self.answers().get(index).copied()
    }

    /// What was said to a yes/no ask, by where its answer stands.
    pub(crate) fn said(&self, answer: usize) -> Truth {
        match self.answers.get(answer) {
            Some(Answer::Seen(yes) | Answer::Certain(yes)) => (*yes).into(),
            _ => Truth::NotKnown,
        }
    }

    /// Everything answered about a part, in the order of its asks; nothing, of a part
    /// there is not.
    #[must_use]
    pub fn answers_of(&self, part: usize) -> &[Answer] {
        let Some(record) = self.parts().get(part) else {
            return &[];
        };
        let first = usize::from(record.first_answer);
        let end = self
            .parts()
            .get(part.saturating_add(1))
            .map_or(self.asked, |next| usize::from(next.first_answer));
        self.answers().get(first..end).unwrap_or(&[])
    }

    /// Notes an answer and gives back the one before.
    ///
    /// # Errors
    /// See [`NotNoted`]; then nothing has changed.
    pub fn set(
        &mut self,
        pack: &Pack<'_>,
        part: usize,
        ask: u16,
        answer: Answer,
    ) -> Result<Answer, NotNoted> {
        let index = self.answer_index(pack, part, ask)?;
        if !answer.fits(pack.ask(usize::from(ask)).form) {
            return Err(NotNoted::WrongKind);
        }
        let slot = self.answers.get_mut(index).ok_or(NotNoted::NoSuchAsk)?;
        Ok(core::mem::replace(slot, answer))
    }

    /// Notes that a part can or cannot be seen at all, with everything that is built into
    /// it; gives back what was noted of it before. (Of the piece itself it is said of
    /// nothing that is built into it.)
    ///
    /// # Errors
    /// [`NotNoted::NoSuchPart`].
    pub fn set_out_of_sight(&mut self, part: usize, out_of_sight: bool) -> Result<bool, NotNoted> {
        let before = self.part(part).ok_or(NotNoted::NoSuchPart)?.out_of_sight;
        for at in part..self.used {
            let is_inside = part != 0 && self.owners(at).any(|owner| owner == part);
            if let Some(record) = self.parts.get_mut(at).filter(|_| at == part || is_inside) {
                record.out_of_sight = out_of_sight;
            }
        }
        Ok(before)
    }

    /// Every answer given so far: part, ask, answer. (What is worked out from these is
    /// none.)
    pub fn answered<'p>(
        &'p self,
        pack: &'p Pack<'_>,
    ) -> impl Iterator<Item = (usize, u16, Answer)> + 'p {
        self.parts().iter().enumerate().flat_map(move |(i, part)| {
            let first = usize::from(part.first_answer);
            pack.asks_of(usize::from(part.place))
                .enumerate()
                .filter_map(move |(slot, ask)| {
                    let answer = self.answers().get(first + slot).copied()?;
                    let is_given = answer != Answer::NotLooked
                        && pack.ask(usize::from(ask)).way != Way::WorkOut;
                    is_given.then_some((i, ask, answer))
                })
        })
    }
}

/// Lays out the tree of parts; gives back how many parts there are and how many
/// answers they have room for.
fn lay_out(
    pack: &Pack<'_>,
    root: usize,
    mut count: impl FnMut(&[Part], usize, usize) -> u8,
    parts: &mut [Part],
) -> Result<(usize, usize), SetUpError> {
    if root >= pack.places() || pack.place(root).owner != NONE {
        return Err(SetUpError::NotAPiece);
    }
    let full = SetUpError::TooManyParts;
    let index = |n: usize| u16::try_from(n).ok().filter(|&i| i != NONE).ok_or(full);
    *parts.first_mut().ok_or(full)? = Part {
        place: index(root)?,
        kind: pack.place(root).kind,
        owner: NONE,
        number: 1,
        ..Part::default()
    };
    let mut used = 1;
    let mut asked = 0_usize;
    let mut at = 0;
    while at < used {
        let place = usize::from(parts.get(at).ok_or(full)?.place);
        let first = used;
        for child in pack.children(place) {
            let record = pack.place(child);
            let number = count(parts.get(..used).ok_or(full)?, at, child);
            if number < record.least || number > record.most {
                return Err(SetUpError::Count {
                    place: index(child)?,
                    number,
                });
            }
            for n in 1..=number {
                *parts.get_mut(used).ok_or(full)? = Part {
                    place: index(child)?,
                    kind: record.kind,
                    owner: index(at)?,
                    number: n,
                    ..Part::default()
                };
                used += 1;
            }
        }
        let part = parts.get_mut(at).ok_or(full)?;
        part.first_child = index(first)?;
        part.children = index(used - first)?;
        part.first_answer = u16::try_from(asked).map_err(|_| SetUpError::TooManyAnswers)?;
        asked += pack.asks_of(place).count();
        at += 1;
    }
    Ok((used, asked))
}

/// The parts of one part that stand at a place.
fn children_at(parts: &[Part], part: usize, place: usize) -> core::ops::Range<usize> {
    let record = parts.get(part).copied().unwrap_or_default();
    let first = usize::from(record.first_child);
    let end = first + usize::from(record.children);
    let is_there = |&i: &usize| {
        parts
            .get(i)
            .is_some_and(|part| usize::from(part.place) == place)
    };
    let Some(start) = (first..end).find(is_there) else {
        return first..first;
    };
    let past = (start..end).find(|i| !is_there(i)).unwrap_or(end);
    start..past
}
