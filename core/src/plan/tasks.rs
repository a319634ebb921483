//! What is to be done, and for which part: what the plans call for, and what must be
//! done first for the sake of that.
//!
//! A job that needs another one first cannot be done if that one is refused: it is barred,
//! and so is what needs it. Nothing is done for the sake of a barred job. What must follow a
//! job is planned with it, also where it was done before, and stays planned once that job is
//! done.

use crate::number::Share;
use crate::pack::{Force, NONE, Pack};
use crate::piece::Piece;
use crate::truth::Truth;

use super::needed::Goes;

/// Where a job on a part stands, besides what was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// It is still to be done, if it is called for.
    ToDo,
    /// It is done.
    Done,
    /// The owner will not have it.
    Refused,
}

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
    /// The refused job without which it cannot be done; itself, if it is refused.
    pub barred_by: Option<u16>,
}

impl Task {
    /// None yet: memory to lend.
    pub const NONE: Self = Self {
        job: 0,
        part: 0,
        truth: Truth::NotKnown,
        chance: None,
        needed_by: None,
        barred_by: None,
    };

    fn is(&self, job: u16, part: usize) -> bool {
        self.job == job && usize::from(self.part) == part
    }
}

pub(super) fn number(n: usize) -> u16 {
    u16::try_from(n).unwrap_or(NONE)
}

/// The part that a job is done for, when it is called for about `part`.
#[must_use]
pub fn done_for(pack: &Pack<'_>, piece: &Piece<'_>, job: u16, part: usize) -> usize {
    let once_for = pack.job(usize::from(job)).once_for;
    if once_for == NONE {
        return part;
    }
    let mut own_and_owners = core::iter::once(part).chain(piece.owners(part));
    own_and_owners
        .find(|&at| is_of_kind(pack, piece, at, once_for))
        .unwrap_or(part)
}

/// Whether a part is of a kind or of a kind of it; the piece is also of the kind that any
/// piece is (0).
pub(super) fn is_of_kind(pack: &Pack<'_>, piece: &Piece<'_>, part: usize, kind: u16) -> bool {
    let place = pack.place(usize::from(piece.record(part).place));
    pack.is_kind_of(place.kind, kind) || (kind == 0 && place.owner == NONE)
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
        if let Some(there) = self.find(task.job, usize::from(task.part)) {
            there.truth = there.truth.max(task.truth);
            there.chance = there.chance.max(task.chance);
            there.needed_by = there.needed_by.and(task.needed_by);
            there.barred_by = there.barred_by.or(task.barred_by);
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

    fn find(&mut self, job: u16, part: usize) -> Option<&mut Task> {
        let all = self.tasks.get_mut(..self.used).unwrap_or(&mut []);
        all.iter_mut().find(|task| task.is(job, part))
    }

    /// Adds what must be done first for the sake of what is there, and for the sake of
    /// that, and bars what cannot be done.
    pub(super) fn add_what_they_need(
        &mut self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        status: &impl Fn(u16, usize) -> Status,
    ) -> Added {
        let mut added = Added::All;
        let mut at = 0;
        while let Some(&task) = self.all().get(at) {
            let mut next = at + 1;
            for row in 0..pack.constraints() {
                let tie = pack.constraint(row);
                let needed = match tie.force {
                    Force::First if tie.after == task.job => tie.before,
                    Force::Then if tie.before == task.job => tie.after,
                    _ => continue,
                };
                if task.barred_by.is_some() {
                    break;
                }
                let why = match tie.force {
                    Force::Then => Why::Follows,
                    _ => Why::First,
                };
                match self.add_needed(pack, piece, status, (needed, why), &task) {
                    Need::Fits(Some(changed)) => next = next.min(changed),
                    Need::Fits(None) => {}
                    Need::NoRoom => return Added::NoRoom,
                    Need::Refused(by) => {
                        if let Some(task) = self.find(task.job, usize::from(task.part)) {
                            task.barred_by = Some(by);
                        }
                        added = Added::SomeBarred;
                        break;
                    }
                }
            }
            at = next;
        }
        added
    }

    /// Adds what must follow the jobs that are done, each on its part. `false` if there is no
    /// room.
    pub(super) fn add_what_follows(
        &mut self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        status: &impl Fn(u16, usize) -> Status,
        done: &[(u16, usize)],
    ) -> bool {
        for row in 0..pack.constraints() {
            let tie = pack.constraint(row);
            let is_it = |(job, _): &&(u16, usize)| tie.force == Force::Then && *job == tie.before;
            for &(job, part) in done.iter().filter(is_it) {
                let task = Task {
                    job,
                    part: number(part),
                    truth: Truth::True,
                    chance: Some(Share::WHOLE),
                    ..Task::NONE
                };
                let needed = (tie.after, Why::IsLeft);
                if let Need::NoRoom = self.add_needed(pack, piece, status, needed, &task) {
                    return false;
                }
            }
        }
        true
    }

    /// Adds a job wherever this task needs it.
    fn add_needed(
        &mut self,
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        status: &impl Fn(u16, usize) -> Status,
        (job, why): (u16, Why),
        task: &Task,
    ) -> Need {
        // What must follow may be refused; what must come first may not.
        let is_first = why == Why::First;
        let is_to_do = |part: usize| {
            let mut all = self.all().iter();
            all.any(|t| t.is(job, part) && t.barred_by.is_none())
        };
        let goes = Goes::of(pack, piece, job, usize::from(task.part), is_to_do);
        let mut earliest: Option<usize> = None;
        for part in goes.parts(pack, piece) {
            let there = self.find(job, part).copied();
            let barred_by = there.and_then(|there| there.barred_by);
            if let Goes::WhereCalledFor { .. } = goes {
                // What calls for it may not be so; then nothing is missing.
                let is_called = there.is_some_and(|there| there.truth == Truth::True);
                match barred_by {
                    Some(by) if is_called && is_first => return Need::Refused(by),
                    _ => continue,
                }
            }
            match (barred_by, status(job, part)) {
                (Some(by), _) if is_first => return Need::Refused(by),
                (Some(_), _) => {
                    self.is_called_for(job, part, task.truth);
                    continue;
                }
                (None, Status::Refused) if is_first => return Need::Refused(job),
                (None, Status::ToDo) => {}
                // What was done before must follow what is still to be done.
                (None, Status::Done) if why == Why::Follows => {}
                (None, _) => continue,
            }
            let needed = Task {
                job,
                part: number(part),
                needed_by: Some(task.job),
                ..*task
            };
            if !self.add(needed) {
                return Need::NoRoom;
            }
            // What was there already may now be more certain: so is what it needs, and
            // that is looked at again.
            let place = self.all().iter().position(|t| t.is(job, part));
            let now = place.and_then(|place| self.all().get(place));
            let said = |task: &Task| (task.truth, task.chance);
            if there.is_some() && there.as_ref().map(said) != now.map(said) {
                earliest = earliest.min(place).or(place);
            }
        }
        Need::Fits(earliest)
    }

    /// Tells of what is barred that it is missing by itself, and not only for the sake of another.
    fn is_called_for(&mut self, job: u16, part: usize, truth: Truth) {
        if let Some(there) = self.find(job, part) {
            there.needed_by = None;
            there.truth = there.truth.max(truth);
        }
    }

    /// Keeps only what is barred, as if nothing called for it yet.
    pub(super) fn keep_barred(&mut self) {
        let mut kept = 0;
        for at in 0..self.used {
            let Some(&task) = self.all().get(at).filter(|task| task.barred_by.is_some()) else {
                continue;
            };
            if let Some(to) = self.tasks.get_mut(kept) {
                *to = Task {
                    truth: Truth::False,
                    chance: None,
                    needed_by: Some(NONE),
                    ..task
                };
                kept += 1;
            }
        }
        self.used = kept;
    }
}

/// What came of adding what tasks need.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Added {
    /// All of it is there.
    All,
    /// There is no room.
    NoRoom,
    /// Some tasks turned out to be barred; what was added for their sake is there too.
    SomeBarred,
}

/// Why a task needs another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Why {
    /// It must come first.
    First,
    /// It must follow.
    Follows,
    /// It must follow what is done.
    IsLeft,
}

/// What came of adding one job that a task needs.
enum Need {
    /// It is there; of what became more certain, where the first stands.
    Fits(Option<usize>),
    /// There is no room.
    NoRoom,
    /// This job is refused, and it cannot be done without it.
    Refused(u16),
}
