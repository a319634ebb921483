//! Which jobs are done in which world.
//!
//! A world says of every sign and every hidden fault whether it is there. **In a
//! world, a job is done where the house's own plans call for it**, as they would with
//! everything looked at and everything opened up:
//!
//! * "probably", "surely" and the like stand for what is not known; in a world, the
//!   fault is there or it is not. So a job that is planned because a fault is
//!   probable is done if the fault is there, and also one whose fault is not likely
//!   enough to be planned for yet.
//! * What was seen counts as the plan counts it: it is so. A job that follows from
//!   what was seen alone is done in every world.
//! * What a job needs done first is done where that job is done, and where it goes is
//!   settled as in the order of work; "once for" counts once.
//! * What must follow a job is done where that job is done, and in every world where it is
//!   done already.
//! * What is done already, or refused by the owner, is in no world still to be done,
//!   and nothing is done for its sake. Nor is what needs a refused job first.
//! * Some plans hang on a reading, or a sign, to which the rules give no chance. As
//!   long as it is not known, such a plan calls for its job where one of the faults
//!   that the job mends is there; of the rungs of one ladder, that with the longest
//!   job. Where it is certain that something is done, and open only which of several jobs
//!   that stand in the place of one another, the longest is counted. If the job mends nothing that could be there, nobody can say: it is
//!   [`Task::cannot_say`], and is left out of all figures.

use std::collections::BTreeSet;
use tellmark_core::number::Number;
use tellmark_core::plan::{Goes, Status, done_for};
use tellmark_core::truth::Truth;

use super::condition::{Bounds, Found};
use tellmark_compile::Built;
use tellmark_compile::ground::{Claim, Ground};
use tellmark_compile::meaning::meaning;
use tellmark_compile::plans::{self, Call};
use tellmark_compile::set_up::Case;
use tellmark_core::pack::Pack;
use tellmark_language::model::{JobId, Model};

/// A job that may be done, for one part.
#[derive(Clone, Debug, PartialEq)]
pub struct Task {
    /// The job.
    pub job: JobId,
    /// The part that it is done for.
    pub part: usize,
    /// Where the plans call for it: claims about parts, any of which is enough.
    pub when: Vec<(usize, Claim)>,
    /// The tasks that need it done first, or that it must follow.
    pub needed_by: Vec<usize>,
    /// The order of work has it, certain or perhaps.
    pub is_planned: bool,
    /// A plan may call for it, and the rules do not say how likely that is.
    pub cannot_say: bool,
    /// A plan calls for it whatever is hidden, and for no other job in its place.
    pub is_certain: bool,
    /// A plan that hangs on a reading may call for it, and this longer job of the
    /// same ladder is counted in its stead as long as nobody has measured; or that may
    /// be done in its place, and nobody has looked whether it is.
    pub counted_as: Option<JobId>,
}

/// Everything that may have to be done on a piece.
pub(super) fn tasks<N: Number>(
    model: &Model,
    built: &Built,
    ground: &Ground,
    case: &mut Case<'_, N>,
    status: &dyn Fn(u16, usize) -> Status,
    done: &[(u16, usize)],
) -> Vec<Task> {
    let planned = plans::calls(model);
    let mut list = List {
        model,
        pack: *case.inspection.pack(),
        status,
        done,
        planned: &planned,
        tasks: Vec::new(),
        barred: BTreeSet::new(),
        called: BTreeSet::new(),
    };
    let mut calls = Vec::new();
    for (sentence, plan) in planned.iter().enumerate() {
        let condition = list.pack.plan(sentence).condition;
        for part in 0..ground.parts.len() {
            if ground.is_of(&built.places, part, plan.subject) {
                let truth = case.inspection.holds(condition, part);
                calls.push((plan, part, truth.unwrap_or_default()));
            }
        }
    }
    let mut found = Found {
        rules: built.rules(model),
        ground,
        inspection: &case.inspection,
    };
    for (plan, part, truth) in &calls {
        if *truth == Truth::True {
            let piece = found.inspection.piece();
            let at = done_for(&list.pack, piece, plan.job.0, *part);
            list.called.insert((plan.job, at));
        }
    }
    while !list.fill(&mut found, &calls) {}
    list.tasks
}

/// A plan, the part it is about, and whether it is called for there.
type Called<'c> = (&'c Call, usize, Truth);

struct List<'m> {
    model: &'m Model,
    pack: Pack<'m>,
    /// Where a job stands for a part.
    status: &'m dyn Fn(u16, usize) -> Status,
    /// The jobs that are done and that others must follow, each with its part.
    done: &'m [(u16, usize)],
    /// Everything that calls for jobs.
    planned: &'m [Call],
    tasks: Vec<Task>,
    /// What cannot be done, because a job that must come first is refused.
    barred: BTreeSet<(JobId, usize)>,
    /// What is called for whatever is hidden, wanted or not.
    called: BTreeSet<(JobId, usize)>,
}

impl List<'_> {
    /// Lists everything, but for what is barred; `false` if more turned out to be.
    fn fill<N: Number>(&mut self, found: &mut Found<'_, '_, '_, N>, calls: &[Called<'_>]) -> bool {
        self.tasks.clear();
        // First what the order of work has, so that everything goes where it has it.
        for planned in [true, false] {
            for (plan, part, truth) in calls {
                if (*truth != Truth::False) == planned {
                    self.call(found, plan, *part, planned);
                }
            }
            if planned {
                self.add_what_follows(found);
            }
            if !self.add_what_they_need(found, planned) {
                return false;
            }
        }
        true
    }

    fn call<N: Number>(
        &mut self,
        found: &mut Found<'_, '_, '_, N>,
        plan: &Call,
        part: usize,
        is_planned: bool,
    ) {
        let Bounds { surely, perhaps } = plans::holds(found, &part, plan);
        let mut when = surely.clone();
        let mut cannot_say = surely != perhaps;
        let mut counted_as = None;
        let mut which_is_open = false;
        if cannot_say {
            let others = self.others(found, plan, part);
            let written = meaning(found, &part, &plan.when);
            if written.surely == written.perhaps {
                // Only which job it is, is open: the longest is counted.
                let length = |job: JobId| self.length(job);
                let others = others.into_iter();
                let (longer, claims): (Vec<_>, Vec<_>) = others
                    .filter(|(job, _)| length(*job) > length(plan.job))
                    .unzip();
                let none_longer = Claim::any(claims).negated();
                when = Claim::any(vec![surely, Claim::all(vec![perhaps, none_longer])]);
                (cannot_say, which_is_open) = (false, true);
                counted_as = longer.into_iter().max_by_key(|&job| length(job));
            } else {
                let all = others.into_iter().map(|(job, _)| job).chain([plan.job]);
                let mending = all.filter(|&job| found.mends(part, job) != Claim::Known(false));
                if let Some(longest) = mending.max_by_key(|&job| self.length(job)) {
                    cannot_say = false;
                    if longest == plan.job {
                        when = Claim::any(vec![surely, found.mends(part, longest)]);
                    } else {
                        counted_as = Some(longest);
                    }
                }
            }
        }
        if when == Claim::Known(false) && !cannot_say && counted_as.is_none() {
            return;
        }
        let at = done_for(&self.pack, found.inspection.piece(), plan.job.0, part);
        if self.status(plan.job, at) != Status::ToDo {
            return;
        }
        let task = self.task(plan.job, at, is_planned);
        let task = &mut self.tasks[task];
        task.is_certain |= when == Claim::Known(true) && !which_is_open;
        task.when.push((part, when));
        task.cannot_say |= cannot_say;
        task.counted_as = task.counted_as.or(counted_as);
    }

    /// The other jobs that may be called for by the same plan or ladder, each with where it
    /// may be, as far as what stands in the place of what goes.
    fn others<N: Number>(
        &self,
        found: &mut Found<'_, '_, '_, N>,
        plan: &Call,
        part: usize,
    ) -> Vec<(JobId, Claim)> {
        let mut others = Vec::new();
        for other in self
            .planned
            .iter()
            .filter(|other| other.written == plan.written)
        {
            let turns = other
                .turns
                .iter()
                .map(|turn| plans::turns(found, &part, turn).perhaps);
            let may_be = Claim::all(turns.collect());
            let at = done_for(&self.pack, found.inspection.piece(), other.job.0, part);
            let is_to_do = other.turns.is_empty() || self.status(other.job, at) == Status::ToDo;
            if other.job != plan.job && is_to_do && may_be != Claim::Known(false) {
                let written = meaning(found, &part, &other.when).perhaps;
                others.push((other.job, Claim::all(vec![written, may_be])));
            }
        }
        others
    }

    /// By what the longest job is told.
    fn length(&self, job: JobId) -> (u32, u32, JobId) {
        let takes = self.model.jobs[job.index()].takes;
        let (most, mostly) = takes.map_or((0, 0), |t| (t.most, t.mostly));
        (most, mostly, job)
    }

    fn task(&mut self, job: JobId, part: usize, is_planned: bool) -> usize {
        let known = self
            .tasks
            .iter()
            .position(|t| (t.job, t.part) == (job, part));
        known.unwrap_or_else(|| {
            self.tasks.push(Task {
                job,
                part,
                when: Vec::new(),
                needed_by: Vec::new(),
                is_planned,
                is_certain: false,
                cannot_say: false,
                counted_as: None,
            });
            self.tasks.len() - 1
        })
    }

    /// Where a job stands for a part; what is barred is as good as refused.
    fn status(&self, job: JobId, part: usize) -> Status {
        match (self.status)(job.0, part) {
            Status::ToDo if self.barred.contains(&(job, part)) => Status::Refused,
            status => status,
        }
    }

    /// Adds what tasks need first; `false` if a task turned out to be barred.
    fn add_what_they_need<N: Number>(
        &mut self,
        found: &Found<'_, '_, '_, N>,
        is_planned: bool,
    ) -> bool {
        let mut fits = true;
        let mut at = 0;
        while at < self.tasks.len() {
            let (job, part) = (self.tasks[at].job, self.tasks[at].part);
            let has_its_own = |t: &Task| t.needed_by.contains(&at);
            for &first in &self.model.jobs[job.index()].first {
                if self.tasks.iter().any(|t| t.job == first && has_its_own(t)) {
                    continue;
                }
                if !self.add_needed(found, first, at, is_planned) {
                    self.barred.insert((job, part));
                    fits = false;
                    break;
                }
            }
            for &then in &self.model.jobs[job.index()].then {
                for part in self.to_follow(found, then, part, true) {
                    let follows = self.task(then, part, is_planned);
                    if !self.tasks[follows].needed_by.contains(&at) {
                        self.tasks[follows].needed_by.push(at);
                    }
                }
            }
            at += 1;
        }
        fits
    }

    /// Adds what must follow the jobs that are done: it is done in every world.
    fn add_what_follows<N: Number>(&mut self, found: &Found<'_, '_, '_, N>) {
        for &(job, part) in self.done {
            for &then in &self.model.jobs[usize::from(job)].then {
                for part in self.to_follow(found, then, part, false) {
                    let task = self.task(then, part, true);
                    self.tasks[task].is_certain = true;
                    self.tasks[task].when.push((part, Claim::Known(true)));
                }
            }
        }
    }

    /// The parts on which a job is still to be done that must follow another one on this part,
    /// as the order of work has it: also where it was done before, if the other is to do.
    fn to_follow<N: Number>(
        &self,
        found: &Found<'_, '_, '_, N>,
        job: JobId,
        part: usize,
        is_anew: bool,
    ) -> Vec<usize> {
        let (pack, piece) = (self.pack, found.inspection.piece());
        let is_to_do = |at: usize| self.tasks.iter().any(|t| (t.job, t.part) == (job, at));
        let goes = Goes::of(&pack, piece, job.0, part, is_to_do);
        if let Goes::WhereCalledFor { .. } = goes {
            return Vec::new();
        }
        let to_do = |part: &usize| match self.status(job, *part) {
            Status::ToDo => true,
            Status::Done => is_anew && !self.barred.contains(&(job, *part)),
            Status::Refused => false,
        };
        goes.parts(&pack, piece).filter(to_do).collect()
    }

    /// Adds a job wherever a task needs it first, as the order of work has it; `false` if
    /// it is refused there.
    fn add_needed<N: Number>(
        &mut self,
        found: &Found<'_, '_, '_, N>,
        job: JobId,
        by: usize,
        is_planned: bool,
    ) -> bool {
        let (pack, piece) = (self.pack, found.inspection.piece());
        let is_to_do = |at: usize| self.tasks.iter().any(|t| (t.job, t.part) == (job, at));
        let goes = Goes::of(&pack, piece, job.0, self.tasks[by].part, is_to_do);
        for part in goes.parts(&pack, piece) {
            let status = self.status(job, part);
            if let Goes::WhereCalledFor { .. } = goes {
                if status == Status::Refused && self.called.contains(&(job, part)) {
                    return false;
                }
                continue;
            }
            match status {
                Status::Done => {}
                Status::Refused => return false,
                Status::ToDo => {
                    let needed = self.task(job, part, is_planned);
                    self.tasks[needed].needed_by.push(by);
                }
            }
        }
        true
    }
}
