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
//! * What is done already, or refused by the owner, is in no world still to be done,
//!   and nothing is done for its sake.
//! * Some plans hang on a reading, or a sign, to which the rules give no chance. As
//!   long as it is not known, such a plan calls for its job where one of the faults
//!   that the job mends is there; of the rungs of one ladder, that with the longest
//!   job. If the job mends nothing that could be there, nobody can say: it is
//!   [`Task::cannot_say`], and is left out of all figures.

use tellmark_core::number::Number;
use tellmark_core::plan::done_for;
use tellmark_core::truth::Truth;

use tellmark_compile::Built;
use tellmark_compile::ground::{Claim, Ground};
use tellmark_compile::set_up::Case;
use tellmark_core::inspection::Inspection;
use tellmark_core::pack::{Form, Pack};
use tellmark_core::piece::Answer;
use tellmark_language::model::{
    Asks, Condition, HowMany, JobId, KindId, Mark, Model, Predicate, Reach, SignId, Test, Ticks,
};

/// A job that may be done, for one part.
#[derive(Clone, Debug, PartialEq)]
pub struct Task {
    /// The job.
    pub job: JobId,
    /// The part that it is done for.
    pub part: usize,
    /// Where the plans call for it: claims about parts, any of which is enough.
    pub when: Vec<(usize, Claim)>,
    /// The tasks that need it done first.
    pub needed_by: Vec<usize>,
    /// The order of work has it, certain or perhaps.
    pub is_planned: bool,
    /// A plan may call for it, and the rules do not say how likely that is.
    pub cannot_say: bool,
    /// A plan that hangs on a reading may call for it, and this longer job of the
    /// same ladder is counted in its stead as long as nobody has measured.
    pub counted_as: Option<JobId>,
}

/// Everything that may have to be done on a piece.
pub(super) fn tasks<N: Number>(
    model: &Model,
    built: &Built,
    ground: &Ground,
    case: &mut Case<'_, N>,
    is_wanted: &dyn Fn(u16, usize) -> bool,
) -> Vec<Task> {
    let mut list = List {
        model,
        pack: *case.inspection.pack(),
        is_wanted,
        tasks: Vec::new(),
    };
    let plans = plans(model);
    let mut calls = Vec::new();
    for (sentence, plan) in plans.iter().enumerate() {
        let condition = list.pack.plan(sentence).condition;
        for part in 0..ground.parts.len() {
            if ground.is_of(&built.places, part, plan.subject) {
                let truth = case.inspection.holds(condition, part);
                calls.push((plan, part, truth.unwrap_or_default()));
            }
        }
    }
    let judge = Judge {
        model,
        built,
        ground,
        inspection: &case.inspection,
    };
    // First what the order of work has, so that everything goes where it has it.
    for planned in [true, false] {
        for (plan, part, truth) in &calls {
            if (*truth != Truth::False) == planned {
                list.call(&judge, plan, *part, planned);
            }
        }
        list.add_what_they_need(&judge, planned);
    }
    list.tasks
}

/// A plan, or a rung of a ladder.
struct Planned {
    subject: KindId,
    job: JobId,
    when: Condition,
    /// Other jobs of the same ladder.
    others: Vec<JobId>,
}

/// All plans, in the order in which a pack has them.
fn plans(model: &Model) -> Vec<Planned> {
    let plans = model.plans.iter().map(|plan| Planned {
        subject: plan.subject,
        job: plan.job,
        when: plan.when.clone(),
        others: Vec::new(),
    });
    let mut all: Vec<Planned> = plans.collect();
    for ladder in &model.ladders {
        let rungs = ladder.rungs.iter().map(|(to, job)| (Some(*to), *job));
        let rungs: Vec<_> = rungs.chain([(None, ladder.more)]).collect();
        let jobs: Vec<JobId> = rungs.iter().filter_map(|(_, job)| *job).collect();
        let mut from = Ticks::MIN;
        for (to, job) in rungs {
            if let Some(job) = job {
                let what = Predicate::Measure {
                    sign: ladder.sign,
                    mark: Mark {
                        at_least: from,
                        at_most: to,
                    },
                    yes: true,
                };
                all.push(Planned {
                    subject: model.signs[ladder.sign.index()].kind,
                    job,
                    when: Condition::Test(Test {
                        whose: Reach::Own,
                        what,
                        at: ladder.at,
                    }),
                    others: jobs.iter().copied().filter(|&other| other != job).collect(),
                });
            }
            from = to.map_or(Ticks::MAX, |to| to.saturating_add(1));
        }
    }
    all
}

struct List<'m> {
    model: &'m Model,
    pack: Pack<'m>,
    /// Whether a job is still to be done for a part.
    is_wanted: &'m dyn Fn(u16, usize) -> bool,
    tasks: Vec<Task>,
}

impl List<'_> {
    fn call<N: Number>(
        &mut self,
        judge: &Judge<'_, N>,
        plan: &Planned,
        part: usize,
        is_planned: bool,
    ) {
        let surely = judge.condition(part, &plan.when, false);
        let perhaps = judge.condition(part, &plan.when, true);
        let mut when = surely.clone();
        let mut cannot_say = surely != perhaps;
        let mut counted_as = None;
        if cannot_say {
            let all = std::iter::once(plan.job).chain(plan.others.iter().copied());
            let mending = all.filter(|&job| judge.mends(part, job) != Claim::Known(false));
            if let Some(longest) = mending.max_by_key(|&job| self.length(job)) {
                cannot_say = false;
                if longest == plan.job {
                    when = any(vec![surely, judge.mends(part, longest)]);
                } else {
                    counted_as = Some(longest);
                }
            }
        }
        if when == Claim::Known(false) && !cannot_say && counted_as.is_none() {
            return;
        }
        let at = done_for(&self.pack, judge.inspection.piece(), plan.job.0, part);
        if !(self.is_wanted)(plan.job.0, at) {
            return;
        }
        let task = self.task(plan.job, at, is_planned);
        let task = &mut self.tasks[task];
        task.when.push((part, when));
        task.cannot_say |= cannot_say;
        task.counted_as = task.counted_as.or(counted_as);
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
                cannot_say: false,
                counted_as: None,
            });
            self.tasks.len() - 1
        })
    }

    fn add_what_they_need<N: Number>(&mut self, judge: &Judge<'_, N>, is_planned: bool) {
        let mut at = 0;
        while at < self.tasks.len() {
            let (job, part) = (self.tasks[at].job, self.tasks[at].part);
            let has_its_own = |t: &Task| t.needed_by.contains(&at);
            for &first in &self.model.jobs[job.index()].first {
                if self.tasks.iter().any(|t| t.job == first && has_its_own(t)) {
                    continue;
                }
                let goes = self.needed_for(judge, first, part);
                if !(self.is_wanted)(first.0, goes) {
                    continue;
                }
                let needed = self.task(first, goes, is_planned);
                self.tasks[needed].needed_by.push(at);
            }
            at += 1;
        }
    }

    /// Where a job is done that another one about this part needs: as the order of
    /// work has it.
    fn needed_for<N: Number>(&self, judge: &Judge<'_, N>, job: JobId, part: usize) -> usize {
        let piece = judge.inspection.piece();
        if self.model.jobs[job.index()].once_for.is_some() {
            return done_for(&self.pack, piece, job.0, part);
        }
        let is_done = |&at: &usize| self.tasks.iter().any(|t| (t.job, t.part) == (job, at));
        let mut own_and_owners = std::iter::once(part).chain(piece.owners(part));
        own_and_owners.find(is_done).unwrap_or(part)
    }
}

fn any(parts: Vec<Claim>) -> Claim {
    at_least(1, parts)
}

fn all(parts: Vec<Claim>) -> Claim {
    not(any(parts.into_iter().map(not).collect()))
}

fn not(claim: Claim) -> Claim {
    match claim {
        Claim::Known(value) => Claim::Known(!value),
        Claim::State(state, yes) => Claim::State(state, !yes),
        Claim::Not(inner) => *inner,
        other => Claim::Not(Box::new(other)),
    }
}

/// At least so many of these, what is known worked out.
fn at_least(n: usize, parts: Vec<Claim>) -> Claim {
    let surely = parts.iter().filter(|&p| *p == Claim::Known(true)).count();
    let mut open: Vec<Claim> = parts
        .into_iter()
        .filter(|part| !matches!(part, Claim::Known(_)))
        .collect();
    let n = n.saturating_sub(surely);
    match (n, open.len()) {
        (0, _) => Claim::Known(true),
        (n, there) if there < n => Claim::Known(false),
        (1, 1) => open.remove(0),
        _ => Claim::AtLeast(n, open),
    }
}

/// Turns the condition of a plan into a claim about a world.
struct Judge<'j, N> {
    model: &'j Model,
    built: &'j Built,
    ground: &'j Ground,
    inspection: &'j Inspection<'j, 'j, N>,
}

impl<N: Number> Judge<'_, N> {
    /// The condition as a claim; what the rules give no chance for is taken to help,
    /// or not to.
    fn condition(&self, part: usize, condition: &Condition, helps: bool) -> Claim {
        let each = |parts: &[Condition]| {
            let parts = parts.iter().map(|p| self.condition(part, p, helps));
            parts.collect::<Vec<_>>()
        };
        match condition {
            Condition::All(parts) => all(each(parts)),
            Condition::Any(parts) => any(each(parts)),
            Condition::Test(test) => self.test(part, test, helps),
        }
    }

    fn test(&self, part: usize, test: &Test, helps: bool) -> Claim {
        let places = &self.built.places;
        match &test.whose {
            Reach::Own => self.predicate(part, &test.what, helps),
            Reach::Up(kind) => match self.ground.owner(places, part, *kind) {
                Some(owner) => self.predicate(owner, &test.what, helps),
                None => Claim::Known(helps),
            },
            Reach::Down { path, many } => {
                let parts = self.ground.down(places, part, path);
                let counted = |helps: bool, n: u8| {
                    let claims = parts.iter().map(|&p| self.predicate(p, &test.what, helps));
                    at_least(usize::from(n), claims.collect())
                };
                match *many {
                    HowMany::The | HowMany::Any => counted(helps, 1),
                    HowMany::AtLeast(n) => counted(helps, n),
                    HowMany::Every => {
                        let claims = parts.iter().map(|&p| self.predicate(p, &test.what, helps));
                        all(claims.collect())
                    }
                    HowMany::No => not(counted(!helps, 1)),
                    HowMany::FewerThan(n) => not(counted(!helps, n)),
                    HowMany::Exactly(n) => all(vec![
                        counted(helps, n),
                        not(counted(!helps, n.saturating_add(1))),
                    ]),
                }
            }
        }
    }

    fn predicate(&self, part: usize, what: &Predicate, helps: bool) -> Claim {
        let (claim, yes) = match what {
            Predicate::State { state, yes, .. } => {
                let row = self.built.states.declared(*state);
                (self.state(part, row), *yes)
            }
            Predicate::Measure { sign, mark, yes } => (self.measure(part, *sign, *mark), *yes),
            Predicate::Choice { sign, values, yes } => (self.choice(part, *sign, values), *yes),
            Predicate::Has {
                part: kind,
                mark,
                yes,
            } => (self.has(part, *kind, *mark), *yes),
            Predicate::CannotBeSeen => {
                let record = self.inspection.piece().part(part);
                let hidden = record.is_some_and(|record| record.out_of_sight);
                (Some(Claim::Known(hidden)), true)
            }
        };
        match claim {
            None => Claim::Known(helps),
            Some(claim) if yes => claim,
            Some(claim) => not(claim),
        }
    }

    /// A state of a part: as it was found, else as it is in the world; `None` if it
    /// has no chance.
    fn state(&self, part: usize, row: usize) -> Option<Claim> {
        let pack = self.inspection.pack();
        let record = pack.state(row);
        match self.inspection.piece().truth(pack, part, &record) {
            Truth::True => Some(Claim::Known(true)),
            Truth::False => Some(Claim::Known(false)),
            Truth::NotKnown => {
                let built = self.built;
                let node = self.ground.node(&built.states, &built.places, part, row)?;
                let in_use = self.ground.states[node].in_use;
                in_use.then_some(Claim::State(node, true))
            }
        }
    }

    fn answer(&self, part: usize, sign: SignId) -> Option<Answer> {
        let ask = u16::try_from(self.built.states.ask(sign)).unwrap_or(u16::MAX);
        let piece = self.inspection.piece();
        piece.answer(self.inspection.pack(), part, ask)
    }

    fn measure(&self, part: usize, sign: SignId, mark: Mark) -> Option<Claim> {
        let most = mark.at_most.unwrap_or(Ticks::MAX);
        if let Some(Answer::Reading(x)) = self.answer(part, sign) {
            return Some(Claim::Known(mark.at_least <= x && x <= most));
        }
        let can_be = match &self.model.signs[sign.index()].asks {
            Asks::HowMuch { least, most, .. } => (*least, *most),
            _ => return None,
        };
        if mark.at_least <= can_be.0 && can_be.1 <= most {
            return Some(Claim::Known(true));
        }
        if most < can_be.0 || can_be.1 < mark.at_least {
            return Some(Claim::Known(false));
        }
        self.marks(part, sign, mark)
    }

    /// A mark that the rules give a chance for.
    fn marks(&self, part: usize, sign: SignId, mark: Mark) -> Option<Claim> {
        let within = self.built.states.within(self.model, sign, mark).ok()?;
        let claims = within.into_iter().map(|(row, yes)| {
            let claim = self.state(part, row)?;
            Some(if yes { claim } else { not(claim) })
        });
        Some(all(claims.collect::<Option<Vec<_>>>()?))
    }

    fn choice(&self, part: usize, sign: SignId, values: &[u8]) -> Option<Claim> {
        if let Some(Answer::Value(value)) = self.answer(part, sign) {
            return Some(Claim::Known(values.contains(&value)));
        }
        let claims = values.iter().map(|&value| {
            let row = self.built.states.value(sign, value)?;
            self.state(part, row)
        });
        Some(any(claims.collect::<Option<Vec<_>>>()?))
    }

    fn has(&self, part: usize, kind: KindId, mark: Mark) -> Option<Claim> {
        let (pack, piece) = (self.inspection.pack(), self.inspection.piece());
        let place = usize::from(piece.part(part)?.place);
        let form = Form::HowMany { part: kind.0 };
        let mut asks = pack.asks_of(place);
        let most = mark.at_most.unwrap_or(Ticks::MAX);
        let known = |n: i32| Some(Claim::Known(mark.at_least <= n && n <= most));
        let Some(ask) = asks.find(|&ask| pack.ask(usize::from(ask)).form == form) else {
            let parts = self.ground.down(&self.built.places, part, &[kind]);
            return known(i32::try_from(parts.len()).unwrap_or(i32::MAX));
        };
        match piece.answer(pack, part, ask) {
            Some(Answer::Reading(n)) => known(n),
            _ => {
                let own = self.built.places.kind(place);
                let sign = tellmark_compile::count_sign(self.model, own, kind)?;
                self.marks(part, sign, mark)
            }
        }
    }

    /// One of the states that a job mends is there, on this part.
    fn mends(&self, part: usize, job: JobId) -> Claim {
        let built = self.built;
        let mended = self.model.jobs[job.index()]
            .mends
            .iter()
            .filter_map(|&state| {
                let row = built.states.declared(state);
                // A state that this part does not have is not there.
                self.ground.node(&built.states, &built.places, part, row)?;
                self.state(part, row)
            });
        any(mended.collect())
    }
}
