//! A piece being looked over: its parts, the answers so far and the chances
//! that follow, kept in step with each other.

use heapless::Vec;

use crate::belief::{Belief, Desk, Impossible, NoChance, TooSmall};
use crate::limits::{MAX_CLASH, MAX_DEPTH};
use crate::number::{Number, Share};
use crate::pack::{Form, Pack, Way};
use crate::piece::{Answer, NotNoted, Part, Piece, SetUpError};

/// One answer: about which part, to which ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Given {
    /// Index of the part.
    pub part: usize,
    /// Number of the ask in the pack.
    pub ask: u16,
    /// What was answered.
    pub answer: Answer,
}

/// A piece being looked over.
#[derive(Debug)]
pub struct Inspection<'m, 'a, N> {
    pack: Pack<'a>,
    piece: Piece<'m>,
    belief: Belief<'m, N>,
    /// The revision counter.
    changes: u32,
}

impl<'m, 'a, N: Number> Inspection<'m, 'a, N> {
    /// Starts with a piece as it was set up, and memory for its chances.
    ///
    /// # Errors
    /// [`TooSmall`] says how much memory is needed.
    pub fn new(
        pack: Pack<'a>,
        piece: Piece<'m>,
        numbers: &'m mut [N],
        desks: &'m mut [Desk],
    ) -> Result<Self, TooSmall> {
        let belief = Belief::new(&pack, &piece, numbers, desks)?;
        Ok(Self {
            pack,
            piece,
            belief,
            changes: 0,
        })
    }

    /// Goes by chances that were worked out elsewhere, whatever is answered: the weights
    /// of no and of yes of each state of each part, in their order. What asks how an answer
    /// would move a chance does not go by them. Of none, by the answers again.
    pub fn go_by(&mut self, weights: &'m [N]) {
        self.belief.go_by(weights);
        self.changes = self.changes.wrapping_add(1);
    }

    /// Gives back the lent memory, all of it: parts, answers, numbers, desks.
    #[must_use]
    #[allow(clippy::type_complexity)]
    pub fn into_memory(
        self,
    ) -> (
        &'m mut [Part],
        &'m mut [Answer],
        &'m mut [N],
        &'m mut [Desk],
    ) {
        let (parts, answers) = self.piece.into_memory();
        let (numbers, desks) = self.belief.into_memory();
        (parts, answers, numbers, desks)
    }

    /// The pack.
    #[must_use]
    pub fn pack(&self) -> &Pack<'a> {
        &self.pack
    }

    /// The piece.
    #[must_use]
    pub fn piece(&self) -> &Piece<'m> {
        &self.piece
    }

    /// The revision counter: it differs after each change of an answer, or of what can
    /// be seen.
    #[must_use]
    pub fn changes(&self) -> u32 {
        self.changes
    }

    /// Notes an answer and gives back the one before.
    ///
    /// # Errors
    /// See [`NotNoted`]; then nothing has changed.
    pub fn answer(&mut self, part: usize, ask: u16, answer: Answer) -> Result<Answer, NotNoted> {
        if self.pack.workings() > 0 && self.pack.ask(usize::from(ask)).way == Way::WorkOut {
            return Err(NotNoted::WrongKind);
        }
        let before = self.piece.set(&self.pack, part, ask, answer)?;
        if before != answer {
            let firmly = self.is_firm(ask, before) || self.is_firm(ask, answer);
            self.belief.changed(&self.piece, part, firmly);
            self.changes = self.changes.wrapping_add(1);
            self.work_out(part);
        }
        Ok(before)
    }

    /// Works out what follows from the readings of a part, on it and on all that it is
    /// built into.
    fn work_out(&mut self, part: usize) {
        if self.pack.workings() == 0 {
            return;
        }
        let mut next = Some(part);
        while let Some(at) = next {
            if self.piece.work_out(&self.pack, at) {
                self.belief.changed(&self.piece, at, true);
            }
            next = self.piece.owners(at).next();
        }
        if !self.pack.reads_owners() {
            return;
        }
        // What is worked out of an owner's answers may be anywhere below it.
        for _ in 0..MAX_DEPTH {
            let mut has_changed = false;
            for at in 0..self.piece.parts().len() {
                if self.piece.work_out(&self.pack, at) {
                    self.belief.changed(&self.piece, at, true);
                    has_changed = true;
                }
            }
            if !has_changed {
                return;
            }
        }
    }

    /// Notes that a part can or cannot be seen at all, with all that is built into it; gives
    /// back what was noted of it before.
    ///
    /// # Errors
    /// [`NotNoted::NoSuchPart`].
    pub fn out_of_sight(&mut self, part: usize, out_of_sight: bool) -> Result<bool, NotNoted> {
        let hidden = |piece: &Piece<'_>| piece.parts().iter().filter(|p| p.out_of_sight).count();
        let so_far = hidden(&self.piece);
        let before = self.piece.set_out_of_sight(part, out_of_sight)?;
        if hidden(&self.piece) != so_far {
            self.changes = self.changes.wrapping_add(1);
        }
        Ok(before)
    }

    /// The chance of a state of a part.
    ///
    /// # Errors
    /// See [`NoChance`].
    pub fn chance(&mut self, part: usize, state: u16) -> Result<Share, NoChance> {
        self.belief.chance(&self.pack, &self.piece, part, state)
    }

    /// The weights of no and yes of a state of a part, whose proportion is its
    /// chance; the state is given by its number in the part's place.
    ///
    /// # Errors
    /// See [`NoChance`].
    pub fn weights(&mut self, part: usize, slot: usize) -> Result<(N, N), NoChance> {
        self.belief.weights(&self.pack, &self.piece, part, slot)
    }

    /// How likely what was answered is if a state of a part does not hold, and if
    /// it does; the state is given by its number in the part's place. `None` if there is
    /// no such part, or it has no such state.
    #[must_use]
    pub fn likelihoods(&self, part: usize, slot: usize) -> Option<(N, N)> {
        self.belief.likelihoods(&self.pack, &self.piece, part, slot)
    }

    /// Whether the answers can all be true.
    ///
    /// # Errors
    /// [`Impossible`] if they cannot.
    pub fn settle(&mut self) -> Result<(), Impossible> {
        self.belief.settle(&self.pack, &self.piece)
    }

    /// The chance of a state if one answer had not been given.
    ///
    /// # Errors
    /// See [`NoChance`]: among others, if the remaining answers cannot all be true.
    pub fn chance_without(
        &mut self,
        given: Given,
        part: usize,
        state: u16,
    ) -> Result<Share, NoChance> {
        let changes = self.changes;
        let taken_back = self.answer(given.part, given.ask, Answer::NotLooked);
        let before = taken_back.map_err(|why| match why {
            NotNoted::NoSuchPart => NoChance::NoSuchPart,
            NotNoted::NoSuchAsk | NotNoted::WrongKind => NoChance::NoSuchAsk,
        })?;
        let chance = self.chance(part, state);
        self.give_again(given.part, given.ask, before);
        self.changes = changes;
        chance
    }

    /// Gives an answer that was there a moment ago, or takes one back that is there.
    fn give_again(&mut self, part: usize, ask: u16, answer: Answer) {
        // It was accepted before.
        let _ = self.answer(part, ask, answer);
    }

    /// The smallest group found of answers that cannot all be true: a minimal conflict
    /// set, of which none can be left out. Empty if the answers agree, or if more than
    /// [`MAX_CLASH`] answers are needed to show the clash.
    pub fn clash(&mut self) -> Vec<Given, MAX_CLASH> {
        if self.settle().is_ok() {
            return Vec::new();
        }
        let changes = self.changes;
        // Taking answers back one by one, first from one end and then from the
        // other, can end in different groups: the smaller is shown.
        let forwards = self.irreducible(false);
        let backwards = self.irreducible(true);
        self.changes = changes;
        match (forwards.is_empty(), backwards.is_empty()) {
            (false, false) if backwards.len() < forwards.len() => backwards,
            (true, _) => backwards,
            _ => forwards,
        }
    }

    /// Takes back each answer in turn, for good if the rest still clash.
    fn irreducible(&mut self, from_the_end: bool) -> Vec<Given, MAX_CLASH> {
        let mut muted: Vec<Given, { 16 * MAX_CLASH }> = Vec::new();
        let mut kept = Vec::new();
        for _ in 0..self.firm().count() {
            // What is kept or muted so far stands at one end of the list.
            let next = if from_the_end {
                let still = self.firm().count();
                still
                    .checked_sub(kept.len() + 1)
                    .and_then(|at| self.firm().nth(at))
            } else {
                self.firm().nth(kept.len())
            };
            let Some(given) = next else { break };
            self.give_again(given.part, given.ask, Answer::NotLooked);
            let still_clash = self.settle().is_err();
            let noted = if still_clash {
                muted.push(given).is_ok()
            } else {
                false
            };
            if !noted {
                self.give_again(given.part, given.ask, given.answer);
                if kept.push(given).is_err() {
                    kept.clear();
                    break;
                }
            }
        }
        for given in &muted {
            self.give_again(given.part, given.ask, given.answer);
        }
        kept
    }

    /// The answers that can rule something out for certain.
    fn firm(&self) -> impl Iterator<Item = Given> + '_ {
        self.piece
            .answered(&self.pack)
            .filter(|&(_, ask, answer)| self.is_firm(ask, answer))
            .map(|(part, ask, answer)| Given { part, ask, answer })
    }

    /// Jobs and cautions are judged, and checks weighed, with this.
    pub(crate) fn judge_parts(&mut self) -> (&Pack<'a>, &Piece<'m>, &mut Belief<'m, N>) {
        (&self.pack, &self.piece, &mut self.belief)
    }

    /// Notes how many parts of a kind a part has, and gives back the answer before.
    /// `None`, and nothing is noted, if that is not asked of this part.
    pub fn count(&mut self, part: usize, kind: u16, number: u8) -> Option<Answer> {
        let place = usize::from(self.piece.part(part)?.place);
        let ask = self
            .pack
            .asks_of(place)
            .find(|&a| self.pack.ask(usize::from(a)).form == Form::HowMany { part: kind })?;
        self.answer(part, ask, Answer::Reading(i32::from(number)))
            .ok()
    }

    /// Gives an owner another number of parts at a place of the pack's tree;
    /// everything answered about parts that are still there stays. `moved` is
    /// told where each part was and where it is now.
    ///
    /// # Errors
    /// See [`SetUpError`]; then nothing has changed.
    pub fn recount(
        &mut self,
        owner: usize,
        place: usize,
        number: u8,
        mut moved: impl FnMut(usize, Option<usize>),
    ) -> Result<(), SetUpError> {
        let before = self.piece.children_at(owner, place).len();
        self.piece
            .recount(&self.pack, owner, place, number, &mut moved)?;
        self.changes = self.changes.wrapping_add(1);
        self.work_out(owner);
        if self.belief.begin(&self.pack, &self.piece).is_ok() {
            return Ok(());
        }
        // Only more parts need more memory, and about those nothing is
        // answered yet.
        let before = u8::try_from(before).unwrap_or(u8::MAX);
        self.piece
            .recount(&self.pack, owner, place, before, moved)?;
        self.work_out(owner);
        let _ = self.belief.begin(&self.pack, &self.piece);
        Err(SetUpError::TooManyParts)
    }

    /// Whether an answer can rule a state in or out for certain.
    fn is_firm(&self, ask: u16, answer: Answer) -> bool {
        answer.is_firm(self.pack.ask(usize::from(ask)).slip)
    }
}
