//! What to do, and in what order.

use tellmark_core::number::UFloat;
use tellmark_core::pack::{Force, Pack};
use tellmark_core::piece::{Piece, SetUpError};
use tellmark_core::plan::{Order, Reason, Status, Task, Times};
use tellmark_core::truth::Truth;

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::LISTED;
use super::hangs::{AtOdds, Turned, Turns, always_at_odds, at_odds};
use super::progress::{Left, Mark, Marked, Progress, Told};
use super::quote::Quote;
use super::rungs::{Rungs, open_rungs};
use super::until::{ends_with, leave_out_ended};
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Caution, Clash, SetUp, WorkRoom, part_ref};
use tellmark_language::model::{Minutes, Model, WorkStage};
use tellmark_language::words::{self, reaches};

/// One job of the plan, with the parts that it is done for.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Index of the job in the model.
    pub job: usize,
    /// The parts for which it is certain.
    pub certain: Vec<String>,
    /// The same parts, as core counts them.
    pub certain_parts: Vec<usize>,
    /// The parts for which it is not known yet, each with the chance that it will
    /// be called for, where that can be said.
    pub perhaps: Vec<(String, Option<f64>)>,
    /// Only other jobs need it: this one, by its index.
    pub needed_by: Option<usize>,
    /// What must come before it, and why.
    pub after: Vec<After>,
    /// Minutes that must have been waited for before it, least and most.
    pub waits: [u32; 2],
    /// Where in the whole work it belongs.
    pub stage: WorkStage,
    /// What the owner said of it, once for each answer that concerns its parts.
    pub agreed: Vec<Told<Marked>>,
    /// Whether there is a part for which the owner has not been asked yet and must be: one for
    /// which it is certain, where there are such.
    pub to_ask: bool,
    /// The same of a part for which it is only perhaps called for.
    asks_perhaps: bool,
    /// Parts that the owner wants left alone and that it would touch.
    pub left: Vec<Told<Left>>,
    /// Cautions that must be heeded here, as indices into the plan's list.
    pub cautions: Vec<usize>,
    /// What it has to do with jobs that stand in the place of one another.
    pub turns: Vec<Turned>,
    /// Parts on which one rung of a ladder is called for, or likely enough to be, and it is not
    /// known which.
    pub one_of: Vec<OneOf>,
}

impl Step {
    /// Notes that the owner is to be asked, for a part for which it is certain or not.
    fn ask(&mut self, truth: Truth) {
        match truth {
            Truth::True => self.to_ask = true,
            Truth::False | Truth::NotKnown => self.asks_perhaps = true,
        }
    }
}

/// A ladder of which one rung is called for on a part, or likely enough to be.
#[derive(Clone, Debug, PartialEq)]
pub struct OneOf {
    /// The part.
    pub part: String,
    /// Index of the ladder in the model.
    pub ladder: usize,
    /// The chance that one of its rungs is called for; `None` if it is certain.
    pub chance: Option<f64>,
}

/// Work of one's own that is to be done, wherever in the order it belongs.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct OwnStep {
    /// What, in the words of whoever plans it.
    pub job: String,
    /// Where it is still to be done.
    pub parts: Vec<String>,
    /// The minutes that it takes on each part.
    pub takes: Minutes,
    /// The line of the record, from 1.
    pub line: usize,
}

/// A job that comes before, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct After {
    /// Index of the job that comes before.
    pub job: usize,
    /// In the rules' own words; empty if they do not say.
    pub because: String,
    /// How it says so.
    pub force: Force,
}

/// The plan of a piece.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WorkPlan {
    /// What to do, in order.
    pub steps: Vec<Step>,
    /// Work of one's own that is to be done as well.
    pub own: Vec<OwnStep>,
    /// What it takes.
    pub times: Times,
    /// Advice that it goes against: the job that comes too early by it, and what
    /// it should come after.
    pub against: Vec<(usize, After)>,
    /// Jobs that are called for and that the owner will not have, with the parts.
    pub refused: Vec<(usize, Vec<String>)>,
    /// Jobs that are called for and cannot be done, because a job that must come first
    /// was refused.
    pub not_done: Vec<NotDone>,
    /// What the owner wants left alone, with the jobs that it stops.
    pub left_alone: Vec<LeftAlone>,
    /// Jobs that the rules never plan together.
    pub at_odds: Vec<AtOdds>,
    /// Cautions that hold.
    pub cautions: Vec<Caution>,
    /// Set if the answers cannot all be true; then there is no plan.
    pub clash: Option<Clash>,
}

impl WorkPlan {
    /// Takes over the chances of a quotation, so that the same is said of a job in both.
    pub fn go_by(&mut self, quote: &Quote, model: &Model) {
        for step in &mut self.steps {
            let Some(job) = model.jobs.get(step.job) else {
                continue;
            };
            for (part, chance) in &mut step.perhaps {
                let mut items = quote.items.iter();
                let item = items.find(|item| item.job == job.name && item.part == *part);
                // Of several jobs of which one is done the quotation counts the longest.
                let item = item.filter(|item| !item.longest_of_several);
                if let Some(known) = item.and_then(|item| item.chance) {
                    *chance = Some(known);
                }
            }
        }
    }

    /// Whether anything is left to do that is called for, or that somebody planned.
    #[must_use]
    pub fn is_left(&self) -> bool {
        !self.own.is_empty() || self.steps.iter().any(|step| !step.certain.is_empty())
    }

    /// Whether nothing at all is left to do, not even perhaps.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.own.is_empty() && self.steps.is_empty()
    }
}

/// A job that is called for and cannot be done.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct NotDone {
    /// The job.
    pub job: String,
    /// The parts that it would be done for, as far as that is certain; if it is of none, those for
    /// which it may be called for.
    pub parts: Vec<String>,
    /// Whether it is certain that it would be called for.
    pub is_certain: bool,
    /// The job that must come first and was refused.
    pub refused: String,
    /// It was not refused by its name: what it would be done on must be left alone.
    pub left_alone: bool,
}

/// What the owner wants left alone, with the jobs that it stops.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct LeftAlone {
    /// The parts, in words.
    pub parts: Vec<String>,
    /// Why; may be empty.
    pub because: String,
    /// The jobs that are called for or likely, and not done, each with its part.
    pub jobs: Vec<String>,
    /// How many others are only perhaps called for there.
    pub perhaps: usize,
}

impl LeftAlone {
    /// "the top (the rings are remembered); not done there: …".
    #[must_use]
    pub fn in_words(&self) -> String {
        let because = match self.because.as_str() {
            "" => String::new(),
            because => format!(" ({because})"),
        };
        let parts = words::list(&self.parts);
        format!("{parts}{because}; not done there: {}", self.what())
    }

    /// "clear the white rings: the top and 3 jobs that are only perhaps called for".
    #[must_use]
    pub fn what(&self) -> String {
        let mut what = self.jobs.clone();
        match self.perhaps {
            0 => {}
            1 => what.push("a job that is only perhaps called for".to_owned()),
            some => what.push(format!("{some} jobs that are only perhaps called for")),
        }
        words::list(&what)
    }
}

impl NotDone {
    /// "refix the back: the back; not done, since …".
    #[must_use]
    pub fn in_words(&self) -> String {
        let parts = words::list(&self.parts);
        format!("{}: {parts}; {}", self.job, self.reason())
    }

    /// "not done, since \"draw the nails\" was refused".
    #[must_use]
    pub fn reason(&self) -> String {
        match self.left_alone {
            true => format!(
                "not done, since \"{}\" is on what is left alone",
                self.refused
            ),
            false => format!("not done, since \"{}\" was refused", self.refused),
        }
    }
}

impl WorkPlan {
    /// How one job comes to stand before another: the fewest jobs on the way to
    /// `last`, each with what it comes after and why; the first of them comes after
    /// `first`. `None` if nothing ties `last` to coming after `first`.
    #[must_use]
    pub fn way(&self, first: usize, last: usize) -> Option<Vec<(usize, &After)>> {
        let after = |job: usize| {
            let step = self.steps.iter().find(|step| step.job == job);
            step.into_iter().flat_map(|step| &step.after)
        };
        // For each job that is reached, the one it was reached from and why.
        let mut reached: BTreeMap<usize, (usize, &After)> = BTreeMap::new();
        let mut next = VecDeque::from([last]);
        while let Some(job) = next.pop_front() {
            for reason in after(job) {
                if reason.job != last && !reached.contains_key(&reason.job) {
                    reached.insert(reason.job, (job, reason));
                    next.push_back(reason.job);
                }
            }
        }
        let mut way = Vec::new();
        let mut at = first;
        while at != last {
            let &(job, reason) = reached.get(&at)?;
            way.push((job, reason));
            at = job;
        }
        Some(way)
    }
}

/// Works out the plan: what is still to be done.
///
/// # Errors
/// If the piece cannot be set up.
pub fn plan(
    set_up: &SetUp<'_>,
    pack: Pack<'_>,
    progress: &Progress,
) -> Result<WorkPlan, SetUpError> {
    let mut room = Room::<UFloat>::default();
    let mut case = set_up.case(pack, &mut room)?;
    if let Some(clash) = case.clash() {
        return Ok(WorkPlan {
            clash: Some(clash),
            ..WorkPlan::default()
        });
    }
    let refused = RefCell::new(BTreeSet::new());
    let stopped = RefCell::new(BTreeSet::new());
    let status = |job: u16, part: usize| {
        let job = usize::from(job);
        let status = progress.status(job, part);
        match status {
            Status::Refused if progress.is_refused(job, part) => {
                refused.borrow_mut().insert((job, part));
            }
            Status::Refused => {
                stopped.borrow_mut().insert((job, part));
            }
            Status::ToDo | Status::Done => {}
        }
        status
    };
    let mut work_room = WorkRoom::of(&pack);
    let done = progress.to_be_followed();
    work_room.grow(&mut case, &status, &done)?;
    let mut cautions = case.cautions(set_up);
    leave_out_ended(set_up.model, progress, &mut cautions);
    let raised = case.raised();
    let turns = Turns::of(set_up, &mut case);
    let rungs = open_rungs(set_up, &mut case);
    let order = case
        .inspection
        .order(work_room.memory(), status, &done)
        .map_err(|_| SetUpError::TooManyParts)?;
    let part_name = |piece: &Piece<'_>, part: usize| {
        let reference = part_ref(&set_up.built.places, piece.parts(), part);
        words::part_name(set_up.model, &reference)
    };
    let mut at_odds_here = always_at_odds(&order, &pack);
    at_odds_here.extend(at_odds(set_up, &mut case, order.tasks(), &part_name));
    let piece = case.inspection.piece();
    let name = |part: usize| part_name(piece, part);
    let bites: Vec<(usize, usize)> = raised
        .iter()
        .filter_map(|call| {
            let caution = set_up.model.said_caution(call.sentence);
            let is_it = |c: &Caution| c.caution == caution && c.indices.contains(&call.part);
            let listed = cautions.iter().position(is_it)?;
            let bites = order.bites_at(piece, call.part);
            // It is taken care of at the latest when the job is done that ends it.
            let ends = ends_with(set_up.model, cautions.get(listed)?).and_then(|job| {
                let is_there = |part: usize| progress.is_within(call.part, part);
                let mut tasks = order.tasks().iter();
                tasks.position(|task| {
                    usize::from(task.job) == job && is_there(usize::from(task.part))
                })
            });
            Some((bites.into_iter().chain(ends).min()?, listed))
        })
        .collect();
    let tasks = Tasks {
        order: &order,
        pack: &pack,
        set_up,
        turns: &turns,
        rungs,
        progress,
    };
    let own = own_steps(progress);
    let mut times = order.times(&pack);
    for own in &own {
        let on = u32::try_from(own.parts.len()).unwrap_or(u32::MAX);
        for minutes in &mut times.certain {
            *minutes = minutes.saturating_add(own.takes.saturating_mul(on));
        }
    }
    Ok(WorkPlan {
        steps: tasks.steps(&bites, &name),
        own,
        refused: by_job(refused.take(), &name),
        not_done: not_done(set_up.model, &order, progress, &name),
        left_alone: left_alone(
            (set_up, &turns, &tasks.rungs),
            progress,
            &order,
            &stopped.take(),
            &name,
        ),
        times,
        against: order
            .against(&pack)
            .map(|(job, reason)| (usize::from(job), after(&pack, &reason)))
            .collect(),
        at_odds: at_odds_here,
        cautions,
        clash: None,
    })
}

/// Work of one's own that is still to be done, each with all of its parts.
fn own_steps(progress: &Progress) -> Vec<OwnStep> {
    let mut steps: Vec<OwnStep> = Vec::new();
    for (own, _, part) in progress.own_to_do() {
        match steps.iter_mut().find(|step| step.line == own.line) {
            Some(step) => step.parts.push(part.to_owned()),
            None => steps.push(OwnStep {
                job: own.what.job.clone(),
                parts: vec![part.to_owned()],
                takes: own.what.takes,
                line: own.line,
            }),
        }
    }
    steps
}

/// Jobs with the names of their parts, from pairs of job and part in order.
fn by_job(
    pairs: BTreeSet<(usize, usize)>,
    name: &dyn Fn(usize) -> String,
) -> Vec<(usize, Vec<String>)> {
    let mut jobs: Vec<(usize, Vec<String>)> = Vec::new();
    for (job, part) in pairs {
        match jobs.last_mut().filter(|(last, _)| *last == job) {
            Some((_, parts)) => parts.push(name(part)),
            None => jobs.push((job, vec![name(part)])),
        }
    }
    jobs
}

/// What cannot be done, with what stands in its way.
fn not_done(
    model: &Model,
    order: &Order<'_>,
    progress: &Progress,
    name: &dyn Fn(usize) -> String,
) -> Vec<NotDone> {
    let job_name = |job: u16| {
        let job = model.jobs.get(usize::from(job));
        job.map_or_else(String::new, |job| job.name.clone())
    };
    let mut all: Vec<NotDone> = Vec::new();
    for task in order.barred() {
        let Some(by) = task.barred_by else {
            continue;
        };
        let refused = job_name(by);
        let mut marks = progress.marks.iter();
        let is_refusal = |told: &Told<Marked>| {
            told.what.mark == Mark::Refused && told.what.index == Some(usize::from(by))
        };
        let left_alone = !marks.any(is_refusal);
        let (job, part) = (job_name(task.job), name(task.part.into()));
        let is_certain = task.truth == Truth::True;
        let mut alike = all.iter_mut();
        match alike.find(|known| (&known.job, &known.refused) == (&job, &refused)) {
            Some(known) if known.is_certain == is_certain => known.parts.push(part),
            Some(known) if known.is_certain => {}
            Some(known) => (known.parts, known.is_certain) = (vec![part], true),
            None => all.push(NotDone {
                job,
                parts: vec![part],
                is_certain,
                refused,
                left_alone,
            }),
        }
    }
    all
}

/// What must be left alone, with the jobs that are called for there.
fn left_alone(
    (set_up, turns, rungs): (&SetUp<'_>, &Turns, &Rungs),
    progress: &Progress,
    order: &Order<'_>,
    stopped: &BTreeSet<(usize, usize)>,
    name: &dyn Fn(usize) -> String,
) -> Vec<LeftAlone> {
    let mut all: Vec<LeftAlone> = Vec::new();
    for &(job, part) in stopped {
        let said = set_up.model.jobs.get(job);
        let said = said.map_or("", |job| job.name.as_str());
        let said = format!("{said}: {}", name(part));
        let is_it = |task: &&Task| (usize::from(task.job), usize::from(task.part)) == (job, part);
        let is_likely = |task: &Task| {
            let chance = task.chance.map(|share| share.as_f64());
            let mut stands_in = Vec::new();
            turns.tell(set_up, task, "", &mut stands_in);
            task.truth == Truth::True
                || !stands_in.is_empty()
                || rungs.contains_key(&(job, part))
                || chance.is_some_and(|chance| reaches(chance, LISTED))
        };
        let is_called = match order.refused().find(is_it) {
            Some(task) => is_likely(task),
            // What another job needs is called for if that one is.
            None => {
                let mut barred = order.barred();
                barred.any(|task| task.barred_by.map(usize::from) == Some(job) && is_likely(task))
            }
        };
        for told in progress.stops(job, part) {
            let (parts, because) = (&told.what.parts.names, &told.what.because);
            let same = |known: &LeftAlone| known.parts == *parts && known.because == *because;
            let at = all.iter().position(same).unwrap_or_else(|| {
                all.push(LeftAlone {
                    parts: parts.clone(),
                    because: because.clone(),
                    jobs: Vec::new(),
                    perhaps: 0,
                });
                all.len() - 1
            });
            match is_called {
                true => all[at].jobs.push(said.clone()),
                false => all[at].perhaps += 1,
            }
        }
    }
    all
}

fn after(pack: &Pack<'_>, reason: &Reason) -> After {
    After {
        job: usize::from(reason.before),
        because: pack.text(reason.because).to_owned(),
        force: reason.force,
    }
}

/// The tasks of an order, to be told as steps.
struct Tasks<'t> {
    order: &'t Order<'t>,
    pack: &'t Pack<'t>,
    set_up: &'t SetUp<'t>,
    turns: &'t Turns,
    rungs: Rungs,
    progress: &'t Progress,
}

impl Tasks<'_> {
    /// The tasks of one job stand together, and make one step.
    fn steps(&self, bites: &[(usize, usize)], name: &dyn Fn(usize) -> String) -> Vec<Step> {
        let mut steps: Vec<Step> = Vec::new();
        for (at, task) in self.order.tasks().iter().enumerate() {
            if steps
                .last()
                .is_none_or(|step| step.job != usize::from(task.job))
            {
                steps.push(self.begun(task.job, task.needed_by));
            }
            if let Some(step) = steps.last_mut() {
                self.take_in(step, task, name(usize::from(task.part)));
                for &(_, caution) in bites.iter().filter(|(task, _)| *task == at) {
                    add_once(&mut step.cautions, caution);
                }
            }
        }
        for step in steps.iter_mut().filter(|step| step.certain.is_empty()) {
            step.to_ask |= step.asks_perhaps;
        }
        steps
    }

    fn begun(&self, job: u16, needed_by: Option<u16>) -> Step {
        let stage = self
            .set_up
            .model
            .jobs
            .get(usize::from(job))
            .map(|job| job.stage);
        Step {
            job: usize::from(job),
            certain: Vec::new(),
            certain_parts: Vec::new(),
            perhaps: Vec::new(),
            needed_by: needed_by.map(usize::from),
            after: self
                .order
                .reasons(self.pack, job)
                .map(|reason| after(self.pack, &reason))
                .collect(),
            waits: self.order.waits_before(job).unwrap_or_default().certain,
            stage: stage.unwrap_or_default(),
            agreed: Vec::new(),
            to_ask: false,
            asks_perhaps: false,
            left: Vec::new(),
            cautions: Vec::new(),
            turns: Vec::new(),
            one_of: Vec::new(),
        }
    }

    fn take_in(&self, step: &mut Step, task: &Task, name: String) {
        let part = usize::from(task.part);
        if task.needed_by.is_none() {
            step.needed_by = None;
        }
        self.turns.tell(self.set_up, task, &name, &mut step.turns);
        let rung = self.rungs.get(&(step.job, part));
        if let Some(open) = rung.filter(|_| task.truth != Truth::True) {
            step.one_of.push(OneOf {
                part: name.clone(),
                ladder: open.ladder,
                chance: open.chance,
            });
        }
        match task.truth {
            Truth::True => {
                step.certain.push(name);
                step.certain_parts.push(part);
            }
            _ => {
                let chance = task.chance.map(|share| share.as_f64());
                step.perhaps.push((name, chance));
            }
        }
        match self.progress.decision(step.job, part) {
            Some(agreed) => add_once(&mut step.agreed, agreed.clone()),
            None if !self.pack.job(step.job).ask_owner => {}
            None => step.ask(task.truth),
        }
        let touched = self.progress.touches(step.job, part);
        // Nobody works on what is to be left alone without asking.
        if !touched.is_empty() {
            step.ask(task.truth);
        }
        for left in self.progress.leave(part).chain(touched) {
            add_once(&mut step.left, left.clone());
        }
    }
}

fn add_once<T: PartialEq>(all: &mut Vec<T>, one: T) {
    if !all.contains(&one) {
        all.push(one);
    }
}
