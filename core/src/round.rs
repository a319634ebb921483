//! The walk around a piece.
//!
//! The steps and their order come from the pack. Consecutive steps about the
//! same part, or about parts built into it, form a section, which is walked part
//! by part: everything about drawer 1, then everything about drawer 2. Steps
//! about a kind that stands in several places (any surface) are walked for all
//! parts of that kind, one part after the other.

use core::ops::Range;

use heapless::Vec;

use crate::inspection::Inspection;
use crate::limits::{MAX_DEPTH, MAX_STEPS};
use crate::logic::can_be;
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

/// Which steps are asked for, given the answers so far; one bit each.
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
    /// Questions answered, or found to be out of sight.
    pub done: u16,
    /// All questions, given the answers so far.
    pub all: u16,
}

/// What the steps of one section are about.
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
        let kind = pack.place(piece.root()).kind;
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

    /// Which steps are asked for, given the answers so far: those whose condition
    /// is known to hold.
    pub fn wanted<N: Number>(&self, inspection: &mut Inspection<'_, '_, N>) -> Wanted {
        let mut wanted = Wanted::default();
        let _ = wanted.0.resize(self.steps.div_ceil(32), 0);
        for step in 0..self.steps {
            let condition = inspection.pack().step(self.first + step).condition;
            if inspection.holds(condition, 0) == Some(Truth::True)
                && let Some(word) = wanted.0.get_mut(step / 32)
            {
                *word |= 1 << (step % 32);
            }
        }
        wanted
    }

    /// Walks around the piece until `visit` returns false.
    pub fn walk(
        &self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        wanted: &Wanted,
        mut visit: impl FnMut(Visit) -> bool,
    ) {
        let root = piece.root();
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
                    && pack.place(usize::from(piece.record(start).place)).kind != kind
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

    /// The first open question after this one. From the end the walk goes on at
    /// the beginning, so this one itself comes last.
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

    /// The question before this one, open or not; before the first comes the
    /// last.
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

/// Whether a question is open: not answered, and about a part that is in sight and can
/// be so.
#[inline(never)]
fn is_open(pack: &Pack<'_>, piece: &Piece<'_>, visit: Visit) -> bool {
    piece.answer(pack, visit.part, visit.ask) == Some(Answer::NotLooked)
        && !piece.record(visit.part).out_of_sight
        && can_be(pack, piece, visit.part, visit.ask)
}

/// The place directly below the piece that contains this one.
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

/// Visits every part of a kind inside one part, or that part itself.
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
        // The places on the path down, the deepest first.
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

#[cfg(test)]
mod tests {
    use core::fmt::Write as _;

    use super::*;
    use crate::number::UFloat;
    use crate::sample::{answer, with_chest};
    use crate::words;

    type Text = heapless::String<1_024>;

    /// The walk around a chest, a line for each question.
    fn walked(inspection: &mut Inspection<'_, '_, UFloat>) -> Text {
        let mut text = Text::new();
        let pack = *inspection.pack();
        let round = Round::of(&pack, inspection.piece());
        let wanted = round.wanted(inspection);
        let piece = inspection.piece();
        round.walk(&pack, piece, &wanted, |visit| {
            let ask = pack.ask(usize::from(visit.ask));
            words::part(&mut text, &pack, piece.parts(), visit.part).is_ok()
                && text.push_str(": ").is_ok()
                && words::question(&mut text, &pack, &ask).is_ok()
                && writeln!(text).is_ok()
        });
        text
    }

    #[test]
    fn the_walk_asks_each_step_of_every_part_it_is_about() {
        with_chest(2, |chest| {
            let text = walked(chest);
            assert_eq!(
                text.as_str(),
                "chest of drawers: Out of level?\n\
                 drawer 1 of case: How many locks?\n\
                 drawer 2 of case: How many locks?\n\
                 lock of drawer 1 of case: Which build?\n\
                 lock of drawer 2 of case: Which build?\n\
                 left runner of drawer 1 of case: How thick?\n\
                 right runner of drawer 1 of case: How thick?\n\
                 left runner of drawer 2 of case: How thick?\n\
                 right runner of drawer 2 of case: How thick?\n\
                 chest of drawers: Used daily?\n"
            );
        });
    }

    #[test]
    fn a_step_is_asked_for_once_its_condition_holds() {
        with_chest(2, |chest| {
            let before = walked(chest);
            assert!(!before.contains("Does it drag?"));
            answer(
                chest,
                "chest of drawers",
                "out of level",
                Answer::Seen(true),
            );
            answer(chest, "drawer 1", "sitting low", Answer::Seen(true));
            assert!(walked(chest).contains("drawer 2 of case: Does it drag?\n"));
        });
    }
}
