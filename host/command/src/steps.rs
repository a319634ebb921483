//! Which job of a plan the user means.

use super::exit::Stopped;
use tellmark_job::advice::{Step, WorkPlan};
use tellmark_language::model::Model;
use tellmark_language::words;

/// The step of a plan that goes by this: its number, its name, or a piece of its name
/// that no other has.
pub(super) fn step<'p>(
    model: &Model,
    plan: &'p WorkPlan,
    asked: &str,
) -> Result<&'p Step, Stopped> {
    if let Ok(number) = asked.parse::<usize>() {
        let step = number.checked_sub(1).and_then(|at| plan.steps.get(at));
        return step.ok_or_else(|| {
            let steps = words::some_of(count(plan.steps.len()), "step", "steps");
            Stopped::Misuse(format!("There is no step {number}: this plan has {steps}."))
        });
    }
    let names = plan.steps.iter().map(|step| name(model, step.job));
    let at = one_of(names, asked, "of this plan")?;
    plan.steps
        .get(at)
        .ok_or_else(|| Stopped::Misuse(no_job(asked, "of this plan")))
}

/// The job of the rules that goes by this, whether it is called for or not.
pub(super) fn any_job(model: &Model, asked: &str) -> Result<usize, Stopped> {
    one_of(
        model.jobs.iter().map(|job| job.name.as_str()),
        asked,
        "of these rules",
    )
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
    let near: Vec<(usize, &str)> = names.enumerate().filter(has).collect();
    match near[..] {
        [(at, _)] if !asked.is_empty() => Ok(at),
        [] => Err(Stopped::Misuse(no_job(&asked, of))),
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
