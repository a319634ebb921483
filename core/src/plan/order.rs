//! The order of work: each job once, none before what must come before it.
//!
//! What the plans call for, and what those jobs need done first, becomes tasks: a
//! job, and the part that it is done for. A constraint between two jobs holds for
//! all their tasks on the piece, so jobs are put in order, and the tasks of one job
//! stand together. The order is a topological order of the constraints: of the jobs that
//! nothing holds back, the one of the earliest stage comes first, and of these the one
//! that the rules name first. Advice ("better") is followed in the order of the rules,
//! unless constraints that always hold, or advice already followed, say the opposite.
//! Only what must come first moves a job to a later stage: advice that would is not
//! followed.

use crate::inspection::Inspection;
use crate::number::{Number, Share};
use crate::pack::{Constraint, Force, Pack};
use crate::piece::Piece;
use crate::slices::last_to_front;
use crate::truth::Truth;

use super::tasks::{Added, List, Status, Task, done_for, number};

/// What is kept about one job while jobs are put in order.
#[derive(Clone, Copy, Debug, Default)]
pub struct Seat {
    is_called: bool,
    is_certain: bool,
    /// It comes after the job whose followers are being looked for.
    follows: bool,
    /// Where it stands, from 1; 0: nowhere yet.
    place: u16,
    /// Its stage, or the latest stage of what must come before it.
    stage: u8,
    /// What must have been waited for before it.
    after: Waits,
}

impl Seat {
    /// Nobody's yet: memory to lend.
    pub const FREE: Self = Self {
        is_called: false,
        is_certain: false,
        follows: false,
        place: 0,
        stage: 0,
        after: Waits::NONE,
    };
}

/// Memory that the caller lends.
#[derive(Debug)]
pub struct Memory<'m> {
    /// One for each task; how many there are is known only when they are there.
    pub tasks: &'m mut [Task],
    /// One for each job of the pack.
    pub seats: &'m mut [Seat],
    /// One for each constraint of the pack.
    pub broken: &'m mut [bool],
}

/// The caller lent too little memory.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TooSmall {
    /// There are more tasks than that.
    Tasks,
    /// So many seats are needed, and so many constraints.
    Pack {
        /// Jobs of the pack.
        seats: usize,
        /// Constraints of the pack.
        broken: usize,
    },
}

/// The order of work for a piece.
#[derive(Debug)]
pub struct Order<'m> {
    tasks: &'m [Task],
    barred: &'m [Task],
    seats: &'m [Seat],
    broken: &'m [bool],
}

/// Why a job comes after another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reason {
    /// Which of the pack's constraints says so.
    pub constraint: usize,
    /// The job that comes before.
    pub before: u16,
    /// Text: why, in the rules' own words; empty if they do not say.
    pub because: u16,
    /// How it says so.
    pub force: Force,
}

/// Minutes: quickest, usual, slowest.
pub type ThreeMinutes = [u32; 3];

/// Waits one after the other, in elapsed minutes, least and most: other work goes on
/// meanwhile.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Waits {
    /// Those of jobs that are certain.
    pub certain: [u32; 2],
    /// If everything that is not known yet comes true.
    pub perhaps: [u32; 2],
}

impl Waits {
    const NONE: Self = Self {
        certain: [0; 2],
        perhaps: [0; 2],
    };

    /// With those that end with this job, whose own waits are these.
    fn or_after(self, job: &Seat, own: [u16; 2]) -> Self {
        let longest = |mut known: [u32; 2], before: [u32; 2]| {
            for ((known, before), own) in known.iter_mut().zip(before).zip(own) {
                *known = (*known).max(before.saturating_add(u32::from(own)));
            }
            known
        };
        Self {
            certain: if job.is_certain {
                longest(self.certain, job.after.certain)
            } else {
                self.certain
            },
            perhaps: longest(self.perhaps, job.after.perhaps),
        }
    }
}

/// What an order of work takes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Times {
    /// Bench time of what is certain.
    pub certain: ThreeMinutes,
    /// Bench time of what is not known yet, if all of it comes true.
    pub perhaps: ThreeMinutes,
    /// Tasks whose time is not known, and which are in neither.
    pub untimed: usize,
    /// The longest waits.
    pub waits: Waits,
}

impl<N: Number> Inspection<'_, '_, N> {
    /// The order of work that follows from what was seen.
    ///
    /// `status` says of a job and the part that it would be done for where it stands:
    /// what is done, or refused, is left out, and nothing is done for its sake; nor can
    /// be done what needs a refused job first ([`Order::barred`]). `done` lists the jobs that
    /// are done, each with the part that it was done for: what must follow them is still to be
    /// done.
    ///
    /// # Errors
    /// See [`TooSmall`].
    pub fn order<'o>(
        &mut self,
        memory: Memory<'o>,
        status: impl Fn(u16, usize) -> Status,
        done: &[(u16, usize)],
    ) -> Result<Order<'o>, TooSmall> {
        let Memory {
            tasks,
            seats,
            broken,
        } = memory;
        let (jobs, constraints) = (self.pack().jobs(), self.pack().constraints());
        let too_small = TooSmall::Pack {
            seats: jobs,
            broken: constraints,
        };
        let seats = seats.get_mut(..jobs).ok_or(too_small)?;
        let broken = broken.get_mut(..constraints).ok_or(too_small)?;
        seats.fill(Seat::FREE);
        broken.fill(false);

        let mut list = List::new(tasks);
        loop {
            if !self.add_what_is_called_for(&mut list, &status)
                || !list.add_what_follows(self.pack(), self.piece(), &status, done)
            {
                return Err(TooSmall::Tasks);
            }
            match list.add_what_they_need(self.pack(), self.piece(), &status) {
                Added::All => break,
                Added::NoRoom => return Err(TooSmall::Tasks),
                // Once more, without what was added for the sake of those.
                Added::SomeBarred => list.keep_barred(),
            }
        }
        for task in list.all().iter().filter(|task| task.barred_by.is_none()) {
            if let Some(seat) = seats.get_mut(usize::from(task.job)) {
                seat.is_called = true;
                seat.is_certain |= task.truth == Truth::True;
            }
        }
        let pack = self.pack();
        set_stages(pack, seats);
        follow_advice(pack, seats, broken);
        give_places(pack, seats, broken);
        let tasks = list.into_tasks();
        sort(tasks, seats);
        let to_do = tasks.partition_point(|task| task.barred_by.is_none());
        let (tasks, barred) = tasks.split_at_checked(to_do).unwrap_or((tasks, &[]));
        Ok(Order {
            tasks,
            barred,
            seats,
            broken,
        })
    }

    /// Adds a task for everything that a plan calls for, or may yet call for, and that is
    /// not done. `false` if there is no room.
    fn add_what_is_called_for(
        &mut self,
        list: &mut List<'_>,
        status: &impl Fn(u16, usize) -> Status,
    ) -> bool {
        for sentence in 0..self.pack().plans() {
            let plan = self.pack().plan(sentence);
            for part in 0..self.piece().parts().len() {
                let kind = self.piece().record(part).kind;
                if kind != plan.subject && !(plan.subject == 0 && part == 0) {
                    continue;
                }
                let Some(truth @ (Truth::True | Truth::NotKnown)) =
                    self.holds(plan.condition, part)
                else {
                    continue;
                };
                let chance = match truth {
                    Truth::True => Some(Share::WHOLE),
                    _ => self.chance_of(plan.condition, part),
                };
                let part = done_for(self.pack(), self.piece(), plan.job, part);
                let barred_by = match status(plan.job, part) {
                    Status::ToDo => None,
                    Status::Done => continue,
                    Status::Refused => Some(plan.job),
                };
                let has_room = list.add(Task {
                    job: plan.job,
                    part: number(part),
                    truth,
                    chance,
                    needed_by: None,
                    barred_by,
                });
                if !has_room {
                    return false;
                }
            }
        }
        true
    }
}

/// By the places of their jobs, then by part; what is barred comes last.
fn sort(tasks: &mut [Task], seats: &[Seat]) {
    let place = |t: &Task| {
        let seat = seats.get(usize::from(t.job));
        let place = seat.map_or(0, |seat| seat.place);
        (t.barred_by.is_some(), place, t.job, t.part)
    };
    for at in 1..tasks.len() {
        let sorted = tasks.get(..at).unwrap_or(&[]);
        let Some(next) = tasks.get(at).map(place) else {
            return;
        };
        let to = sorted.partition_point(|t| place(t) <= next);
        if let Some(moved) = tasks.get_mut(to..=at) {
            last_to_front(moved);
        }
    }
}

/// The constraints that hold: both jobs are there, and it is not broken.
fn holding<'p>(
    pack: &'p Pack<'_>,
    seats: &'p [Seat],
    broken: &'p [bool],
) -> impl Iterator<Item = (usize, Constraint)> + 'p {
    let is_called = |job: u16| seats.get(usize::from(job)).is_some_and(|s| s.is_called);
    (0..pack.constraints())
        .map(|row| (row, pack.constraint(row)))
        .filter(move |(row, c)| {
            let is_broken = broken.get(*row).copied().unwrap_or(true);
            !is_broken && c.before != c.after && is_called(c.before) && is_called(c.after)
        })
}

/// Works out the stage in which each job is done, without regard to advice.
fn set_stages(pack: &Pack<'_>, seats: &mut [Seat]) {
    for (job, seat) in seats.iter_mut().enumerate() {
        seat.stage = pack.job(job).stage;
    }
    // Each round settles at least one more job, or is the last.
    for _ in 0..seats.len() {
        let mut is_done = true;
        for row in 0..pack.constraints() {
            let c = pack.constraint(row);
            let before = seats.get(usize::from(c.before)).copied();
            let before = before.filter(|seat| seat.is_called && c.force != Force::Better);
            let after = seats.get_mut(usize::from(c.after));
            if let (Some(before), Some(after)) = (before, after)
                && before.stage > after.stage
            {
                after.stage = before.stage;
                is_done = false;
            }
        }
        if is_done {
            return;
        }
    }
}

/// Takes up each piece of advice that moves no job to a later stage, and that neither the
/// constraints that always hold nor the advice before it rule out.
fn follow_advice(pack: &Pack<'_>, seats: &mut [Seat], broken: &mut [bool]) {
    for (row, broken) in broken.iter_mut().enumerate() {
        *broken = pack.constraint(row).force == Force::Better;
    }
    for row in 0..pack.constraints() {
        let advice = pack.constraint(row);
        let is_called = |job: u16| seats.get(usize::from(job)).is_some_and(|s| s.is_called);
        if advice.force != Force::Better || !is_called(advice.before) || !is_called(advice.after) {
            continue;
        }
        let stage = |job: u16| seats.get(usize::from(job)).map_or(0, |seat| seat.stage);
        let is_against = stage(advice.before) > stage(advice.after)
            || comes_after(pack, seats, broken, advice.after, advice.before);
        if let Some(broken) = broken.get_mut(row) {
            *broken = is_against;
        }
    }
    // Advice on what is not to be done is not broken.
    for (row, broken) in broken.iter_mut().enumerate() {
        let c = pack.constraint(row);
        let is_called = |job: u16| seats.get(usize::from(job)).is_some_and(|s| s.is_called);
        *broken = *broken && is_called(c.before) && is_called(c.after);
    }
}

/// Whether `last` must come after `first`, or is it.
fn comes_after(
    pack: &Pack<'_>,
    seats: &mut [Seat],
    broken: &[bool],
    first: u16,
    last: u16,
) -> bool {
    for (job, seat) in seats.iter_mut().enumerate() {
        seat.follows = job == usize::from(first);
    }
    // Each round takes in at least one more job, or is the last.
    for _ in 0..seats.len() {
        let mut is_done = true;
        for row in 0..pack.constraints() {
            let c = pack.constraint(row);
            let seat = |job: u16| seats.get(usize::from(job)).copied().unwrap_or_default();
            let (before, after) = (seat(c.before), seat(c.after));
            let holds = broken.get(row) == Some(&false) && before.is_called && after.is_called;
            if holds && before.follows && !after.follows {
                if let Some(seat) = seats.get_mut(usize::from(c.after)) {
                    seat.follows = true;
                }
                is_done = false;
            }
        }
        if is_done {
            break;
        }
    }
    seats.get(usize::from(last)).is_some_and(|s| s.follows)
}

/// The first of the jobs of the earliest stage.
fn earliest(pack: &Pack<'_>, jobs: impl Iterator<Item = usize>) -> Option<usize> {
    jobs.min_by_key(|&job| pack.job(job).stage)
}

/// Puts the jobs in order, and adds up the waits before each.
fn give_places(pack: &Pack<'_>, seats: &mut [Seat], broken: &[bool]) {
    let mut place = 0;
    loop {
        let is_waiting = |s: &Seat| s.is_called && s.place == 0;
        let is_free = |job: usize| {
            let mut held_back = holding(pack, seats, broken);
            !held_back.any(|(_, c)| {
                usize::from(c.after) == job
                    && seats.get(usize::from(c.before)).is_some_and(is_waiting)
            })
        };
        let waiting = (0..seats.len()).filter(|&job| seats.get(job).is_some_and(is_waiting));
        let free = waiting.clone().filter(|&job| is_free(job));
        // Compiled rules have no cycle among the constraints that always hold; should a
        // pack have one, it is cut at the job that would come first.
        let Some(job) = earliest(pack, free).or_else(|| earliest(pack, waiting)) else {
            return;
        };
        let mut after = Waits::NONE;
        for (_, c) in holding(pack, seats, broken).filter(|(_, c)| usize::from(c.after) == job) {
            let before = seats.get(usize::from(c.before));
            if let Some(before) = before.filter(|before| before.place > 0) {
                after = after.or_after(before, pack.job(usize::from(c.before)).waits);
            }
        }
        place += 1;
        if let Some(seat) = seats.get_mut(job) {
            seat.place = place;
            seat.after = after;
        }
    }
}

impl Order<'_> {
    /// The tasks, in the order in which they are to be done.
    #[must_use]
    pub fn tasks(&self) -> &[Task] {
        self.tasks
    }

    /// What is called for and cannot be done, because a job that must come first is
    /// refused ([`Task::barred_by`]); what is refused itself is not among it.
    pub fn barred(&self) -> impl Iterator<Item = &Task> {
        self.barred
            .iter()
            .filter(|task| task.needed_by.is_none() && task.barred_by != Some(task.job))
    }

    /// What a plan calls for, or may yet call for, and is itself refused.
    pub fn refused(&self) -> impl Iterator<Item = &Task> {
        self.barred
            .iter()
            .filter(|task| task.needed_by.is_none() && task.barred_by == Some(task.job))
    }

    /// Why a job of this order comes where it does: every job before it that a
    /// constraint names.
    pub fn reasons<'p>(
        &'p self,
        pack: &'p Pack<'_>,
        job: u16,
    ) -> impl Iterator<Item = Reason> + 'p {
        holding(pack, self.seats, self.broken)
            .filter(move |(_, c)| c.after == job)
            .map(|(constraint, c)| reason(constraint, &c))
    }

    /// The advice that this order goes against, with the job that comes too early
    /// by it.
    pub fn against<'p>(&'p self, pack: &'p Pack<'_>) -> impl Iterator<Item = (u16, Reason)> + 'p {
        let broken = self.broken.iter().enumerate();
        broken.filter(|(_, broken)| **broken).map(|(row, _)| {
            let c = pack.constraint(row);
            (c.after, reason(row, &c))
        })
    }

    /// What must have been waited for before a job can begin; `None` if it is not in
    /// this order.
    #[must_use]
    pub fn waits_before(&self, job: u16) -> Option<Waits> {
        let seat = self.seats.get(usize::from(job));
        seat.filter(|seat| seat.is_called).map(|seat| seat.after)
    }

    /// What it all takes.
    #[must_use]
    pub fn times(&self, pack: &Pack<'_>) -> Times {
        let mut times = Times::default();
        for task in self.tasks {
            let job = pack.job(usize::from(task.job));
            if job.takes == [0; 3] {
                times.untimed += 1;
            }
            let sum = if task.truth == Truth::True {
                &mut times.certain
            } else {
                &mut times.perhaps
            };
            for (sum, minutes) in sum.iter_mut().zip(job.takes) {
                *sum = sum.saturating_add(u32::from(minutes));
            }
            if let Some(seat) = self.seats.get(usize::from(task.job)) {
                times.waits = times.waits.or_after(seat, job.waits);
            }
        }
        times
    }

    /// The task at which a caution about a part must be heeded: the first on that
    /// part or on anything built into it, else the first on one of its owners.
    /// `None` if nothing is to be done there.
    #[must_use]
    pub fn bites_at(&self, piece: &Piece<'_>, part: usize) -> Option<usize> {
        let at = |task: &Task| usize::from(task.part);
        let is_within = |t: &Task| at(t) == part || piece.owners(at(t)).any(|owner| owner == part);
        let is_around = |t: &Task| piece.owners(part).any(|owner| owner == at(t));
        let mut tasks = self.tasks.iter();
        let within = tasks.position(is_within);
        within.or_else(|| self.tasks.iter().position(is_around))
    }

    /// Jobs of this order that the rules never plan together.
    pub fn at_odds<'p>(&'p self, pack: &'p Pack<'_>) -> impl Iterator<Item = (u16, u16)> + 'p {
        let is_called = |job: u16| {
            let seat = self.seats.get(usize::from(job));
            seat.is_some_and(|seat| seat.is_called)
        };
        (0..pack.pairs())
            .map(|row| pack.pair(row))
            .filter(move |pair| !pair.mends && is_called(pair.job) && is_called(pair.other))
            .map(|pair| (pair.job, pair.other))
    }
}

fn reason(constraint: usize, c: &Constraint) -> Reason {
    Reason {
        constraint,
        before: c.before,
        because: c.because,
        force: c.force,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn waiting(is_certain: bool, certain: [u32; 2], perhaps: [u32; 2]) -> Seat {
        Seat {
            is_certain,
            after: Waits { certain, perhaps },
            ..Seat::FREE
        }
    }

    #[test]
    fn waits_add_up_along_a_chain_and_the_longest_chain_counts() {
        let glued = waiting(true, [60, 120], [60, 120]);
        let after = Waits::NONE.or_after(&glued, [600, 900]);
        assert_eq!(after.certain, [660, 1_020]);
        let stained = waiting(true, [0, 0], [0, 0]);
        let both = after.or_after(&stained, [30, 2_000]);
        assert_eq!(both.certain, [660, 2_000]);
        assert_eq!(both.perhaps, [660, 2_000]);
    }

    #[test]
    fn a_job_that_is_not_certain_keeps_nobody_waiting_for_certain() {
        let perhaps = waiting(false, [0, 0], [10, 20]);
        let after = Waits::NONE.or_after(&perhaps, [5, 5]);
        assert_eq!(after.certain, [0, 0]);
        assert_eq!(after.perhaps, [15, 25]);
    }

    #[test]
    fn tasks_stand_in_the_places_of_their_jobs_and_then_by_part() {
        let seats = [2, 1].map(|place| Seat {
            place,
            ..Seat::FREE
        });
        let task = |job, part| Task {
            job,
            part,
            ..Task::NONE
        };
        let mut tasks = [task(0, 1), task(1, 7), task(0, 0), task(1, 3)];
        sort(&mut tasks, &seats);
        let order = tasks.map(|task| (task.job, task.part));
        assert_eq!(order, [(1, 3), (1, 7), (0, 0), (0, 1)]);
    }
}
