//! The walk around a piece.
//!
//! The steps and their order come from the pack. Steps that follow each other
//! and are about the same part of the piece, or about what is built into it,
//! are made together: everything about drawer 1, then everything about drawer
//! 2. Steps about a kind that stands in several places (any surface) are made
//! one part after the other.

use core::ops::Range;

use heapless::Vec;

use crate::inspection::Inspection;
use crate::limits::{MAX_DEPTH, MAX_STEPS};
use crate::number::Number;
use crate::pack::{NONE, Pack};
use crate::piece::{Answer, Piece};
use crate::truth::Truth;

/// The steps of one kind of piece.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Round {
    first: usize,
    steps: usize,
}

/// One thing to ask of one part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Visit {
    /// Index of the part.
    pub part: usize,
    /// Number of the ask in the pack.
    pub ask: u16,
}

/// Which steps are asked for as things are, a bit each.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Wanted(Vec<u32, { MAX_STEPS / 32 }>);

impl Wanted {
    fn holds(&self, step: usize) -> bool {
        let word = self.0.get(step / 32).copied().unwrap_or(0);
        word >> (step % 32) & 1 == 1
    }
}

/// How far the round has come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// Answered, or looked for and not to be seen.
    pub done: u16,
    /// All there is to ask, as things are.
    pub all: u16,
}

/// Which steps are made together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Section {
    /// About the piece as a whole.
    Whole,
    /// About parts at one place right below the piece, or in them.
    Under(usize),
    /// About every part of a kind, wherever it is.
    Each(u16),
}

impl Round {
    /// The round of this piece; empty if the house has none.
    #[must_use]
    pub fn of(pack: &Pack<'_>, piece: &Piece<'_>) -> Self {
        let kind = pack.place(usize::from(piece.part(0).place)).kind;
        (0..pack.rounds())
            .map(|row| pack.round(row))
            .find(|round| round.piece == kind)
            .map_or(Self::default(), |round| Self {
                first: usize::from(round.first),
                steps: usize::from(round.steps).min(MAX_STEPS),
            })
    }

    /// Whether any step asks this.
    #[must_use]
    pub fn asks(&self, pack: &Pack<'_>, ask: u16) -> bool {
        (0..self.steps).any(|step| self.ask(pack, step) == ask)
    }

    fn ask(&self, pack: &Pack<'_>, step: usize) -> u16 {
        pack.step(self.first + step).ask
    }

    /// Which steps are asked for as things are: those whose condition is known
    /// to hold.
    pub fn wanted<N: Number>(&self, inspection: &mut Inspection<'_, '_, N>) -> Wanted {
        let mut wanted = Wanted::default();
        let _ = wanted.0.resize(self.steps.div_ceil(32), 0);
        for step in 0..self.steps {
            let condition = inspection.pack().step(self.first + step).condition;
            if inspection.holds(condition, 0) == Truth::True
                && let Some(word) = wanted.0.get_mut(step / 32)
            {
                *word |= 1 << (step % 32);
            }
        }
        wanted
    }

    /// Walks around the piece, as long as `visit` says to go on.
    pub fn walk(
        &self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        wanted: &Wanted,
        mut visit: impl FnMut(Visit) -> bool,
    ) {
        let root = usize::from(piece.part(0).place);
        let mut from = 0;
        while from < self.steps {
            let section = self.section(pack, root, from);
            let mut to = from + 1;
            while to < self.steps && self.section(pack, root, to) == section {
                to += 1;
            }
            let all = match section {
                Section::Whole => 0..1,
                Section::Under(place) => piece.children_at(0, place),
                Section::Each(_) => 0..piece.parts().len(),
            };
            for start in all {
                if let Section::Each(kind) = section
                    && pack.place(usize::from(piece.part(start).place)).kind != kind
                {
                    continue;
                }
                for step in (from..to).filter(|&step| wanted.holds(step)) {
                    let ask = self.ask(pack, step);
                    let kind = pack.ask(usize::from(ask)).kind;
                    let on = match section {
                        Section::Under(place) => {
                            walk_down(pack, piece, (start, place), kind, &mut |part| {
                                visit(Visit { part, ask })
                            })
                        }
                        _ => visit(Visit { part: start, ask }),
                    };
                    if !on {
                        return;
                    }
                }
            }
            from = to;
        }
    }

    fn section(&self, pack: &Pack<'_>, root: usize, step: usize) -> Section {
        let kind = pack.ask(usize::from(self.ask(pack, step))).kind;
        let piece = pack.place(root);
        if kind == 0 || kind == piece.kind {
            return Section::Whole;
        }
        let mut under = None;
        for place in (root + 1..usize::from(piece.end)).filter(|&p| pack.place(p).kind == kind) {
            let below = top(pack, root, place);
            if under.is_some_and(|under| under != below) {
                return Section::Each(kind);
            }
            under = Some(below);
        }
        // A kind that this piece has none of is asked of no part.
        under.map_or(Section::Each(kind), Section::Under)
    }

    /// How far it has come.
    #[must_use]
    pub fn progress(&self, pack: &Pack<'_>, piece: &Piece<'_>, wanted: &Wanted) -> Progress {
        let mut progress = Progress::default();
        self.walk(pack, piece, wanted, |visit| {
            progress.all = progress.all.saturating_add(1);
            if !is_open(pack, piece, visit) {
                progress.done = progress.done.saturating_add(1);
            }
            true
        });
        progress
    }

    /// The first thing not yet looked at after this one, going on from the
    /// beginning when the end is reached; this one itself comes last.
    #[must_use]
    pub fn open_after(
        &self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        wanted: &Wanted,
        after: Option<Visit>,
    ) -> Option<Visit> {
        let mut passed = after.is_none();
        let (mut first, mut next) = (None, None);
        self.walk(pack, piece, wanted, |visit| {
            if is_open(pack, piece, visit) {
                if first.is_none() {
                    first = Some(visit);
                }
                if passed {
                    next = Some(visit);
                    return false;
                }
            }
            passed |= after == Some(visit);
            true
        });
        next.or(first)
    }

    /// The thing before this one, whether it was looked at or not; the last
    /// one of all before the first.
    #[must_use]
    pub fn before(
        &self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        wanted: &Wanted,
        before: Visit,
    ) -> Option<Visit> {
        let mut last = None;
        self.walk(pack, piece, wanted, |visit| {
            if visit == before && last.is_some() {
                return false;
            }
            last = Some(visit);
            true
        });
        last
    }
}

/// Nobody has looked, and it is not known to be out of sight.
fn is_open(pack: &Pack<'_>, piece: &Piece<'_>, visit: Visit) -> bool {
    piece.answer(pack, visit.part, visit.ask) == Answer::NotLooked
        && !piece.part(visit.part).out_of_sight
        && !piece
            .owners(visit.part)
            .any(|owner| owner != 0 && piece.part(owner).out_of_sight)
}

/// The place right below the piece that this one is in.
fn top(pack: &Pack<'_>, root: usize, place: usize) -> usize {
    let mut at = place;
    for _ in 0..MAX_DEPTH {
        let owner = pack.place(at).owner;
        if owner == NONE || usize::from(owner) == root {
            break;
        }
        at = usize::from(owner);
    }
    at
}

/// Every part of a kind in one part (or that part itself).
fn walk_down(
    pack: &Pack<'_>,
    piece: &Piece<'_>,
    (start, place): (usize, usize),
    kind: u16,
    visit: &mut dyn FnMut(usize) -> bool,
) -> bool {
    let end = usize::from(pack.place(place).end);
    for wanted in (place..end).filter(|&p| pack.place(p).kind == kind) {
        if wanted == place {
            if !visit(start) {
                return false;
            }
            continue;
        }
        // The places on the way down, the deepest first.
        let mut way: Vec<usize, MAX_DEPTH> = Vec::new();
        let mut at = wanted;
        while at != place && way.push(at).is_ok() {
            at = usize::from(pack.place(at).owner);
        }
        let mut open: Vec<Range<usize>, MAX_DEPTH> = Vec::new();
        let step = |part: usize, depth: usize| {
            let next = way.len().checked_sub(depth + 1);
            next.and_then(|at| way.get(at))
                .map(|&next| piece.children_at(part, next))
        };
        if let Some(range) = step(start, 0) {
            let _ = open.push(range);
        }
        while let Some(range) = open.last_mut() {
            let Some(part) = range.next() else {
                open.pop();
                continue;
            };
            match step(part, open.len()) {
                Some(inner) => {
                    let _ = open.push(inner);
                }
                None => {
                    if !visit(part) {
                        return false;
                    }
                }
            }
        }
    }
    true
}
