//! What is to be done, in order, and what was done.

use super::matter::Matter;
use super::when::noted;
use crate::inspect::{Caution, Step, WorkPlan};
use crate::job::Says;
use crate::words::{self, capital, figure, list, minutes, minutes_range, some_of};
use serde::Serialize;
use std::collections::BTreeSet;

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
    /// "1 to 2 h, mostly 1 h 30 each".
    pub takes: String,
    /// The owner decides before it.
    pub hold: bool,
    /// "12 to 24 h": what has been waited for by then; may be empty.
    pub waited: String,
    /// What must be heeded here.
    pub cautions: Vec<Care>,
}

/// What is to be done.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Work {
    /// In order.
    pub jobs: Vec<PlannedJob>,
    /// Bench time of what is certain: "20 to 30 h, mostly 25 h".
    pub bench: String,
    /// Bench time if everything else comes true as well, on top; may be empty.
    pub perhaps: String,
    /// Waiting, when nobody works: "12 to 24 h"; may be empty.
    pub waiting: String,
    /// A sentence on jobs of which the rules do not say what they take; may be empty.
    pub untimed: String,
    /// Materials of what is certain.
    pub materials: Vec<String>,
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

pub(super) fn work(matter: &Matter<'_>, plan: &WorkPlan) -> Work {
    let jobs = &matter.model().jobs;
    let name = |job: usize| jobs.get(job).map_or("?", |job| job.name.as_str());
    let mut materials = BTreeSet::new();
    for step in plan.steps.iter().filter(|step| !step.certain.is_empty()) {
        let needs = jobs.get(step.job).map(|job| &job.needs);
        materials.extend(needs.into_iter().flatten().cloned());
    }
    let mut unsettled = Vec::new();
    for (one, other) in &plan.at_odds {
        unsettled.push(format!(
            "The rules never plan to {} and to {} together: one of them has to be chosen.",
            name(*one),
            name(*other)
        ));
    }
    for (job, after) in &plan.against {
        let because = match after.because.as_str() {
            "" => String::new(),
            because => format!(", because {because}"),
        };
        unsettled.push(format!(
            "It would be better to {} before it comes to \"{}\"{because}, but something else \
             forbids it.",
            name(after.job),
            name(*job)
        ));
    }
    let times = &plan.times;
    let span = |[least, usual, most]: [u32; 3]| {
        if most == 0 {
            return String::new();
        }
        format!("{}, mostly {}", minutes_range(least, most), minutes(usual))
    };
    let [least, most] = times.waits.certain;
    Work {
        jobs: (1..)
            .zip(&plan.steps)
            .map(|(n, step)| planned(matter, plan, n, step))
            .collect(),
        bench: span(times.certain),
        perhaps: span(times.perhaps),
        waiting: if most == 0 {
            String::new()
        } else {
            minutes_range(least, most)
        },
        untimed: match u32::try_from(times.untimed).unwrap_or(u32::MAX) {
            0 => String::new(),
            some => format!(
                "For {} the rules do not say what it takes.",
                some_of(some, "job", "jobs")
            ),
        },
        materials: materials.into_iter().collect(),
        unsettled,
    }
}

fn planned(matter: &Matter<'_>, plan: &WorkPlan, number: usize, step: &Step) -> PlannedJob {
    let job = matter.model().jobs.get(step.job);
    let perhaps = step.perhaps.iter().map(|(part, chance)| match chance {
        Some(chance) => format!("{part} ({})", figure(*chance)),
        None => part.clone(),
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
        parts: list(&step.certain),
        perhaps: list(&perhaps.collect::<Vec<_>>()),
        takes: takes.map_or_else(String::new, |takes| {
            format!("{}{each}", words::takes(&takes))
        }),
        hold: job.is_some_and(|job| job.ask_owner),
        waited: match step.waits {
            [_, 0] => String::new(),
            [least, most] => minutes_range(least, most),
        },
        cautions: cautions.map(care).collect(),
    }
}

/// What was done and not taken back. A tick taken back for some parts leaves the rest.
pub(super) fn done(matter: &Matter<'_>) -> Vec<Done> {
    let mut done: Vec<(Done, Vec<String>)> = Vec::new();
    for entry in matter.job.entries() {
        match &entry.says {
            Says::Done { job, parts, took } => done.push((
                Done {
                    day: noted(entry.when),
                    job: capital(job),
                    parts: list(parts),
                    took: took.clone(),
                },
                parts.clone(),
            )),
            Says::NotDone { job, parts } => {
                let job = capital(job);
                done.retain_mut(|(done, of)| {
                    if done.job != job {
                        return true;
                    }
                    of.retain(|part| !parts.contains(part));
                    done.parts = list(of);
                    !parts.is_empty() && !of.is_empty()
                });
            }
            _ => {}
        }
    }
    done.into_iter().map(|(done, _)| done).collect()
}
