//! For which parts a job is done that another job needs first.

use crate::limits::MAX_DEPTH;
use crate::pack::{NONE, Pack, Plan};
use crate::piece::Piece;

use super::tasks::is_of_kind;

/// For which parts a job is done when another job needs it first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goes {
    /// For this part.
    For(usize),
    /// For every part of a kind that is built into this one.
    ForEach {
        /// The kind.
        kind: u16,
        /// The part that they are built into.
        within: usize,
    },
    /// It is a job of smaller parts than this one: it is done only where something calls
    /// for it, and nothing more is done for the sake of the other job.
    WhereCalledFor {
        /// The larger part.
        within: usize,
    },
    /// The piece has no part for it.
    Nowhere,
}

impl Goes {
    /// Where `job` goes when another job about `part` needs it.
    ///
    /// A job "once for each" of a kind goes to that part or to the nearest of its owners of
    /// that kind; else to every part of the kind that is built into it, or into the nearest
    /// owner that has such parts. Any other job goes where it `is_to_do` anyway, on the part
    /// or the nearest of its owners. Else, if every plan that calls for it is about parts
    /// that are built into this one, it stays with those; else it goes to the part.
    pub fn of(
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        job: u16,
        part: usize,
        is_to_do: impl Fn(usize) -> bool,
    ) -> Self {
        let mut own_and_owners = core::iter::once(part).chain(piece.owners(part));
        let kind = pack.job(usize::from(job)).once_for;
        if kind == NONE {
            return match own_and_owners.find(|&at| is_to_do(at)) {
                Some(at) => Self::For(at),
                None if is_of_smaller_parts(pack, piece, job, part) => {
                    Self::WhereCalledFor { within: part }
                }
                None => Self::For(part),
            };
        }
        let goes = own_and_owners.find_map(|at| {
            if is_of_kind(pack, piece, at, kind) {
                return Some(Self::For(at));
            }
            let each = Self::ForEach { kind, within: at };
            each.parts(pack, piece).next().map(|_| each)
        });
        goes.unwrap_or(Self::Nowhere)
    }

    /// The parts.
    pub fn parts<'p>(
        self,
        pack: &'p Pack<'_>,
        piece: &'p Piece<'_>,
    ) -> impl Iterator<Item = usize> + 'p {
        let all = match self {
            Self::For(part) => part..part.saturating_add(1),
            Self::ForEach { .. } | Self::WhereCalledFor { .. } => 0..piece.parts().len(),
            Self::Nowhere => 0..0,
        };
        let is_within = |at: usize, part| piece.owners(at).any(|owner| owner == part);
        all.filter(move |&at| match self {
            Self::ForEach { kind, within } => {
                is_of_kind(pack, piece, at, kind) && is_within(at, within)
            }
            Self::WhereCalledFor { within } => is_within(at, within),
            Self::For(_) | Self::Nowhere => true,
        })
    }
}

/// Whether plans call for a job, and all of them are about kinds of part that are built
/// into this one.
fn is_of_smaller_parts(pack: &Pack<'_>, piece: &Piece<'_>, job: u16, part: usize) -> bool {
    let place = usize::from(piece.record(part).place);
    let mut plans = (0..pack.plans()).map(|row| pack.plan(row));
    let mut is_called = false;
    plans.all(|plan| {
        let is_this = plan.job == job;
        is_called |= is_this;
        !is_this || has_within(pack, place, &plan)
    }) && is_called
}

/// Whether the part that a plan is about stands somewhere within a place of the pack's
/// tree; or a part that is of the same kind with it and that the job is planned for, since
/// a plan that is said of feet is there for every kind of foot.
fn has_within(pack: &Pack<'_>, place: usize, plan: &Plan) -> bool {
    let general = |kind: u16| pack.lineage_of(kind).last();
    let is_like = |kind: u16| {
        let mut plans = (0..pack.plans()).map(|row| pack.plan(row));
        general(kind) == general(plan.subject)
            && plans.any(|other| other.job == plan.job && other.subject == kind)
    };
    (0..pack.places()).any(|at| {
        let mut owner = usize::from(pack.place(at).owner);
        for _ in 0..MAX_DEPTH {
            if owner == place {
                let kind = pack.place(at).kind;
                return kind == plan.subject || is_like(kind);
            }
            if owner >= pack.places() {
                break;
            }
            owner = usize::from(pack.place(owner).owner);
        }
        false
    })
}
