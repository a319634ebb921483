//! What of a plan hangs on something: jobs in the place of others, and jobs that are never
//! planned together where something is so.

use tellmark_core::number::UFloat;
use tellmark_core::pack::{NONE, Pack};
use tellmark_core::piece::Piece;
use tellmark_core::plan::{Order, Task, done_for};
use tellmark_core::truth::Truth;

use std::collections::BTreeMap;

use tellmark_compile::plans::{self, Turn};
use tellmark_compile::set_up::{Case, SetUp};
use tellmark_language::model::{KindId, Model};

/// A job that stands in the place of another, or may.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Turned {
    /// Index of the sentence among the model's that say so.
    pub stand_in: usize,
    /// Index of the other job.
    pub other: usize,
    /// Whether this job is the one that stands in the other's place, rather than the one
    /// that is replaced.
    pub stands_in: bool,
    /// Whether it is known; if not, it is the one or the other.
    pub is_known: bool,
    /// The parts, by name.
    pub parts: Vec<String>,
}

/// Jobs that the rules never plan together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AtOdds {
    /// Index of the one.
    pub one: usize,
    /// Index of the other.
    pub other: usize,
    /// What it hangs on; `None` if they are never planned together anywhere.
    pub hangs: Option<Hangs>,
}

impl AtOdds {
    /// "Not both: the rules never plan to strip the top and to wax the top together. Decide
    /// which.", the words before the colon apart.
    #[must_use]
    pub fn in_words(&self, model: &Model, on: &str) -> (&'static str, String) {
        let name = |job: usize| model.jobs.get(job).map_or("", |job| job.name.as_str());
        let (one, other) = (name(self.one), name(self.other));
        let is_known = self.hangs.as_ref().is_none_or(|hangs| hangs.is_known);
        let (head, decide) = match is_known {
            true => ("Not both:", "Decide which."),
            false => ("Perhaps not both:", "Find out first."),
        };
        let said = format!("the rules never plan to {one} and to {other} together{on}. {decide}");
        (head, said)
    }
}

/// Where jobs are never planned together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hangs {
    /// Index of the sentence among the model's exclusions.
    pub exclusion: usize,
    /// The parts of which it is so, or may be, by name.
    pub parts: Vec<String>,
    /// Whether it is so of one of them; if not, it is not known yet.
    pub is_known: bool,
}

/// Whether a sentence about a replaced job is known to hold, by its number, the side of it
/// that is told, and whether it is known.
type Key = (usize, bool, bool);

/// What each job and part of a plan has to do with sentences with "instead of".
#[derive(Debug, Default)]
pub(super) struct Turns(BTreeMap<(u16, usize), Vec<Key>>);

impl Turns {
    /// Of everything that is called for, or may yet be.
    pub(super) fn of(set_up: &SetUp<'_>, case: &mut Case<'_, UFloat>) -> Self {
        let mut turns = Turns::default();
        if set_up.model.stand_ins.is_empty() {
            return turns;
        }
        let pack = *case.inspection.pack();
        for (row, call) in plans::calls(set_up.model).iter().enumerate() {
            if call.turns.is_empty() {
                continue;
            }
            for part in parts_of_kind(&pack, case.inspection.piece(), call.subject) {
                let truth = case.inspection.holds(pack.plan(row).condition, part);
                if truth.unwrap_or_default() == Truth::False {
                    continue;
                }
                let at = done_for(&pack, case.inspection.piece(), call.job.0, part);
                for turn in &call.turns {
                    let truth = truth_of(set_up, case, turn, part);
                    turns.add((call.job.0, at), turn, truth);
                }
            }
        }
        turns
    }

    fn add(&mut self, job_and_part: (u16, usize), turn: &Turn, truth: Truth) {
        let is_known = truth != Truth::NotKnown;
        // That a job is not replaced goes without saying.
        if !turn.is_so && is_known {
            return;
        }
        let told = self.0.entry(job_and_part).or_default();
        let key = (turn.stand_in, turn.is_so, is_known);
        if !told.contains(&key) {
            told.push(key);
        }
    }

    /// Adds what there is to say of a task to what is told of its job.
    pub(super) fn tell(&self, set_up: &SetUp<'_>, task: &Task, name: &str, told: &mut Vec<Turned>) {
        let at = (task.job, usize::from(task.part));
        for &(stand_in, stands_in, is_known) in self.0.get(&at).into_iter().flatten() {
            let alike = |t: &&mut Turned| {
                (t.stand_in, t.stands_in, t.is_known) == (stand_in, stands_in, is_known)
            };
            if let Some(known) = told.iter_mut().find(alike) {
                known.parts.push(name.to_owned());
                continue;
            }
            let sentence = &set_up.model.stand_ins[stand_in];
            let other = if stands_in {
                sentence.replaced
            } else {
                sentence.job
            };
            told.push(Turned {
                stand_in,
                other: other.index(),
                stands_in,
                is_known,
                parts: vec![name.to_owned()],
            });
        }
    }
}

/// Whether what a sentence with "instead of" asks for is so, for a call about this part.
fn truth_of(set_up: &SetUp<'_>, case: &mut Case<'_, UFloat>, turn: &Turn, part: usize) -> Truth {
    let pack = *case.inspection.pack();
    let piece = case.inspection.piece();
    let at = match turn.owner {
        None => Some(part),
        Some(kind) => piece.owners(part).find(|&at| is_of(&pack, piece, at, kind)),
    };
    at.map_or(Truth::False, |at| case.truth_of(set_up, &turn.when, at))
}

/// The exclusions that hang on something and have to do with this order: where both jobs
/// are done on a part of which it is so or may be, on what is built into it, or on what it
/// is built into.
pub(super) fn at_odds(
    set_up: &SetUp<'_>,
    case: &mut Case<'_, UFloat>,
    tasks: &[Task],
    name: &dyn Fn(&Piece<'_>, usize) -> String,
) -> Vec<AtOdds> {
    let pack = *case.inspection.pack();
    let mut found = Vec::new();
    for (exclusion, sentence) in set_up.model.exclusions.iter().enumerate() {
        let Some((subject, when)) = &sentence.when else {
            continue;
        };
        let mut hangs = Hangs {
            exclusion,
            parts: Vec::new(),
            is_known: false,
        };
        for part in parts_of_kind(&pack, case.inspection.piece(), *subject) {
            let piece = case.inspection.piece();
            let both = [sentence.one, sentence.other];
            let touches = |t: &Task| has_to_do(piece, usize::from(t.part), part);
            let is_done = |job: u16| tasks.iter().any(|t| t.job == job && touches(t));
            if !both.iter().all(|job| is_done(job.0)) {
                continue;
            }
            let truth = case.truth_of(set_up, when, part);
            if truth == Truth::False || (hangs.is_known && truth == Truth::NotKnown) {
                continue;
            }
            if truth == Truth::True && !hangs.is_known {
                hangs.parts.clear();
                hangs.is_known = true;
            }
            hangs.parts.push(name(case.inspection.piece(), part));
        }
        if !hangs.parts.is_empty() {
            found.push(AtOdds {
                one: sentence.one.index(),
                other: sentence.other.index(),
                hangs: Some(hangs),
            });
        }
    }
    found
}

/// What the pack says is never planned together.
pub(super) fn always_at_odds(order: &Order<'_>, pack: &Pack<'_>) -> Vec<AtOdds> {
    let pairs = order.at_odds(pack);
    let never = pairs.map(|(one, other)| AtOdds {
        one: usize::from(one),
        other: usize::from(other),
        hangs: None,
    });
    never.collect()
}

/// One of the parts is the other, or is built into it.
fn has_to_do(piece: &Piece<'_>, one: usize, other: usize) -> bool {
    let is_in = |part, owner| piece.owners(part).any(|at| at == owner);
    one == other || is_in(one, other) || is_in(other, one)
}

fn is_of(pack: &Pack<'_>, piece: &Piece<'_>, part: usize, kind: KindId) -> bool {
    piece.part(part).is_some_and(|record| {
        let place = pack.place(usize::from(record.place));
        place.kind == kind.0 || (kind.0 == 0 && place.owner == NONE)
    })
}

/// The parts of a kind; the piece is also of the kind that any piece is.
pub(super) fn parts_of_kind(pack: &Pack<'_>, piece: &Piece<'_>, kind: KindId) -> Vec<usize> {
    let parts = 0..piece.parts().len();
    parts
        .filter(|&part| is_of(pack, piece, part, kind))
        .collect()
}
