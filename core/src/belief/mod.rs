//! Exact chances of everything that cannot be seen.
//!
//! Each part sends its owner a table over the few states they share; a second
//! pass downwards gives the chance of every state. An answer makes only the
//! parts on the way to the root work again, and the way down is walked only
//! when somebody looks. Nothing is sampled and nothing is approximated.

mod alike;
mod circuit;
mod gather;
mod held;
mod likelihood;
mod need;
mod same;
mod stake;

pub(crate) use alike::with_places_changed;
pub(crate) use held::Moved;
pub use need::Need;
pub(crate) use stake::Stake;

use core::cell::Cell;
use core::ops::Range;

use crate::number::{Number, Share};
use crate::pack::{Fragment, Group, Layout, NONE, Pack};
use crate::piece::{Answer, Piece};

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
    /// It may have the held state in the stead of the part that has it.
    instead: bool,
    /// A number that it shares with every part that is like it, with all that is
    /// built into both: the same was answered, and the same parts are there.
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

/// The first numbers, and the rest; as many as there are, if too few.
fn cut<N>(numbers: &mut [N], at: usize) -> (&mut [N], &mut [N]) {
    let at = at.min(numbers.len());
    numbers.split_at_mut(at)
}

fn copy<N: Copy>(to: &mut [N], from: &[N]) {
    for (to, from) in to.iter_mut().zip(from) {
        *to = *from;
    }
}

/// Copies numbers to another place of the same area.
fn copy_within<N: Copy>(area: &mut [N], from: Range<usize>, to: Range<usize>) {
    let area = Cell::from_mut(area).as_slice_of_cells();
    let [from, to] = [from, to].map(|range| area.get(range).unwrap_or(&[]));
    for (to, from) in to.iter().zip(from) {
        to.set(from.get());
    }
}

fn answered(layout: &Layout, answers: &[Answer], ask: u16) -> Answer {
    layout
        .ask_slot(ask)
        .and_then(|slot| answers.get(slot))
        .copied()
        .unwrap_or_default()
}

/// Whether anything was answered about a part.
fn says_something(piece: &Piece<'_>, part: usize) -> bool {
    let mut answers = piece.answers_of(part).iter();
    answers.any(|answer| answer.says_something())
}

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
}

/// The lent memory, area by area.
struct Areas<'s, N> {
    up: &'s mut [N],
    down: &'s mut [N],
    pairs: &'s mut [N],
    values: &'s mut [N],
    slopes: &'s mut [N],
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

    /// Works out every message upwards that is out of date.
    ///
    /// # Errors
    /// [`Impossible`] if the answers cannot all be true.
    pub fn settle(&mut self, pack: &Pack<'_>, piece: &Piece<'_>) -> Result<(), Impossible> {
        if self.stale {
            for part in (0..piece.parts().len()).rev() {
                if self.desks.get(part).is_some_and(|desk| desk.stale) {
                    self.pass_up(pack, piece, part);
                    if let Some(desk) = self.desks.get_mut(part) {
                        desk.stale = false;
                    }
                }
            }
            self.stale = false;
        }
        match self.numbers.first() {
            Some(total) if !total.is_zero() => Ok(()),
            _ => Err(Impossible),
        }
    }

    /// The weights of a state of a part, for no and for yes; their proportion
    /// is its chance. The state is given by its number among the states of the
    /// part's place.
    ///
    /// # Errors
    /// [`Impossible`] if the answers cannot all be true.
    pub fn weights(
        &mut self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        part: usize,
        slot: usize,
    ) -> Result<(N, N), Impossible> {
        self.settle(pack, piece)?;
        self.look(pack, piece, part);
        let at = self.desks.get(part).map_or(0, |desk| desk.pairs as usize) + 2 * slot;
        let pairs = self.areas().pairs;
        let pair = |i: usize| pairs.get(i).copied().unwrap_or(N::ZERO);
        Ok((pair(at), pair(at + 1)))
    }

    /// How likely what was answered is if a state of a part does not hold, and if
    /// it does; the state is given by its number among those of the part's place.
    #[must_use]
    pub fn likelihoods(
        &self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        part: usize,
        slot: usize,
    ) -> (N, N) {
        let layout = pack.layout(usize::from(piece.part(part).place));
        let answers = piece.answers_of(part);
        match layout.states().nth(slot) {
            Some(state) => {
                let state = pack.state(usize::from(state));
                likelihood::of(pack, &state, |ask| answered(&layout, answers, ask))
            }
            None => (N::ONE, N::ONE),
        }
    }

    /// The chance of a state of a part; nothing for a state it does not have.
    ///
    /// # Errors
    /// [`Impossible`] if the answers cannot all be true.
    pub fn chance(
        &mut self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        part: usize,
        state: u16,
    ) -> Result<Share, Impossible> {
        let place = usize::from(piece.part(part).place);
        let Some(slot) = pack.state_slot(place, state) else {
            return Ok(Share::default());
        };
        let (no, yes) = self.weights(pack, piece, part, slot)?;
        Ok(N::share(yes, no))
    }

    /// Brings the chances of a part up to date, and those of its owners.
    fn look(&mut self, pack: &Pack<'_>, piece: &Piece<'_>, part: usize) {
        if self.desks.get(part).is_some_and(|desk| desk.settled) {
            return;
        }
        let depth = piece.owners(part).count();
        for level in (0..=depth).rev() {
            let at = if level == 0 {
                part
            } else {
                piece.owners(part).nth(level - 1).unwrap_or(0)
            };
            if self.desks.get(at).is_some_and(|desk| !desk.settled) {
                self.pass_down(pack, piece, at);
                if let Some(desk) = self.desks.get_mut(at) {
                    desk.settled = true;
                }
            }
        }
    }

    fn areas(&mut self) -> Areas<'_, N> {
        let need = self.need;
        let (up, rest) = cut(self.numbers, need.messages);
        let (down, rest) = cut(rest, need.messages);
        let (pairs, rest) = cut(rest, 2 * need.states);
        let (values, slopes) = cut(rest, need.values);
        Areas {
            up,
            down,
            pairs,
            values,
            slopes,
        }
    }

    /// Which value each state that the part reads is known to have, as two
    /// sets of bits: known, and known to hold.
    fn clamped(pack: &Pack<'_>, piece: &Piece<'_>, part: usize, reads: u8) -> (u16, u16) {
        let (mut known, mut holds) = (0, 0);
        for read in 0..usize::from(reads) {
            if let Some(yes) = Self::clamp(pack, piece, part, read) {
                known |= 1 << read;
                holds |= u16::from(yes) << read;
            }
        }
        (known, holds)
    }

    fn clamp(pack: &Pack<'_>, piece: &Piece<'_>, part: usize, read: usize) -> Option<bool> {
        let (mut part, mut read) = (part, read);
        loop {
            let record = piece.part(part);
            if record.owner == NONE {
                return None;
            }
            let owner = usize::from(record.owner);
            let place = usize::from(piece.part(owner).place);
            let fragment = fragment(pack, place);
            let g = pack
                .children(place)
                .position(|c| c == usize::from(record.place))?;
            let source = *pack.program(&fragment).group(g).sources.get(read)?;
            if source == NONE {
                return None;
            }
            if source & Group::READ == 0 {
                if !says_something(piece, owner) {
                    return None;
                }
                let state = pack.states_of(place).nth(usize::from(source))?;
                let state = pack.state(usize::from(state));
                let layout = pack.layout(place);
                let answers = piece.answers_of(owner);
                let (no, yes) =
                    likelihood::of::<N>(pack, &state, |ask| answered(&layout, answers, ask));
                return match (no.is_zero(), yes.is_zero()) {
                    (true, false) => Some(true),
                    (false, true) => Some(false),
                    _ => None,
                };
            }
            read = usize::from(source & !Group::READ);
            part = owner;
        }
    }

    /// Fills in what a part's program needs and runs it; with one of its states
    /// held true, if that is wanted.
    fn run(
        &mut self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        part: usize,
        held: Option<usize>,
    ) -> Fragment {
        let place = usize::from(piece.part(part).place);
        let fragment = fragment(pack, place);
        let program = pack.program(&fragment);
        let (known, holds) = self.known_reads(part);

        for (g, child) in pack.children(place).enumerate() {
            let group = program.group(g);
            let first = program.first_table() + usize::from(group.table);
            let children = piece.children_at(part, child);
            self.gather(&group, children, first);
        }
        let areas = self.areas();
        let values = areas.values;
        for (value, bits) in values.iter_mut().zip(program.constants()) {
            *value = N::from_f64_bits(bits);
        }
        let likelihoods = program.first_likelihood()..program.first_table();
        let likelihoods = values.get_mut(likelihoods).unwrap_or(&mut []);
        if says_something(piece, part) {
            let layout = pack.layout(place);
            let answers = piece.answers_of(part);
            for (pair, state) in likelihoods.chunks_exact_mut(2).zip(layout.states()) {
                let state = pack.state(usize::from(state));
                let (no, yes) = likelihood::of(pack, &state, |ask| answered(&layout, answers, ask));
                copy(pair, &[no, yes]);
            }
        } else {
            likelihoods.fill(N::ONE);
        }
        if let Some(no) = held.and_then(|slot| likelihoods.get_mut(2 * slot)) {
            *no = N::ZERO;
        }
        if known == 0 {
            circuit::forwards(&program, values);
        } else {
            let wanted = (0..fragment.entries()).filter(|entry| entry & known == holds);
            circuit::forwards_for(&program, wanted, values, areas.slopes);
        }
        fragment
    }

    /// Which of the states that the part reads are known, and which of those
    /// hold, as bits of an entry of its message.
    fn known_reads(&self, part: usize) -> (usize, usize) {
        self.desks.get(part).map_or((0, 0), |desk| {
            (usize::from(desk.known), usize::from(desk.holds))
        })
    }

    /// Takes in the messages of the parts of one group; the table goes to the
    /// values from `first` on.
    fn gather(&mut self, group: &Group, children: Range<usize>, first: usize) {
        let size = group.entries();
        let message = 1_usize << (group.reads + group.feeds);
        let starts = self
            .desks
            .get(children.clone())
            .and_then(<[Desk]>::first)
            .map_or(0, |desk| desk.message as usize);
        let areas = self.areas();
        let (mut table, rest) = cut(areas.slopes, size);
        let (mut next, spare) = cut(rest, size);
        gather::none(group, table);
        for (i, _) in children.enumerate() {
            // Parts of one kind stand together, and so do their messages.
            let start = starts + i * message;
            let report = areas.up.get(start..start + message).unwrap_or(&[]);
            if i == 0 {
                gather::first_part(group, report, next);
            } else {
                gather::with_part(group, table, report, next, spare);
            }
            core::mem::swap(&mut table, &mut next);
        }
        if let Some(slot) = areas.values.get_mut(first..first + size) {
            copy(slot, table);
        }
    }

    fn pass_up(&mut self, pack: &Pack<'_>, piece: &Piece<'_>, part: usize) {
        let place = usize::from(piece.part(part).place);
        let reads = fragment(pack, place).reads;
        let (known, holds) = Self::clamped(pack, piece, part, reads);
        if let Some(desk) = self.desks.get_mut(part) {
            desk.known = known;
            desk.holds = holds;
        }
        let mut later = part + 1..piece.parts().len();
        if let Some(other) = later.find(|&other| self.is_given_the_same(piece, part, other)) {
            let (from, to) = (self.message_of(piece, other), self.message_of(piece, part));
            copy_within(self.areas().up, from, to);
            return;
        }
        let known = self.known_reads(part);
        let fragment = self.run(pack, piece, part, None);
        let program = pack.program(&fragment);
        let message = self.message_of(piece, part);
        let areas = self.areas();
        let message = areas.up.get_mut(message).unwrap_or(&mut []);
        circuit::report(&program, known, areas.values, message);
    }

    fn pass_down(&mut self, pack: &Pack<'_>, piece: &Piece<'_>, part: usize) {
        let mut before = 0..part;
        if let Some(other) = before.find(|&other| self.is_told_the_same(piece, part, other)) {
            self.copy_chances(piece, other, part);
            return;
        }
        let fragment = self.run(pack, piece, part, None);
        let program = pack.program(&fragment);
        let desk = self.desks.get(part).copied().unwrap_or_default();
        let record = piece.part(part);
        let areas = self.areas();
        let start = desk.message as usize;
        let message = areas
            .down
            .get_mut(start..start + fragment.entries())
            .unwrap_or(&mut []);
        if record.owner == NONE {
            message.fill(N::ONE);
        }
        let pairs = areas
            .pairs
            .get_mut(desk.pairs as usize..)
            .unwrap_or(&mut []);
        circuit::derive(&program, message, areas.values, areas.slopes, pairs);
        self.tell_parts(pack, piece, part, None);
    }

    /// Tells a part's own parts what the rest of the piece says, in the lent
    /// memory or in memory beside it.
    fn tell_parts(
        &mut self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        part: usize,
        mut beside: Option<&mut [N]>,
    ) {
        let place = usize::from(piece.part(part).place);
        let program = pack.program(&fragment(pack, place));
        for (g, child) in pack.children(place).enumerate() {
            let group = program.group(g);
            let first = program.first_table() + usize::from(group.table);
            let children = piece.children_at(part, child);
            self.tell(&group, children, first, beside.as_deref_mut());
        }
    }

    /// Tells the parts of one group what the rest of the piece says of the
    /// states they share with it. The values are written over.
    fn tell(
        &mut self,
        group: &Group,
        children: Range<usize>,
        first: usize,
        beside: Option<&mut [N]>,
    ) {
        let size = group.entries();
        let width = 1_usize << (group.reads + group.feeds);
        let parts = children.len();
        let start = self
            .desks
            .get(children)
            .and_then(<[Desk]>::first)
            .map_or(0, |desk| desk.message as usize);
        let areas = self.areas();
        let messages = start..start + width * parts;
        let (Some(up), Some(down), Some(slopes)) = (
            areas.up.get(messages.clone()),
            beside.unwrap_or(areas.down).get_mut(messages),
            areas.slopes.get(first..first + size),
        ) else {
            return;
        };
        // Two for the derivatives on the way back, one to spare, then the tables
        // before the first part, before the second …
        let (mut after, rest) = cut(areas.values, size);
        let (mut earlier, rest) = cut(rest, size);
        let (spare, before) = cut(rest, size);
        gather::none(group, before.get_mut(..size).unwrap_or(&mut []));
        for (i, report) in up.chunks_exact(width).enumerate() {
            let (known, next) = cut(before, size * (i + 1));
            let known = known.get(size * i..).unwrap_or(&[]);
            let next = next.get_mut(..size).unwrap_or(&mut []);
            if i + 1 == parts {
                break;
            }
            if i == 0 {
                gather::first_part(group, report, next);
            } else {
                gather::with_part(group, known, report, next, spare);
            }
        }
        copy(after, slopes);
        circuit::level(after);
        let report = |part: usize| up.get(width * part..width * (part + 1)).unwrap_or(&[]);
        // With which parts `after` is taken in.
        let mut with = parts;
        for part in (0..parts).rev() {
            let (messages, told) = down
                .split_at_mut_checked(width * (part + 1))
                .unwrap_or_default();
            let message = messages.get_mut(width * part..).unwrap_or(&mut []);
            // Parts that say the same are told the same.
            if let Some(like) = (part + 1..parts).find(|&other| report(other) == report(part)) {
                let like = width * (like - part - 1);
                copy(message, told.get(like..).unwrap_or(&[]));
                continue;
            }
            while with > part + 1 {
                with -= 1;
                gather::slopes_before(group, after, report(with), earlier, spare);
                core::mem::swap(&mut after, &mut earlier);
            }
            if part == 0 {
                gather::slopes_of_first(group, after, message);
            } else {
                let known = before.get(size * part..size * (part + 1)).unwrap_or(&[]);
                gather::slopes_of_part(group, known, after, message, spare);
            }
        }
    }
}
