//! What calls for jobs: plans as they were written, and the rungs of ladders, each of
//! which is a plan with a condition of its own.

use tellmark_language::model::{
    Condition, JobId, KindId, Ladder, Mark, Model, Predicate, Reach, SourceId, Test, Ticks,
};

/// A plan, or a rung of a ladder.
#[derive(Clone, Debug, PartialEq)]
pub struct Call {
    /// The kind of part it is about.
    pub subject: KindId,
    /// The job it calls for.
    pub job: JobId,
    /// When it does.
    pub when: Condition,
    /// Where it comes from.
    pub source: Option<SourceId>,
    /// The other jobs of the same ladder.
    pub others: Vec<JobId>,
}

/// Everything that calls for jobs, in the order in which a pack lists it.
#[must_use]
pub fn calls(model: &Model) -> Vec<Call> {
    let plans = model.plans.iter().map(|plan| Call {
        subject: plan.subject,
        job: plan.job,
        when: plan.when.clone(),
        source: plan.source,
        others: Vec::new(),
    });
    let rungs = model.ladders.iter().flat_map(|ladder| rungs(model, ladder));
    plans.chain(rungs).collect()
}

/// The rungs of a ladder that call for a job: from one tick above the rung below, up
/// to and including its own mark.
fn rungs(model: &Model, ladder: &Ladder) -> Vec<Call> {
    let ends = ladder.rungs.iter().map(|(to, job)| (Some(*to), *job));
    let ends: Vec<_> = ends.chain([(None, ladder.more)]).collect();
    let jobs: Vec<JobId> = ends.iter().filter_map(|(_, job)| *job).collect();
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
        calls.push(Call {
            subject: model.signs[ladder.sign.index()].kind,
            job,
            when: Condition::Test(Test {
                whose: Reach::Own,
                what,
                at: ladder.at,
            }),
            source: ladder.source,
            others: jobs.iter().copied().filter(|&other| other != job).collect(),
        });
    }
    calls
}
