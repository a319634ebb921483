//! Which job of a plan the user means.

use super::exit::Stopped;
use super::typed::as_path;
use tellmark_job::advice::{Step, WorkPlan};
use tellmark_job::record::{Job, ShownPlan, ShownStep};
use tellmark_language::model::Model;
use tellmark_language::near::nearest;
use tellmark_language::words;

/// The step of a plan that goes by this: its name, or a piece of its name that no other has.
pub(super) fn step<'p>(
    model: &Model,
    plan: &'p WorkPlan,
    asked: &str,
) -> Result<&'p Step, Stopped> {
    let names = plan.steps.iter().map(|step| name(model, step.job));
    let at = one_of(names, asked, "of this plan")?;
    plan.steps
        .get(at)
        .ok_or_else(|| Stopped::Misuse(no_job(asked, "of this plan")))
}

/// The plan that a number is of: the one shown last, or the one with a number of its own.
pub(super) fn shown_plan(job: &Job, number: Option<u32>) -> Result<ShownPlan, Stopped> {
    job.shown_plan(number)?.ok_or_else(|| {
        Stopped::Misuse(match number {
            Some(number) => format!("There is no plan {number} of this job. Nothing was noted."),
            None => format!(
                "No plan of this job was shown yet, so nothing has a number: tellmark plan {}. \
                 Nothing was noted.",
                as_path(job.folder())
            ),
        })
    })
}

/// A step of a plan that was shown, by its number there.
pub(super) fn shown_step(shown: &ShownPlan, number: usize) -> Result<&ShownStep, Stopped> {
    let step = number.checked_sub(1).and_then(|at| shown.steps.get(at));
    step.ok_or_else(|| {
        let steps = words::some_of(count(shown.steps.len()), "step", "steps");
        Stopped::Misuse(format!(
            "There is no step {number}: plan {} has {steps}. Nothing was noted.",
            shown.number
        ))
    })
}

/// What was typed for a job: the name that its number had in the plan shown last, or the
/// words themselves.
pub(super) fn typed(job: &Job, asked: &str) -> Result<String, Stopped> {
    match asked.trim().parse::<usize>() {
        Ok(number) => Ok(shown_step(&shown_plan(job, None)?, number)?.job.clone()),
        Err(_) => Ok(asked.to_owned()),
    }
}

/// The job of the rules that goes by this, whether it is called for or not.
pub(super) fn any_job(model: &Model, asked: &str) -> Result<usize, Stopped> {
    one_of(
        model.jobs.iter().map(|job| job.name.as_str()),
        asked,
        "of these rules",
    )
}

/// Whether no job of the rules has these words in its name.
pub(super) fn is_nothing_like(model: &Model, asked: &str) -> bool {
    let asked = asked.trim().to_lowercase();
    let mut jobs = model.jobs.iter();
    !jobs.any(|job| job.name.to_lowercase().contains(&asked))
}

fn one_of<'n>(
    names: impl Iterator<Item = &'n str> + Clone,
    asked: &str,
    of: &str,
) -> Result<usize, Stopped> {
    let asked = asked.trim().to_lowercase();
    if let Some(at) = names.clone().position(|name| name.to_lowercase() == asked) {
        return Ok(at);
    }
    let has = |(_, name): &(usize, &str)| name.to_lowercase().contains(&asked);
    let near: Vec<(usize, &str)> = names.clone().enumerate().filter(has).collect();
    match near[..] {
        [(at, _)] if !asked.is_empty() => Ok(at),
        [] => {
            let meant = nearest(&asked, names);
            let meant = meant.map_or_else(String::new, |near| {
                format!(" Did you mean \"{}\"?", near.joined())
            });
            Err(Stopped::Misuse(format!("{}{meant}", no_job(&asked, of))))
        }
        _ => {
            let names: Vec<&str> = near.iter().map(|(_, name)| *name).collect();
            Err(Stopped::Misuse(format!(
                "\"{asked}\" could be any of these: {}.",
                names.join("; ")
            )))
        }
    }
}

fn no_job(asked: &str, of: &str) -> String {
    format!("No job {of} is called \"{asked}\".")
}

/// The name of a job.
pub(super) fn name(model: &Model, job: usize) -> &str {
    model.jobs.get(job).map_or("?", |job| job.name.as_str())
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}
