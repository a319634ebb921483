//! What calls for jobs: plans as they were written, and the rungs of ladders, each of
//! which is a plan with a condition of its own.
//!
//! **One job in the place of another** (`When …, instead of … plan to …`) is done here and
//! nowhere else. Each call for the replaced job becomes two: one for it, where what must be
//! so is not, and one for the other job, where it is. That one may be replaced in its turn.
//! Where several sentences replace one job, it is called for where none of them holds, and
//! each other job where its own sentence does.

use crate::meaning::{Opposite, meaning, tests};
use crate::numbers::numbers;
use tellmark_language::model::{
    Condition, JobId, KindId, Ladder, Mark, Model, PIECE, Predicate, Reach, SourceId, StandIn,
    Test, Ticks,
};
use tellmark_language::span::Span;

/// What a sentence with "instead of" has to do with a call.
#[derive(Clone, Debug, PartialEq)]
pub struct Turn {
    /// Which of the model's.
    pub stand_in: usize,
    /// The owner that its condition is about; `None`: the part itself.
    pub owner: Option<KindId>,
    /// Its condition.
    pub when: Condition,
    /// Whether that must be so for this call, rather than not.
    pub is_so: bool,
}

/// A plan, or a rung of a ladder.
#[derive(Clone, Debug, PartialEq)]
pub struct Call {
    /// The kind of part it is about.
    pub subject: KindId,
    /// The job it calls for.
    pub job: JobId,
    /// When it does, if there were no jobs in the place of others.
    pub when: Condition,
    /// What else must be so, and not be so, since one job stands in the place of another.
    pub turns: Vec<Turn>,
    /// Where it comes from.
    pub source: Option<SourceId>,
    /// The plan or the ladder that it comes from, by its number, the ladders after the plans.
    /// Of its calls about one part only one comes true, unless several sentences replace
    /// one job.
    pub written: usize,
}

impl Call {
    /// Where the plan or the ladder that it comes from was written.
    #[must_use]
    pub fn at(&self, model: &Model) -> Span {
        let ladder = self.written.checked_sub(model.plans.len());
        match ladder {
            Some(ladder) => model.ladders[ladder].at,
            None => model.plans[self.written].at,
        }
    }
}

/// The most sentences with "instead of" that may stand one behind the other.
pub const MOST_BEHIND: usize = 32;

/// Everything that calls for jobs, in the order in which a pack lists it.
#[must_use]
pub fn calls(model: &Model) -> Vec<Call> {
    let replacing = Replacing::new(model);
    let mut all = Vec::new();
    for call in written(model) {
        for call in replacing.for_each_piece(call) {
            replacing.replaced(call, &mut Vec::new(), &mut all);
        }
    }
    all
}

/// How many calls there are, without listing them; as many as a number holds if there are
/// more. `None` if more than [`MOST_BEHIND`] sentences stand one behind the other.
#[must_use]
pub fn number_of_calls(model: &Model) -> Option<usize> {
    let replacing = Replacing::new(model);
    let of_job = replacing.calls_for_one()?;
    let pieces = model.kinds.iter().filter(|kind| kind.is_piece).count();
    let number = written(model).into_iter().map(|call| {
        let apart = if replacing.is_apart(&call) { pieces } else { 1 };
        apart.saturating_mul(of_job.get(call.job.index()).copied().unwrap_or(1))
    });
    Some(number.fold(0, usize::saturating_add))
}

/// The sentences with "instead of", by the job that they replace.
struct Replacing<'m> {
    model: &'m Model,
    by_job: Vec<Vec<usize>>,
    /// Whether one of them is about one kind of piece.
    of_one_piece: bool,
}

impl<'m> Replacing<'m> {
    fn new(model: &'m Model) -> Self {
        let mut by_job = vec![Vec::new(); model.jobs.len()];
        for (number, one) in model.stand_ins.iter().enumerate() {
            by_job[one.replaced.index()].push(number);
        }
        let is_piece = |kind: KindId| kind != PIECE && model.kinds[kind.index()].is_piece;
        Self {
            model,
            by_job,
            of_one_piece: model.stand_ins.iter().any(|one| is_piece(one.subject)),
        }
    }

    /// How many calls one call for each job comes to at most: itself, and those for every
    /// job in its place. `None` if it does not come to an end soon enough.
    fn calls_for_one(&self) -> Option<Vec<usize>> {
        let mut numbers = vec![1_usize; self.by_job.len()];
        for _ in 0..=MOST_BEHIND {
            let in_its_place = |number: &usize| numbers[self.model.stand_ins[*number].job.index()];
            let longer: Vec<usize> = self
                .by_job
                .iter()
                .map(|others| {
                    others
                        .iter()
                        .map(in_its_place)
                        .fold(1, usize::saturating_add)
                })
                .collect();
            if longer == numbers {
                return Some(numbers);
            }
            numbers = longer;
        }
        None
    }

    /// Where a sentence with "instead of" is about one kind of piece, a call about any piece
    /// is made for each kind apart.
    fn for_each_piece(&self, call: Call) -> Vec<Call> {
        if !self.is_apart(&call) {
            return vec![call];
        }
        let pieces = numbers().map(KindId).zip(&self.model.kinds);
        let pieces = pieces.filter(|(kind, record)| *kind != PIECE && record.is_piece);
        let apart = pieces.map(|(subject, _)| Call {
            subject,
            ..call.clone()
        });
        apart.collect()
    }

    /// Those that replace a job.
    fn of(&self, job: JobId) -> &[usize] {
        self.by_job.get(job.index()).map_or(&[], Vec::as_slice)
    }

    fn is_apart(&self, call: &Call) -> bool {
        call.subject == PIECE && self.of_one_piece && !self.of(call.job).is_empty()
    }

    /// A call, and those for what stands in the place of its job. `way` has the jobs that
    /// were replaced on the way to it: rules that go in a circle are refused, so it is only
    /// a guard.
    fn replaced(&self, mut call: Call, way: &mut Vec<JobId>, all: &mut Vec<Call>) {
        let model = self.model;
        let sentences = self.of(call.job).iter();
        let turns: Vec<(Turn, &StandIn)> = sentences
            .map(|&stand_in| (stand_in, &model.stand_ins[stand_in]))
            .filter(|(_, one)| !way.contains(&one.job) && way.len() <= MOST_BEHIND)
            .filter_map(|(stand_in, one)| {
                let turn = Turn {
                    stand_in,
                    owner: seen_from(model, call.subject, one.subject)?,
                    when: one.when.clone(),
                    is_so: true,
                };
                Some((turn, one))
            })
            .collect();
        let before = call.turns.clone();
        for (turn, _) in &turns {
            call.turns.push(Turn {
                is_so: false,
                ..turn.clone()
            });
        }
        way.push(call.job);
        let (subject, when, written) = (call.subject, call.when.clone(), call.written);
        all.push(call);
        for (turn, one) in turns {
            let call = Call {
                subject,
                job: one.job,
                when: when.clone(),
                turns: before.iter().cloned().chain([turn]).collect(),
                source: one.source,
                written,
            };
            self.replaced(call, way, all);
        }
        way.pop();
    }
}

/// Plans and rungs as they were written.
#[must_use]
pub fn written(model: &Model) -> Vec<Call> {
    let plans = model.plans.iter().enumerate();
    let plans = plans.map(|(written, plan)| Call {
        subject: plan.subject,
        job: plan.job,
        when: plan.when.clone(),
        turns: Vec::new(),
        source: plan.source,
        written,
    });
    let ladders = (model.plans.len()..).zip(&model.ladders);
    let rungs = ladders.flat_map(|(written, ladder)| rungs(model, written, ladder));
    plans.chain(rungs).collect()
}

/// From where a condition about one kind of part is looked at, for a call about another:
/// the part itself, or its owner of that kind. `None` if the call's parts are neither.
#[must_use]
pub fn seen_from(model: &Model, part: KindId, subject: KindId) -> Option<Option<KindId>> {
    let is_piece = |kind: KindId| kind == PIECE || model.kinds[kind.index()].is_piece;
    if part == subject || (subject == PIECE && is_piece(part)) {
        return Some(None);
    }
    model.is_or_is_in(part, subject).then_some(Some(subject))
}

/// Whether a condition asks about parts of what it is about.
#[must_use]
pub fn asks_about_parts(condition: &Condition) -> bool {
    let mut asks = false;
    tests(condition, &mut |test| {
        asks |= matches!(test.whose, Reach::Down { .. } | Reach::Others { .. });
    });
    asks
}

/// What the condition of a call comes to in a form.
pub fn holds<M: Opposite>(form: &mut M, part: &M::Part, call: &Call) -> M::Value {
    let mut values = vec![meaning(form, part, &call.when)];
    for turn in &call.turns {
        values.push(turns(form, part, turn));
    }
    form.all(values)
}

/// What one sentence with "instead of" has to do with it: of what the part is not built into
/// nothing is true, so nothing is replaced there.
pub fn turns<M: Opposite>(form: &mut M, part: &M::Part, turn: &Turn) -> M::Value {
    let so = match turn.owner {
        None => meaning(form, part, &turn.when),
        Some(kind) => match form.owner(part, kind) {
            Some(owner) => meaning(form, &owner, &turn.when),
            None => form.known(false),
        },
    };
    if turn.is_so { so } else { form.not(so) }
}

/// The rungs of a ladder that call for a job: from one tick above the rung below, up
/// to and including its own mark.
fn rungs(model: &Model, written: usize, ladder: &Ladder) -> Vec<Call> {
    let ends = ladder.rungs.iter().map(|(to, job)| (Some(*to), *job));
    let ends = ends.chain([(None, ladder.more)]);
    let mut from = Ticks::MIN;
    let mut calls = Vec::new();
    for (to, job) in ends {
        let mark = Mark {
            at_least: from,
            at_most: to,
        };
        from = to.map_or(Ticks::MAX, |to| to.saturating_add(1));
        let Some(job) = job else { continue };
        let what = Predicate::Measure {
            sign: ladder.sign,
            mark,
            yes: true,
        };
        let passed = Condition::Test(Test {
            whose: Reach::Own,
            what,
            at: ladder.at,
        });
        let (subject, when) = match &ladder.when {
            Some((subject, when)) => (*subject, Condition::All(vec![when.clone(), passed])),
            None => (model.signs[ladder.sign.index()].kind, passed),
        };
        calls.push(Call {
            subject,
            job,
            when,
            turns: Vec::new(),
            source: ladder.source,
            written,
        });
    }
    calls
}
