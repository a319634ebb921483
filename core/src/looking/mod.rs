//! What is worth looking at next.
//!
//! A fault that may be there costs something either way: left out of the plan
//! it costs what its `Missed:` line says, planned for nothing it costs the hours
//! of its job. The better of the two is taken, and what that is expected to cost
//! is the fault's loss. A check is worth what its answer is expected to take off
//! all losses together, for each minute it takes: its value of information, one check
//! ahead, exact over every answer it can have and every fault on the piece. (A measure is taken to come out clear
//! of every mark; close to one, its answer is worth less.)
//!
//! One pass for each fault, with that fault held true, gives its joint chance
//! with every answer to every check at once (A. Darwiche, "A differential
//! approach to inference in Bayesian networks", J. ACM 50, 2003). An answer is
//! worth something for a fault only if it turns the better choice round, so a
//! pass goes only where some answer can (see `belief/held.rs`). What a check saves
//! on one fault is left out if it is less than a thousandth of a minute.
//!
//! [`Looking`] does this a step at a time, between other work: it leaves the
//! inspection as it found it after every step, and notices when an answer has
//! come in since.

mod costs;
mod moves;
mod order;
mod outcomes;
mod weigh;

pub use costs::{Minutes, costs};
pub use moves::Move;

use crate::belief;
use crate::inspection::Inspection;
use crate::logic::can_be;
use crate::number::Number;
use crate::pack::{Ask, Pack, Touch, Way};
use crate::piece::{Answer, Piece};
use weigh::{Fault, weigh};

/// What a check changes about one fault.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Change {
    /// The part that may have the fault.
    pub part: u16,
    /// The fault, by its number in the pack.
    pub state: u16,
    /// What the check is expected to take off the fault's loss.
    pub saves: Minutes,
    /// Its chance now, in 2⁻¹⁶.
    pub now: u16,
    /// The lowest chance that an answer leads to, in 2⁻¹⁶.
    pub lowest: u16,
    /// The highest.
    pub highest: u16,
}

/// A check that has not been made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Candidate {
    /// The part.
    pub part: u16,
    /// What is asked about it.
    pub ask: u16,
    /// Minutes it takes.
    pub minutes: u16,
    /// How far it interferes.
    pub touch: Touch,
    /// The first of the states that it decides, among those of the part.
    slot: u16,
    /// What it is expected to take off all losses together.
    pub saves: Minutes,
    /// What it changes most.
    pub most: Change,
}

impl Candidate {
    /// None yet: memory to lend.
    pub const NONE: Self = Self {
        part: 0,
        ask: 0,
        minutes: 0,
        touch: Touch::Nothing,
        slot: 0,
        saves: Minutes::NOTHING,
        most: Change {
            part: 0,
            state: 0,
            saves: Minutes::NOTHING,
            now: 0,
            lowest: 0,
            highest: 0,
        },
    };
}

/// The memory that a [`Looking`] takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Need {
    /// Candidates.
    pub candidates: usize,
    /// Numbers.
    pub numbers: usize,
}

impl Need {
    /// What this piece needs, whatever is answered.
    #[must_use]
    pub fn of(pack: &Pack<'_>, piece: &Piece<'_>) -> Self {
        let asks = |place: u16| pack.asks_of(usize::from(place));
        let checks = |place: u16| asks(place).filter(|&ask| is_check(pack, ask)).count();
        Self {
            candidates: piece.parts().iter().map(|part| checks(part.place)).sum(),
            numbers: belief::Need::of(pack, piece).to_hold(),
        }
    }
}

/// Whether what is asked can be looked at: it need not be opened up, nor worked out.
#[must_use]
pub fn is_check(pack: &Pack<'_>, ask: u16) -> bool {
    !matches!(pack.ask(usize::from(ask)).way, Way::Open | Way::WorkOut)
}

/// Why nothing can be weighed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotStarted {
    /// The caller lent too little memory.
    TooSmall(Need),
    /// The answers cannot all be true.
    Clash,
}

/// How far it has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Progress {
    /// There is more to do.
    More,
    /// All is weighed.
    Done,
    /// Something was answered since it started, or it has not started: start
    /// again.
    Outdated,
}

/// What it took.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Effort {
    /// Faults held true.
    pub faults: usize,
    /// Parts whose chances were worked out with a fault held true.
    pub parts: usize,
}

/// The worth of every check that has not been made, in memory that its caller
/// lends.
#[derive(Debug)]
pub struct Looking<'m, N> {
    candidates: &'m mut [Candidate],
    used: usize,
    numbers: &'m mut [N],
    /// The inspection's revision counter when this started.
    started: Option<u32>,
    /// The part and state, among those of the part, that come next.
    next: (usize, usize),
    is_done: bool,
    effort: Effort,
}

impl<'m, N: Number> Looking<'m, N> {
    /// Has not started.
    pub fn new(candidates: &'m mut [Candidate], numbers: &'m mut [N]) -> Self {
        Self {
            candidates,
            used: 0,
            numbers,
            started: None,
            next: (0, 0),
            is_done: false,
            effort: Effort::default(),
        }
    }

    /// Starts, or starts again, with the piece as it is.
    ///
    /// # Errors
    /// See [`NotStarted`].
    pub fn start(&mut self, inspection: &mut Inspection<'_, '_, N>) -> Result<(), NotStarted> {
        self.started = None;
        self.is_done = false;
        self.used = 0;
        self.next = (0, 0);
        self.effort = Effort::default();
        let need = Need::of(inspection.pack(), inspection.piece());
        if self.candidates.len() < need.candidates || self.numbers.len() < need.numbers {
            return Err(NotStarted::TooSmall(need));
        }
        inspection.settle().map_err(|_| NotStarted::Clash)?;
        let (pack, piece, belief) = inspection.judge_parts();
        belief.find_likenesses(piece);
        for part in 0..piece.parts().len() {
            self.add_checks(pack, piece, part);
        }
        self.started = Some(inspection.changes());
        Ok(())
    }

    fn add_checks(&mut self, pack: &Pack<'_>, piece: &Piece<'_>, part: usize) {
        let record = piece.record(part);
        if record.out_of_sight {
            return;
        }
        let layout = pack.layout(usize::from(record.place));
        for ask in layout.asks() {
            let decides = |state: u16| pack.state(usize::from(state)).ask == ask;
            let is_open = piece.answer(pack, part, ask) == Some(Answer::NotLooked);
            let slot = layout.states().position(decides);
            let is_check = is_open && is_check(pack, ask);
            let (true, Some(slot)) = (is_check && can_be(pack, piece, part, ask), slot) else {
                continue;
            };
            let Ask { minutes, touch, .. } = pack.ask(usize::from(ask));
            if let Some(free) = self.candidates.get_mut(self.used) {
                let number = |n: usize| u16::try_from(n).unwrap_or(u16::MAX);
                *free = Candidate {
                    part: number(part),
                    ask,
                    // What a check is reckoned to take when the house does not say.
                    minutes: minutes.max(1),
                    touch,
                    slot: number(slot),
                    ..Candidate::default()
                };
                self.used += 1;
            }
        }
    }

    /// Takes one step: brings the chances of a part up to date, or weighs every
    /// check for one fault, and for the same fault of the parts that can change
    /// places with the one that has it. `seen` is told of everything that a check changes.
    pub fn step(
        &mut self,
        inspection: &mut Inspection<'_, '_, N>,
        mut seen: impl FnMut(&Candidate, Change),
    ) -> Progress {
        if self.started != Some(inspection.changes()) || inspection.settle().is_err() {
            return Progress::Outdated;
        }
        if self.is_done {
            return Progress::Done;
        }
        let (pack, piece, belief) = inspection.judge_parts();
        if belief.look_at_one(pack, piece) {
            return Progress::More;
        }
        let Some(fault) = self.next_fault(inspection) else {
            let found = self.candidates.get_mut(..self.used).unwrap_or(&mut []);
            self.used = order::best_first(found);
            self.is_done = true;
            return Progress::Done;
        };
        let candidates = self.candidates.get_mut(..self.used).unwrap_or(&mut []);
        let (pack, piece, belief) = inspection.judge_parts();
        let at = (fault.part, fault.slot);
        let parts = belief.hold((pack, piece), at, &fault.stake, self.numbers, |moved| {
            weigh(pack, piece, &fault, &moved, candidates, &mut seen);
        });
        self.effort.faults += 1;
        self.effort.parts += parts;
        Progress::More
    }

    /// The checks that are worth something, most worth making first; none until
    /// all are weighed.
    ///
    /// A check that interferes with the piece stands behind every gentler one
    /// that changes the same fault most.
    #[must_use]
    pub fn best(&self) -> &[Candidate] {
        if self.is_done {
            self.candidates.get(..self.used).unwrap_or(&[])
        } else {
            &[]
        }
    }

    /// What it has taken so far.
    #[must_use]
    pub fn effort(&self) -> Effort {
        self.effort
    }

    /// The next fault whose loss an answer could lessen.
    fn next_fault(&mut self, inspection: &mut Inspection<'_, '_, N>) -> Option<Fault<N>> {
        let pack = *inspection.pack();
        let parts = inspection.piece().parts().len();
        while self.next.0 < parts {
            let (part, slot) = self.next;
            let place = usize::from(inspection.piece().record(part).place);
            let Some(state) = pack.states_of(place).nth(slot) else {
                self.next = (part + 1, 0);
                continue;
            };
            self.next.1 += 1;
            let (_, piece, belief) = inspection.judge_parts();
            if !belief.comes_first(piece, part) {
                // What is weighed for another part is weighed for this one too.
                self.next = (part + 1, 0);
            } else if let Some(fault) = Fault::that_may_be(inspection, part, slot, state) {
                return Some(fault);
            }
        }
        None
    }
}
