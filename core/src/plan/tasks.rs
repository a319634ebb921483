//! What is to be done, and for which part: what the plans call for, and what must be
//! done first for the sake of that.

use crate::number::Share;
use crate::pack::{Force, NONE, Pack};
use crate::piece::Piece;
use crate::truth::Truth;

/// A job to be done, for one part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Task {
    /// The job.
    pub job: u16,
    /// The part that it is done for.
    pub part: u16,
    /// Certain, or not known yet.
    pub truth: Truth,
    /// How likely it is to be called for, at least; `None` if that cannot be
    /// said without asking.
    pub chance: Option<Share>,
    /// The job that needs it done first; `None` if a plan calls for it.
    pub needed_by: Option<u16>,
}

impl Task {
    /// None yet: memory to lend.
    pub const NONE: Self = Self {
        job: 0,
        part: 0,
        truth: Truth::NotKnown,
        chance: None,
        needed_by: None,
    };
}

pub(super) fn number(n: usize) -> u16 {
    u16::try_from(n).unwrap_or(NONE)
}

/// The part that a job is done for, when it is called for about `part`.
#[must_use]
pub fn done_for(pack: &Pack<'_>, piece: &Piece<'_>, job: u16, part: usize) -> usize {
    let once_for = pack.job(usize::from(job)).once_for;
    let is_it = |&at: &usize| {
        let place = pack.place(usize::from(piece.record(at).place));
        place.kind == once_for || (once_for == 0 && place.owner == NONE)
    };
    if once_for == NONE {
        return part;
    }
    let mut own_and_owners = core::iter::once(part).chain(piece.owners(part));
    own_and_owners.find(is_it).unwrap_or(part)
}

/// Tasks as they are found.
pub(super) struct List<'m> {
    tasks: &'m mut [Task],
    used: usize,
}

impl<'m> List<'m> {
    pub(super) fn new(tasks: &'m mut [Task]) -> Self {
        Self { tasks, used: 0 }
    }

    pub(super) fn into_tasks(self) -> &'m mut [Task] {
        self.tasks.get_mut(..self.used).unwrap_or(&mut [])
    }

    pub(super) fn all(&self) -> &[Task] {
        self.tasks.get(..self.used).unwrap_or(&[])
    }

    /// Adds a task, or what it says to the one that is there. `false` if there is
    /// no room.
    pub(super) fn add(&mut self, task: Task) -> bool {
        let is_it = |t: &Task| (t.job, t.part) == (task.job, task.part);
        let at = self.all().iter().position(is_it);
        if let Some(there) = at.and_then(|at| self.tasks.get_mut(at)) {
            there.truth = there.truth.max(task.truth);
            there.chance = there.chance.max(task.chance);
            there.needed_by = there.needed_by.and(task.needed_by);
            return true;
        }
        let free = self.tasks.get_mut(self.used);
        let has_room = free.is_some();
        if let Some(free) = free {
            *free = task;
            self.used += 1;
        }
        has_room
    }

    /// Adds what must be done first for the sake of what is there, and for the
    /// sake of that, unless it is not wanted. `false` if there is no room.
    pub(super) fn add_what_they_need(
        &mut self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        is_wanted: &impl Fn(u16, usize) -> bool,
    ) -> bool {
        let mut at = 0;
        while let Some(&task) = self.all().get(at) {
            at += 1;
            for row in 0..pack.constraints() {
                let first = pack.constraint(row);
                if first.force != Force::First || first.after != task.job {
                    continue;
                }
                let before = first.before;
                let part = self.needed_for(pack, piece, before, usize::from(task.part));
                if !is_wanted(before, part) {
                    continue;
                }
                let needed = Task {
                    job: before,
                    part: number(part),
                    needed_by: Some(task.job),
                    ..task
                };
                let is_it = |t: &Task| (t.job, t.part) == (needed.job, needed.part);
                let was = self.all().iter().find(|t| is_it(t)).copied();
                if !self.add(needed) {
                    return false;
                }
                // What was there already may now be more certain: so is what it
                // needs, and that is looked at again.
                let place = self.all().iter().position(is_it);
                let is_changed = was.is_some_and(|was| {
                    let now = place.and_then(|p| self.all().get(p));
                    now.is_some_and(|now| (now.truth, now.chance) != (was.truth, was.chance))
                });
                if let (true, Some(place)) = (is_changed, place) {
                    at = at.min(place);
                }
            }
        }
        true
    }

    /// The part that a job is done for when another job about `part` needs it: as
    /// it says itself; else where it is done anyway, on that part or one of its
    /// owners; else that part.
    fn needed_for(&self, pack: &Pack<'_>, piece: &Piece<'_>, job: u16, part: usize) -> usize {
        if pack.job(usize::from(job)).once_for != NONE {
            return done_for(pack, piece, job, part);
        }
        let is_done = |&at: &usize| {
            let mut all = self.all().iter();
            all.any(|t| t.job == job && usize::from(t.part) == at)
        };
        let mut own_and_owners = core::iter::once(part).chain(piece.owners(part));
        own_and_owners.find(is_done).unwrap_or(part)
    }
}
