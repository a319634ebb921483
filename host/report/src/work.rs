//! What is to be done, in order, and what was done.

use super::matter::Matter;
use super::when::noted;
use serde::Serialize;
use std::collections::BTreeMap;
use tellmark_compile::set_up::Caution;
use tellmark_job::advice::{Hangs, LeftAlone, OwnStep, Step, Turned, WorkPlan};
use tellmark_job::limits::limits;
use tellmark_language::model::Minutes;
use tellmark_language::words::{self, capital, figure, list, minutes, minutes_range, some_of};

/// What can hurt somebody, or the piece.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Care {
    /// Stop, rather than take care.
    pub stop: bool,
    /// The parts it is about.
    pub parts: String,
    /// What it says.
    pub text: String,
    /// Where it comes from; may be empty.
    pub source: String,
}

/// A job of the plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PlannedJob {
    /// Its place in the order, from 1.
    pub number: usize,
    /// What is done.
    pub job: String,
    /// Whether it is certain, for some part at least.
    pub certain: bool,
    /// The parts for which it is certain; may be empty.
    pub parts: String,
    /// The parts for which it is not known yet, with chances where they can be said;
    /// may be empty.
    pub perhaps: String,
    /// What it has to do with jobs that stand in the place of one another, in sentences.
    pub instead: Vec<String>,
    /// "1 to 2 h, mostly 1 h 30 each".
    pub takes: String,
    /// The owner decides before it.
    pub hold: bool,
    /// "25 November 2026, by letter": when and how the owner agreed; once for each answer.
    pub agreed: Vec<String>,
    /// Parts that the owner wants left alone and that it would touch, with the reason.
    pub leave: Vec<String>,
    /// "12 to 24 h": what has been waited for by then; may be empty.
    pub waited: String,
    /// What must be heeded here.
    pub cautions: Vec<Care>,
}

/// The jobs of one stage of the work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WorkStage {
    /// "Structure".
    pub stage: String,
    /// In order.
    pub jobs: Vec<PlannedJob>,
}

/// What is to be done.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Work {
    /// Stage by stage, in order.
    pub stages: Vec<WorkStage>,
    /// Bench time of what is certain: "20 to 30 h, mostly 25 h".
    pub bench: String,
    /// Bench time with what is only perhaps called for, as the quotation has it; may be empty.
    pub perhaps: String,
    /// Waiting, when nobody works: "12 to 24 h"; may be empty.
    pub waiting: String,
    /// A sentence on jobs of which the rules do not say what they take; may be empty.
    pub untimed: String,
    /// A sentence for each of the owner's limits that it goes over.
    pub over: Vec<String>,
    /// Materials of what is certain.
    pub materials: Vec<String>,
    /// What is called for and the owner will not have.
    pub refused: Vec<String>,
    /// What is called for and cannot be done, because a job that must come first was
    /// refused, with that reason.
    pub not_done: Vec<String>,
    /// What the owner wants left alone, with the jobs that it stops.
    pub left_alone: Vec<String>,
    /// What the plan cannot settle, in sentences.
    pub unsettled: Vec<String>,
}

/// What was done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Done {
    /// The day.
    pub day: String,
    /// The job.
    pub job: String,
    /// The parts; empty: wherever it was planned.
    pub parts: String,
    /// What it took; may be empty.
    pub took: String,
}

pub(super) fn care(caution: &Caution) -> Care {
    Care {
        stop: caution.stop,
        parts: capital(&list(&caution.parts)),
        text: caution.text.clone(),
        source: caution.source.clone(),
    }
}

/// "Foot 3 of the base: Do not drag it. (24 Nov 2026)".
pub(super) fn heeded(matter: &Matter<'_>) -> Vec<String> {
    let heeded = matter.progress.heeded.iter().map(|told| {
        let (parts, caution) = (list(&told.what.parts.names), &told.what.caution);
        match noted(told.when) {
            day if day.is_empty() => format!("{}: {caution}", capital(&parts)),
            day => format!("{}: {caution} ({day})", capital(&parts)),
        }
    });
    heeded.collect()
}

pub(super) fn work(matter: &Matter<'_>, plan: &WorkPlan) -> Work {
    let times = &plan.times;
    let span = |[least, usual, most]: [Minutes; 3]| {
        if most == 0 {
            return String::new();
        }
        format!("{}, mostly {}", minutes_range(least, most), minutes(usual))
    };
    let refused = plan
        .refused
        .iter()
        .map(|(job, parts)| match matter.on(parts) {
            parts if parts.is_empty() => capital(name(matter, *job)),
            parts => format!("{}: {parts}", capital(name(matter, *job))),
        });
    let not_done = plan.not_done.iter().map(|not_done| {
        let (job, reason) = (capital(&not_done.job), not_done.reason());
        match matter.on(&not_done.parts) {
            parts if parts.is_empty() => format!("{job}: {reason}"),
            parts => format!("{job}: {parts}; {reason}"),
        }
    });
    Work {
        stages: stages(matter, plan),
        bench: span(times.certain),
        perhaps: match matter.quoted {
            Some(quoted) if times.perhaps[2] > 0 => format!(
                "{} in 5 of 10 cases, {} in 9, with what may yet come to light",
                words::hours(quoted.quote.hours.p50),
                words::hours(quoted.quote.hours.p90)
            ),
            _ => String::new(),
        },
        waiting: match times.waits.certain {
            [_, 0] => String::new(),
            [least, most] => waiting(least, most),
        },
        untimed: match u32::try_from(times.untimed).unwrap_or(u32::MAX) {
            0 => String::new(),
            some => format!(
                "For {} the rules do not say what it takes.",
                some_of(some, "job", "jobs")
            ),
        },
        over: over(matter, plan),
        materials: materials(matter, plan),
        refused: refused.collect(),
        not_done: not_done.collect(),
        left_alone: plan.left_alone.iter().map(left_alone).collect(),
        unsettled: unsettled(matter, plan),
    }
}

/// "The top: the rings are remembered. Not done there: …".
fn left_alone(left: &LeftAlone) -> String {
    let parts = said(&capital(&list(&left.parts)), ": ", &left.because);
    format!(
        "{parts}. Not done there, whatever calls for it: {}.",
        left.what()
    )
}

/// What a job is called.
fn name<'m>(matter: &Matter<'m>, job: usize) -> &'m str {
    let job = matter.model().jobs.get(job);
    job.map_or("?", |job| job.name.as_str())
}

/// The jobs, stage by stage.
fn stages(matter: &Matter<'_>, plan: &WorkPlan) -> Vec<WorkStage> {
    let mut stages: Vec<WorkStage> = Vec::new();
    for (number, step) in (1..).zip(&plan.steps) {
        let stage = capital(step.stage.words());
        let job = planned(matter, plan, number, step);
        match stages.last_mut() {
            Some(last) if last.stage == stage => last.jobs.push(job),
            _ => {
                let jobs = vec![job];
                stages.push(WorkStage { stage, jobs });
            }
        }
    }
    let own = (plan.steps.len() + 1..).zip(&plan.own);
    let own: Vec<PlannedJob> = own
        .map(|(number, own)| own_work(matter, number, own))
        .collect();
    if !own.is_empty() {
        stages.push(WorkStage {
            stage: "Besides".to_owned(),
            jobs: own,
        });
    }
    stages
}

/// Work that no rule plans.
fn own_work(matter: &Matter<'_>, number: usize, own: &OwnStep) -> PlannedJob {
    let each = if own.parts.len() > 1 { " each" } else { "" };
    PlannedJob {
        number,
        job: capital(&own.job),
        certain: true,
        parts: matter.on(&own.parts),
        perhaps: String::new(),
        instead: Vec::new(),
        takes: format!("{}{each}", minutes(own.takes)),
        hold: false,
        agreed: Vec::new(),
        leave: Vec::new(),
        waited: String::new(),
        cautions: Vec::new(),
    }
}

/// A sentence for each of the owner's limits that the work goes over.
fn over(matter: &Matter<'_>, plan: &WorkPlan) -> Vec<String> {
    let limits = limits(
        matter.progress,
        &matter.work(plan, &matter.waits()),
        matter.today(),
    );
    let over = limits.iter().filter(|limit| limit.is_over == Some(true));
    over.map(|limit| format!("{}.", capital(&limit.sentence("the owner's"))))
        .collect()
}

/// Materials of what is certain, with the number of times each is needed.
fn materials(matter: &Matter<'_>, plan: &WorkPlan) -> Vec<String> {
    let mut needs: BTreeMap<&str, usize> = BTreeMap::new();
    for step in &plan.steps {
        let job = matter.model().jobs.get(step.job);
        for need in job.iter().flat_map(|job| &job.needs) {
            *needs.entry(need).or_default() += step.certain.len();
        }
    }
    let needs = needs.into_iter().filter(|(_, times)| *times > 0);
    let materials = needs.map(|(need, times)| match times {
        1 => need.to_owned(),
        times => format!("{need} ({times} times)"),
    });
    materials.collect()
}

/// What the plan cannot settle, in sentences.
fn unsettled(matter: &Matter<'_>, plan: &WorkPlan) -> Vec<String> {
    let at_odds = plan.at_odds.iter().map(|odds| {
        let settled = match odds.hangs.as_ref().filter(|hangs| !hangs.is_known) {
            Some(hangs) => not_known(matter, hangs),
            None => ": one of them has to be chosen".to_owned(),
        };
        format!(
            "The rules never plan to {} and to {} together{settled}.",
            name(matter, odds.one),
            name(matter, odds.other)
        )
    });
    let against = plan.against.iter().map(|(job, after)| {
        let because = match after.because.as_str() {
            "" => String::new(),
            because => format!(", because {because}"),
        };
        format!(
            "It would be better to {} before it comes to \"{}\"{because}, but the stages of the \
             work, or what must come first, say otherwise.",
            name(matter, after.job),
            name(matter, *job)
        )
    });
    at_odds.chain(against).collect()
}

fn planned(matter: &Matter<'_>, plan: &WorkPlan, number: usize, step: &Step) -> PlannedJob {
    let job = matter.model().jobs.get(step.job);
    let perhaps = step.perhaps.iter().map(|(part, chance)| {
        let part = match matter.on(std::slice::from_ref(part)) {
            part if part.is_empty() => "the whole piece".to_owned(),
            part => part,
        };
        match chance {
            Some(chance) => format!("{part} ({})", figure(*chance)),
            None => part,
        }
    });
    let each = if step.certain.len() + step.perhaps.len() > 1 {
        " each"
    } else {
        ""
    };
    let takes = job.and_then(|job| job.takes);
    let cautions = step.cautions.iter().filter_map(|&c| plan.cautions.get(c));
    PlannedJob {
        number,
        job: job.map_or_else(String::new, |job| capital(&job.name)),
        certain: !step.certain.is_empty(),
        parts: matter.on(&step.certain),
        perhaps: list(&perhaps.collect::<Vec<_>>()),
        instead: step
            .turns
            .iter()
            .map(|turned| instead(matter, turned))
            .collect(),
        takes: takes.map_or_else(String::new, |takes| {
            format!("{}{each}", words::takes(&takes))
        }),
        hold: step.to_ask,
        agreed: step
            .agreed
            .iter()
            .map(|told| said(&noted(told.when), ", ", &told.what.words))
            .collect(),
        leave: step
            .left
            .iter()
            .map(|told| said(&list(&told.what.parts.names), ": ", &told.what.because))
            .collect(),
        waited: match step.waits {
            [_, 0] => String::new(),
            [least, most] => waiting(least, most),
        },
        cautions: cautions.map(care).collect(),
    }
}

/// " when it is veneered, which is not known yet of the top".
fn not_known(matter: &Matter<'_>, hangs: &Hangs) -> String {
    let model = matter.model();
    let when = model
        .exclusions
        .get(hangs.exclusion)
        .and_then(|e| e.when.as_ref());
    let when = when.map_or_else(String::new, |(kind, when)| {
        words::condition(model, *kind, when)
    });
    format!(
        " when {when}, which is not known yet of {}",
        list(&hangs.parts)
    )
}

/// "In place of “renew the webbing”".
fn instead(matter: &Matter<'_>, turned: &Turned) -> String {
    let other = words::quoted(name(matter, turned.other));
    if turned.is_known {
        format!("In place of {other}")
    } else {
        format!("This or {other}: which of the two is not known yet")
    }
}

/// "12 to 24 h", "about 15 to 43 days": nobody counts long waiting in hours.
fn waiting(least: Minutes, most: Minutes) -> String {
    const DAY: Minutes = 24 * 60;
    if most < 2 * DAY {
        return minutes_range(least, most);
    }
    let (from, to) = (least.div_ceil(DAY), most.div_ceil(DAY));
    let exact = least.is_multiple_of(DAY) && most.is_multiple_of(DAY);
    let about = if exact { "" } else { "about " };
    if from == to {
        format!("{about}{to} days")
    } else {
        format!("{about}{from} to {to} days")
    }
}

/// Two texts with a sign between, or the one that is not empty.
fn said(one: &str, sign: &str, other: &str) -> String {
    let sign = if one.is_empty() || other.is_empty() {
        ""
    } else {
        sign
    };
    format!("{one}{sign}{other}")
}

/// What was done and not taken back.
pub(super) fn done(matter: &Matter<'_>) -> Vec<Done> {
    let done = matter.progress.done().map(|told| Done {
        day: noted(told.when),
        job: capital(&told.what.job),
        parts: matter.on(&told.what.parts.names),
        took: told.what.took.map_or_else(String::new, minutes),
    });
    done.collect()
}
