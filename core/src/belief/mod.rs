//! Exact chances of everything that cannot be seen.
//!
//! Message passing on the tree of parts, which is a junction tree of the rules'
//! noisy-OR network. Each part sends its owner a table over the few states they share
//! (`up`); a second pass downwards gives the chance of every state (`down`). Each part's
//! tables come from an arithmetic circuit that was compiled with the rules (`circuit`),
//! run forwards for values and backwards for derivatives. An answer makes only the
//! parts on the way to the root work again, and the way down is walked only when
//! somebody looks. Nothing is sampled and nothing is approximated.

mod alike;
mod circuit;
mod down;
mod evidence;
mod gather;
pub mod gauge;
mod held;
mod likelihood;
mod memory;
mod need;
mod same;
mod stake;
mod up;

pub(crate) use alike::with_places_changed;
pub(crate) use held::Moved;
pub(crate) use likelihood::towards;
pub use need::Need;
pub(crate) use stake::Stake;

use core::fmt;

use crate::number::{Number, Share};
use crate::pack::{Fragment, NONE, Pack};
use crate::piece::Piece;
use evidence::answered;

/// What is kept about one part between passes.
#[derive(Clone, Copy, Debug, Default)]
pub struct Desk {
    /// First entry of its messages.
    message: u32,
    /// First of its pairs of chances.
    pairs: u32,
    /// Which of the states it reads are known for certain (a bit each).
    known: u16,
    /// Which of those are known to hold.
    holds: u16,
    /// Its message upwards must be worked out again.
    stale: bool,
    /// Its chances, and what it tells its parts, are up to date.
    settled: bool,
    /// It was reached on the way down, with a state held.
    reached: bool,
    /// It is the part whose state is held, or one that can change places with it.
    instead: bool,
    /// A number that all parts have in common that are alike, with all that is built
    /// into them: the same was answered, and the same parts are there.
    likeness: u16,
    /// The part whose chances it shares while a state is held; [`NONE`] if it is
    /// not asked.
    shares: u16,
}

/// The caller lent too little memory.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooSmall {
    /// Numbers needed.
    pub numbers: usize,
    /// Desks needed: one for each part.
    pub desks: usize,
}

/// The answers cannot all be true under the rules.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Impossible;

/// Why there is no chance to tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoChance {
    /// The piece has no such part.
    NoSuchPart,
    /// The part has no such state.
    NoSuchState,
    /// That is not asked of the part.
    NoSuchAsk,
    /// The answers cannot all be true under the rules.
    Impossible,
}

impl From<Impossible> for NoChance {
    fn from(_: Impossible) -> Self {
        Self::Impossible
    }
}

impl fmt::Display for Impossible {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the answers cannot all be true")
    }
}

impl fmt::Display for NoChance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSuchPart => f.write_str("the piece has no such part"),
            Self::NoSuchState => f.write_str("the part has no such state"),
            Self::NoSuchAsk => f.write_str("that is not asked of the part"),
            Self::Impossible => Impossible.fmt(f),
        }
    }
}

impl core::error::Error for Impossible {}

impl core::error::Error for NoChance {}

fn fragment(pack: &Pack<'_>, place: usize) -> Fragment {
    pack.fragment(usize::from(pack.place(place).fragment))
}

/// The chances of one piece.
#[derive(Debug)]
pub struct Belief<'m, N> {
    need: Need,
    numbers: &'m mut [N],
    desks: &'m mut [Desk],
    /// Some part's message upwards must be worked out again.
    stale: bool,
    /// The weights of every state, part by part, if they were worked out elsewhere.
    elsewhere: &'m [N],
}

impl<'m, N: Number> Belief<'m, N> {
    /// Chances for this piece, in memory that the caller lends.
    ///
    /// # Errors
    /// [`TooSmall`] says how much is needed.
    pub fn new(
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        numbers: &'m mut [N],
        desks: &'m mut [Desk],
    ) -> Result<Self, TooSmall> {
        let mut belief = Self {
            need: Need::default(),
            numbers,
            desks,
            stale: true,
            elsewhere: &[],
        };
        belief.begin(pack, piece)?;
        Ok(belief)
    }

    /// Begins again with this piece, in the same memory; nothing happens if
    /// there is too little.
    ///
    /// # Errors
    /// [`TooSmall`] says how much is needed.
    pub fn begin(&mut self, pack: &Pack<'_>, piece: &Piece<'_>) -> Result<(), TooSmall> {
        let need = Need::of(pack, piece);
        let too_small = TooSmall {
            numbers: need.numbers(),
            desks: piece.parts().len(),
        };
        if self.numbers.len() < too_small.numbers || self.desks.len() < too_small.desks {
            return Err(too_small);
        }
        let (mut message, mut pairs) = (0_u32, 0_u32);
        for (desk, part) in self.desks.iter_mut().zip(piece.parts()) {
            let fragment = fragment(pack, usize::from(part.place));
            *desk = Desk {
                message,
                pairs,
                known: 0,
                holds: 0,
                stale: true,
                settled: false,
                reached: false,
                instead: false,
                likeness: NONE,
                shares: NONE,
            };
            message += u32::try_from(fragment.entries()).unwrap_or(0);
            pairs += 2 * u32::from(fragment.states);
        }
        self.need = need;
        self.stale = true;
        Ok(())
    }

    /// Gives back the lent memory, all of it.
    #[must_use]
    pub fn into_memory(self) -> (&'m mut [N], &'m mut [Desk]) {
        (self.numbers, self.desks)
    }

    /// Goes by weights that were worked out elsewhere, two for each state of each part
    /// (no and yes), whatever is answered. Of none, by the answers again.
    pub fn go_by(&mut self, weights: &'m [N]) {
        self.elsewhere = weights;
    }

    /// An answer about this part has changed. `firmly` says that the answer
    /// before or after rules a state in or out for certain: then its parts
    /// work again too, since they skip what cannot be.
    pub fn changed(&mut self, piece: &Piece<'_>, part: usize, firmly: bool) {
        for desk in self.desks.iter_mut() {
            desk.settled = false;
        }
        self.mark(part);
        for owner in piece.owners(part) {
            self.mark(owner);
        }
        if firmly {
            for inner in part + 1..piece.parts().len() {
                if piece.owners(inner).any(|owner| owner == part) {
                    self.mark(inner);
                }
            }
        }
    }

    fn mark(&mut self, part: usize) {
        self.stale = true;
        if let Some(desk) = self.desks.get_mut(part) {
            desk.stale = true;
        }
    }

    /// The weights of a state of a part, for no and for yes; their proportion
    /// is its chance. The state is given by its number among the states of the
    /// part's place.
    ///
    /// # Errors
    /// See [`NoChance`].
    pub fn weights(
        &mut self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        part: usize,
        slot: usize,
    ) -> Result<(N, N), NoChance> {
        if part >= piece.parts().len() {
            return Err(NoChance::NoSuchPart);
        }
        let own = self.pairs_of(piece, part);
        let pairs = if self.elsewhere.is_empty() {
            self.settle(pack, piece)?;
            self.look(pack, piece, part);
            self.areas().pairs
        } else {
            self.elsewhere
        };
        let pairs = pairs.get(own).unwrap_or(&[]);
        match pairs.chunks_exact(2).nth(slot) {
            Some(&[no, yes]) => Ok((no, yes)),
            _ => Err(NoChance::NoSuchState),
        }
    }

    /// How likely what was answered is if a state of a part does not hold, and if
    /// it does; the state is given by its number among those of the part's place.
    /// `None` if there is no such part, or it has no such state.
    #[must_use]
    pub fn likelihoods(
        &self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        part: usize,
        slot: usize,
    ) -> Option<(N, N)> {
        let layout = pack.layout(usize::from(piece.part(part)?.place));
        let answers = piece.answers_of(part);
        let state = pack.state(usize::from(layout.states().nth(slot)?));
        let likelihoods = likelihood::of(pack, &layout, &state, &|ask| {
            answered(&layout, answers, ask)
        });
        Some(likelihoods)
    }

    /// The chance of a state of a part.
    ///
    /// # Errors
    /// See [`NoChance`].
    pub fn chance(
        &mut self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        part: usize,
        state: u16,
    ) -> Result<Share, NoChance> {
        let place = usize::from(piece.part(part).ok_or(NoChance::NoSuchPart)?.place);
        let slot = pack.state_slot(place, state).ok_or(NoChance::NoSuchState)?;
        let (no, yes) = self.weights(pack, piece, part, slot)?;
        Ok(N::share(yes, no))
    }
}
