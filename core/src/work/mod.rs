//! The piece on the bench, as its record says: begun, counted, set up and
//! answered about.
//!
//! Every [`Noted`] goes through [`Work::play`], whether it was just noted or is
//! played back from a record, so both lead to the same state. `noting.rs` has
//! what a front end calls when somebody counts parts or gives an answer.

mod noting;

use heapless::Vec;

use crate::belief::{Desk, Need};
use crate::inspection::Inspection;
use crate::limits::{MAX_COUNTS, MAX_HEEDED};
use crate::number::Number;
use crate::pack::{Form, NONE, Pack};
use crate::piece::{Answer, Part, Piece};
use crate::record::Noted;

/// Memory for a piece, borrowed from the caller.
#[derive(Debug)]
pub struct Memory<'m, N> {
    /// One for each part.
    pub parts: &'m mut [Part],
    /// One for each thing that can be asked.
    pub answers: &'m mut [Answer],
    /// See [`Need`].
    pub numbers: &'m mut [N],
    /// One for each part.
    pub desks: &'m mut [Desk],
}

/// Why something cannot be noted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// It was noted under other rules than these.
    OtherPack,
    /// There is no such piece, part or ask, or no such number of parts.
    NoSuch,
    /// It is out of turn: there is no piece yet, or there is one already.
    OutOfTurn,
    /// There is too little memory for so many parts.
    TooLarge,
}

/// How many parts an owner has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Count {
    /// Index of the owner.
    pub owner: u16,
    /// Place of the parts in the pack's tree.
    pub place: u16,
    /// How many.
    pub number: u8,
}

/// A piece and its record so far.
#[derive(Debug)]
pub struct Work<'m, 'a, N> {
    pack: Pack<'a>,
    free: Option<Memory<'m, N>>,
    standing: Option<Inspection<'m, 'a, N>>,
    root: Option<u16>,
    /// How many parts of the piece being begun are laid out in the free memory.
    laid: usize,
    counts: Vec<Count, MAX_COUNTS>,
    heeded: Vec<(u16, u16), MAX_HEEDED>,
    last: Option<(u16, u16)>,
    finished: bool,
}

impl<'m, 'a, N: Number> Work<'m, 'a, N> {
    /// Nothing is on the bench yet.
    #[must_use]
    pub fn new(pack: Pack<'a>, memory: Memory<'m, N>) -> Self {
        Self {
            pack,
            free: Some(memory),
            standing: None,
            root: None,
            laid: 0,
            counts: Vec::new(),
            heeded: Vec::new(),
            last: None,
            finished: false,
        }
    }

    /// The pack.
    #[must_use]
    pub fn pack(&self) -> &Pack<'a> {
        &self.pack
    }

    /// The place of the piece that is begun or set up.
    #[must_use]
    pub fn root(&self) -> Option<usize> {
        self.root.map(usize::from)
    }

    /// The numbers of parts that were counted while it was begun.
    #[must_use]
    pub fn counts(&self) -> &[Count] {
        &self.counts
    }

    /// The parts of the piece, begun or set up.
    #[must_use]
    pub fn parts(&self) -> &[Part] {
        match (&self.standing, &self.free) {
            (Some(inspection), _) => inspection.piece().parts(),
            (None, Some(memory)) => memory.parts.get(..self.laid).unwrap_or(&[]),
            (None, None) => &[],
        }
    }

    /// The piece, once it is set up.
    #[must_use]
    pub fn inspection(&self) -> Option<&Inspection<'m, 'a, N>> {
        self.standing.as_ref()
    }

    /// The same, to work chances out.
    pub fn inspection_mut(&mut self) -> Option<&mut Inspection<'m, 'a, N>> {
        self.standing.as_mut()
    }

    /// Part and ask of the round that were answered last.
    #[must_use]
    pub fn last(&self) -> Option<(usize, u16)> {
        self.last.map(|(part, ask)| (usize::from(part), ask))
    }

    /// Whether a caution about a part has been heeded.
    #[must_use]
    pub fn is_heeded(&self, caution: usize, part: usize) -> bool {
        self.heeded
            .iter()
            .any(|&(c, p)| usize::from(c) == caution && usize::from(p) == part)
    }

    /// Whether the inspection is finished. An answer after that opens it again.
    #[must_use]
    pub fn is_finished(&self) -> bool {
        self.finished
    }

    /// What was answered.
    #[must_use]
    pub fn answer(&self, part: usize, ask: u16) -> Answer {
        let piece = self.standing.as_ref().map(Inspection::piece);
        let answer = piece.and_then(|piece| piece.answer(&self.pack, part, ask));
        answer.unwrap_or_default()
    }

    /// Takes one thing noted.
    ///
    /// An answer that counts parts changes how many there are: from then on the
    /// parts are numbered as in a piece that was set up so.
    ///
    /// # Errors
    /// See [`Refused`]; then nothing has changed.
    pub fn play(&mut self, noted: Noted) -> Result<(), Refused> {
        match noted {
            Noted::Begun { root, pack } => self.begin(root, pack),
            Noted::Parts {
                owner,
                place,
                number,
            } => self.count(Count {
                owner,
                place,
                number,
            }),
            Noted::SetUp { parts } => self.set_up(parts),
            Noted::Answered { part, ask, answer } => self.give(part, ask, answer),
            Noted::OutOfSight { part, out_of_sight } => {
                let inspection = self.standing.as_mut().ok_or(Refused::OutOfTurn)?;
                inspection
                    .out_of_sight(usize::from(part), out_of_sight)
                    .map_err(|_| Refused::NoSuch)?;
                self.finished = false;
                Ok(())
            }
            Noted::Heeded { caution, part } => {
                let inspection = self.standing.as_ref().ok_or(Refused::OutOfTurn)?;
                if usize::from(part) >= inspection.piece().parts().len()
                    || usize::from(caution) >= self.pack.cautions()
                {
                    return Err(Refused::NoSuch);
                }
                if !self.is_heeded(usize::from(caution), usize::from(part)) {
                    // Without room for it, the caution is shown again.
                    let _ = self.heeded.push((caution, part));
                }
                Ok(())
            }
            // It is kept in the record, and changes nothing that is worked out.
            Noted::Remarked { part, remark } => {
                let inspection = self.standing.as_ref().ok_or(Refused::OutOfTurn)?;
                let is_there = usize::from(part) < inspection.piece().parts().len()
                    && usize::from(remark) < self.pack.remarks();
                is_there.then_some(()).ok_or(Refused::NoSuch)
            }
            Noted::Finished => {
                if self.standing.is_none() {
                    return Err(Refused::OutOfTurn);
                }
                self.finished = true;
                Ok(())
            }
        }
    }

    fn begin(&mut self, root: u16, pack: u32) -> Result<(), Refused> {
        if pack != self.pack.id() {
            return Err(Refused::OtherPack);
        }
        let place = usize::from(root);
        if place >= self.pack.places() || self.pack.place(place).owner != NONE {
            return Err(Refused::NoSuch);
        }
        if let Some(inspection) = self.standing.take() {
            let (parts, answers, numbers, desks) = inspection.into_memory();
            self.free = Some(Memory {
                parts,
                answers,
                numbers,
                desks,
            });
        }
        self.root = Some(root);
        self.counts.clear();
        self.heeded.clear();
        self.last = None;
        self.finished = false;
        self.lay_out();
        Ok(())
    }

    fn count(&mut self, count: Count) -> Result<(), Refused> {
        if self.standing.is_some() || self.root.is_none() {
            return Err(Refused::OutOfTurn);
        }
        let place = usize::from(count.place);
        if place >= self.pack.places() {
            return Err(Refused::NoSuch);
        }
        let record = self.pack.place(place);
        if record.owner == NONE || !(record.least..=record.most).contains(&count.number) {
            return Err(Refused::NoSuch);
        }
        let same = |c: &&mut Count| c.owner == count.owner && c.place == count.place;
        match self.counts.iter_mut().find(same) {
            Some(known) => *known = count,
            None => self.counts.push(count).map_err(|_| Refused::TooLarge)?,
        }
        self.lay_out();
        Ok(())
    }

    /// Lays out the piece being begun, as counted so far, in the free memory.
    fn lay_out(&mut self) {
        self.laid = self.trial().map_or(0, |(piece, ..)| piece.parts().len());
    }

    /// The piece being begun, and how many numbers and desks there are for it;
    /// `None` if it has too many parts, or if no piece is begun.
    fn trial(&mut self) -> Option<(Piece<'_>, usize, usize)> {
        let root = usize::from(self.root?);
        let (pack, counts) = (&self.pack, &self.counts);
        let memory = self.free.as_mut()?;
        let count = |_: &[Part], owner: usize, place: usize| counted(pack, counts, owner, place);
        let (numbers, desks) = (memory.numbers.len(), memory.desks.len());
        Piece::set_up(pack, root, count, memory.parts, memory.answers)
            .ok()
            .map(|piece| (piece, numbers, desks))
    }

    /// Whether the piece, as counted so far, has room in the memory.
    fn has_room(&mut self) -> bool {
        let pack = self.pack;
        self.trial().is_some_and(|(piece, numbers, desks)| {
            numbers >= Need::of(&pack, &piece).numbers() && desks >= piece.parts().len()
        })
    }

    fn set_up(&mut self, parts: u16) -> Result<(), Refused> {
        if self.standing.is_some() || self.root.is_none() {
            return Err(Refused::OutOfTurn);
        }
        if !self.has_room() {
            return Err(Refused::TooLarge);
        }
        if self.laid != usize::from(parts) {
            return Err(Refused::NoSuch);
        }
        let root = usize::from(self.root.unwrap_or(0));
        let memory = self.free.take().ok_or(Refused::OutOfTurn)?;
        let (pack, counts) = (&self.pack, &self.counts);
        let count = |_: &[Part], owner: usize, place: usize| counted(pack, counts, owner, place);
        // `has_room` has tried both.
        let piece = Piece::set_up(pack, root, count, memory.parts, memory.answers)
            .map_err(|_| Refused::TooLarge)?;
        let mut inspection = Inspection::new(self.pack, piece, memory.numbers, memory.desks)
            .map_err(|_| Refused::TooLarge)?;
        // What was counted is known.
        for count in &self.counts {
            let kind = self.pack.place(usize::from(count.place)).kind;
            inspection.count(usize::from(count.owner), kind, count.number);
        }
        self.standing = Some(inspection);
        Ok(())
    }

    fn give(&mut self, part: u16, ask: u16, answer: Answer) -> Result<(), Refused> {
        let inspection = self.standing.as_mut().ok_or(Refused::OutOfTurn)?;
        let index = usize::from(part);
        let place = inspection.piece().parts().get(index).map(|p| p.place);
        let place = usize::from(place.ok_or(Refused::NoSuch)?);
        if self.pack.ask_slot(place, ask).is_none() {
            return Err(Refused::NoSuch);
        }
        if let (Answer::Reading(number), Form::HowMany { part: kind }) =
            (answer, self.pack.ask(usize::from(ask)).form)
        {
            let mut children = self.pack.children(place);
            let child = children.find(|&c| self.pack.place(c).kind == kind);
            let child = child.ok_or(Refused::NoSuch)?;
            let record = self.pack.place(child);
            let number = u8::try_from(number).map_err(|_| Refused::NoSuch)?;
            if !(record.least..=record.most).contains(&number) {
                return Err(Refused::NoSuch);
            }
            if inspection.piece().children_at(index, child).len() != usize::from(number) {
                Self::recount(inspection, &mut self.heeded, (index, child), number)?;
            }
        }
        inspection
            .answer(index, ask, answer)
            .map_err(|_| Refused::NoSuch)?;
        self.finished = false;
        let round = crate::round::Round::of(&self.pack, inspection.piece());
        if round.asks(&self.pack, ask) {
            self.last = Some((part, ask));
        }
        Ok(())
    }

    fn recount(
        inspection: &mut Inspection<'m, 'a, N>,
        heeded: &mut Vec<(u16, u16), MAX_HEEDED>,
        (owner, place): (usize, usize),
        number: u8,
    ) -> Result<(), Refused> {
        let mut then: Vec<(u16, u16), MAX_HEEDED> = Vec::new();
        let moved = |from: usize, to: Option<usize>| {
            let Some(to) = to.and_then(|to| u16::try_from(to).ok()) else {
                return;
            };
            for &(caution, part) in heeded.iter() {
                if usize::from(part) == from {
                    let _ = then.push((caution, to));
                }
            }
        };
        inspection
            .recount(owner, place, number, moved)
            .map_err(|_| Refused::TooLarge)?;
        *heeded = then;
        Ok(())
    }
}

fn counted(pack: &Pack<'_>, counts: &[Count], owner: usize, place: usize) -> u8 {
    let same = |c: &&Count| usize::from(c.owner) == owner && usize::from(c.place) == place;
    let number = counts.iter().find(same).map(|count| count.number);
    number.unwrap_or(pack.place(place).usual)
}
