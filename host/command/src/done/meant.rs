//! Which job is meant, and on which parts of the piece.

use super::super::choice;
use super::super::exit::Stopped;
use super::super::frame::Frame;
use super::super::open_job::cannot_set_up;
use super::super::steps;
use super::super::typed::as_argument;
use super::{Done, JobView, Progress, WorkPlan};
use std::collections::BTreeSet;
use tellmark_job::advice::{OwnWork, Step, Told};
use tellmark_job::record::{ShownPlan, ShownStep};
use tellmark_language::words::{list, list_some};

/// A job, and the parts that it is to be ticked for.
#[derive(Debug, Default)]
pub(super) struct Meant {
    /// Its name.
    pub job: String,
    /// Its index in the model; `None` for work of one's own.
    pub index: Option<usize>,
    /// The parts, in the words of the rules.
    pub parts: Vec<String>,
    /// Parts that it is perhaps called for as well, and not ticked for.
    pub perhaps: Vec<String>,
}

/// The parts that a job is ticked for already: who ticks it again means those.
fn ticked_parts(progress: &Progress, job: usize, name: &str) -> Vec<String> {
    let ticks = progress.done().filter(|told| told.what.job == name);
    let parts = ticks.flat_map(|told| {
        let parts = &told.what.parts;
        parts.indices.iter().copied().zip(&parts.names)
    });
    let standing: BTreeSet<(usize, &String)> = parts
        .filter(|&(part, _)| progress.is_done(job, part))
        .collect();
    standing.into_iter().map(|(_, name)| name.clone()).collect()
}

impl Done {
    /// The job that is meant. What was done is done, whether it was planned or not: but then
    /// it must be said on which part.
    pub(super) fn meant(
        &self,
        view: &JobView<'_>,
        progress: &Progress,
        plan: &WorkPlan,
        frame: &mut Frame,
    ) -> Result<Meant, Stopped> {
        let (model, asked) = (view.model(), self.asked());
        let parts = self.named_parts(view)?;
        if let Some(own) = planned_own(progress, &asked, &parts) {
            return Ok(own);
        }
        if self.own {
            let known = model
                .jobs
                .iter()
                .find(|job| job.name == asked.trim().to_lowercase());
            return match known {
                Some(job) => Err(Stopped::Misuse(format!(
                    "\"{}\" is a job of these rules, and no work of your own: leave --own out. \
                     Nothing was noted.",
                    job.name
                ))),
                None => own_work(&asked, parts),
            };
        }
        if let Ok(number) = asked.parse::<usize>() {
            return self.numbered(view, progress, plan, number, parts, frame);
        }
        let not_planned = match steps::step(model, plan, &asked) {
            Ok(step) => return self.step(view, progress, step, parts, frame),
            Err(stopped) => stopped,
        };
        match steps::any_job(model, &asked) {
            Err(_) if !self.mends.is_empty() => own_work(&asked, parts),
            Err(_) if steps::is_nothing_like(model, &asked) => {
                let named = own_like(progress, &asked);
                let own = named.and_then(|name| planned_own(progress, &name, &parts));
                own.ok_or_else(|| self.unknown(not_planned, frame))
            }
            Err(_) => Err(not_planned),
            Ok(job) => {
                let parts = match parts.is_empty() {
                    true => ticked_parts(progress, job, steps::name(model, job)),
                    false => parts,
                };
                if parts.is_empty() {
                    return Err(Stopped::Misuse(format!(
                        "The plan does not ask to {}. If it was done all the same, say on which \
                         part: --part \"...\".",
                        steps::name(model, job)
                    )));
                }
                Ok(Meant {
                    job: steps::name(model, job).to_owned(),
                    index: Some(job),
                    parts,
                    perhaps: Vec::new(),
                })
            }
        }
    }

    /// The name of a job: by its number in a plan that was shown, or by its words.
    pub(super) fn job_named(&self, view: &JobView<'_>, asked: &str) -> Result<String, Stopped> {
        if let Ok(number) = asked.parse::<usize>() {
            let shown = steps::shown_plan(&view.open.job, self.plan)?;
            return Ok(steps::shown_step(&shown, number)?.job.clone());
        }
        let job = steps::any_job(view.model(), asked)?;
        Ok(steps::name(view.model(), job).to_owned())
    }

    /// What is no job of the rules may be work of one's own; a slip must not become that.
    fn unknown(&self, why: Stopped, frame: &Frame) -> Stopped {
        let Stopped::Misuse(why) = why else {
            return why;
        };
        let again = self.again(frame, &self.asked(), &self.part, " --own");
        Stopped::Misuse(format!(
            "{why} If it is work of your own, which no rule plans:\n  {again}"
        ))
    }

    /// A step of the plan as it is now.
    fn step(
        &self,
        view: &JobView<'_>,
        progress: &Progress,
        step: &Step,
        parts: Vec<String>,
        frame: &mut Frame,
    ) -> Result<Meant, Stopped> {
        let mut perhaps: Vec<String> = step.perhaps.iter().map(|(part, _)| part.clone()).collect();
        let job = steps::name(view.model(), step.job).to_owned();
        let ticked = ticked_parts(progress, step.job, &job);
        let parts = match (
            parts.is_empty(),
            step.certain.as_slice(),
            perhaps.as_slice(),
        ) {
            (false, ..) => {
                perhaps.clear();
                parts
            }
            // Where there is only one that it can be, that is meant.
            (true, [], [_]) if ticked.is_empty() => std::mem::take(&mut perhaps),
            (true, [], several) => {
                let said = match ticked.is_empty() {
                    true => format!(
                        "It is not certain yet where to {job}: perhaps for {}. Say where it was \
                         done.",
                        list(several)
                    ),
                    false => format!(
                        "\"{job}\" is ticked already for {}, and is perhaps called for on {} as \
                         well. Say where it was done.",
                        list(&ticked),
                        list_some(several, crate::plan::SOME)
                    ),
                };
                let ways = several.iter().map(|part| vec![part.clone()]);
                let parts = self.asked_for(frame, &said, &job, ways.collect())?;
                perhaps.retain(|part| !parts.contains(part));
                parts
            }
            (true, certain, _) => certain.to_vec(),
        };
        Ok(Meant {
            job,
            index: Some(step.job),
            parts,
            perhaps,
        })
    }

    /// A step by its number in a plan that was shown: the job that it had there. Where it has
    /// come to mean other parts since, it is asked which.
    fn numbered(
        &self,
        view: &JobView<'_>,
        progress: &Progress,
        plan: &WorkPlan,
        number: usize,
        parts: Vec<String>,
        frame: &mut Frame,
    ) -> Result<Meant, Stopped> {
        let shown = steps::shown_plan(&view.open.job, self.plan)?;
        let step = steps::shown_step(&shown, number)?;
        if let Some(own) = planned_own(progress, &step.job, &parts) {
            return Ok(own);
        }
        let mut jobs = view.model().jobs.iter();
        let index = jobs.position(|job| job.name == step.job).ok_or_else(|| {
            Stopped::Misuse(format!(
                "Number {number} of plan {} was \"{}\", and these rules know no such job. Nothing \
                 was noted.",
                shown.number, step.job
            ))
        })?;
        let mut now = plan.steps.iter();
        let now = now.find(|now| now.job == index);
        if !parts.is_empty() {
            return Ok(Meant {
                job: step.job.clone(),
                index: Some(index),
                parts,
                perhaps: Vec::new(),
            });
        }
        let left = not_done(view, progress, index, &step.certain)?;
        let perhaps = not_done(view, progress, index, &step.perhaps)?;
        if left.is_empty() && (perhaps.is_empty() || !step.certain.is_empty()) {
            let perhaps = match perhaps.first() {
                None => String::new(),
                Some(first) => format!(
                    " It was perhaps for {} as well: if it was done there, add --part {}.",
                    list(&perhaps),
                    as_argument(first)
                ),
            };
            return Err(Stopped::No(format!(
                "Number {number} of plan {}, \"{}\", is ticked already.{perhaps} Nothing was \
                 noted.",
                shown.number, step.job
            )));
        }
        if let Some(now) = now {
            let perhaps_now = now.perhaps.iter().map(|(part, _)| part);
            let is_same = is_same(&left, &now.certain)
                && (!left.is_empty() || is_same(&perhaps, perhaps_now));
            if is_same {
                return self.step(view, progress, now, parts, frame);
            }
        }
        let is_now = now.map_or(&[][..], |now| now.certain.as_slice());
        let said = changed(&shown, number, step, &left, now);
        let mut ways = Vec::new();
        for way in [left.as_slice(), is_now] {
            if !way.is_empty() && ways.iter().all(|known| !is_same(known, way)) {
                ways.push(way.to_vec());
            }
        }
        if ways.is_empty() {
            ways = perhaps.iter().map(|part| vec![part.clone()]).collect();
        }
        let parts = self.asked_for(frame, &said, &step.job, ways)?;
        Ok(Meant {
            job: step.job.clone(),
            index: Some(index),
            parts,
            perhaps: Vec::new(),
        })
    }

    /// Asks for which parts a job was done, or says how to say so.
    fn asked_for(
        &self,
        frame: &mut Frame,
        said: &str,
        job: &str,
        mut ways: Vec<Vec<String>>,
    ) -> Result<Vec<String>, Stopped> {
        if choice::can_ask(frame) {
            writeln!(frame.out, "{said}")?;
            let lines: Vec<String> = ways.iter().map(|way| list(way)).collect();
            return match choice::choose(frame, &lines)? {
                Some(chosen) => Ok(ways.swap_remove(chosen)),
                None => Err(Stopped::No("Nothing was noted.".to_owned())),
            };
        }
        let ways = ways.iter().map(|way| self.again(frame, job, way, ""));
        let ways: Vec<String> = ways.map(|way| format!("  {way}")).collect();
        Err(Stopped::No(format!(
            "{said} Nothing was noted.\n{}",
            ways.join("\n")
        )))
    }
}

/// Work of one's own that was planned, on the parts named; where none is, on all on which it is
/// still to be done.
fn planned_own(progress: &Progress, asked: &str, parts: &[String]) -> Option<Meant> {
    let asked = asked.trim().to_lowercase();
    let is_it = |told: &&Told<OwnWork>| told.what.job.to_lowercase() == asked;
    let own = || progress.own.iter().filter(is_it);
    let job = own().next()?.what.job.clone();
    let left = progress
        .own_to_do()
        .filter(|(told, ..)| is_it(told))
        .map(|(_, _, part)| part.to_owned());
    let left: Vec<String> = left.collect();
    let parts = match (parts, left.is_empty()) {
        ([], false) => left,
        ([], true) => own()
            .flat_map(|told| told.what.parts.names.clone())
            .collect(),
        (named, _) => named.to_vec(),
    };
    Some(Meant {
        job,
        parts,
        ..Meant::default()
    })
}

/// The one work of one's own that has these words in its name.
fn own_like(progress: &Progress, asked: &str) -> Option<String> {
    let asked = asked.trim().to_lowercase();
    let mut names: Vec<&str> = Vec::new();
    for told in &progress.own {
        let name = told.what.job.as_str();
        if name.to_lowercase().contains(&asked) && !names.contains(&name) {
            names.push(name);
        }
    }
    match names.as_slice() {
        [one] if !asked.is_empty() => Some((*one).to_owned()),
        _ => None,
    }
}

/// Work that is no job of the rules, in the words of whoever did it.
fn own_work(words: &str, parts: Vec<String>) -> Result<Meant, Stopped> {
    let job = words.trim().to_owned();
    if job.is_empty() || job.contains([';', '\n']) {
        return Err(Stopped::Misuse(
            "Say what was done in a few words, without a semicolon. Nothing was noted.".to_owned(),
        ));
    }
    Ok(Meant {
        job,
        parts,
        ..Meant::default()
    })
}

/// Those of some parts that a job is not ticked for.
fn not_done(
    view: &JobView<'_>,
    progress: &Progress,
    job: usize,
    parts: &[String],
) -> Result<Vec<String>, Stopped> {
    let mut left = Vec::new();
    for part in parts {
        let called = std::slice::from_ref(part);
        let indices = view.parts_called(called).map_err(cannot_set_up)?;
        if !indices.iter().all(|&part| progress.is_done(job, part)) || indices.is_empty() {
            left.push(part.clone());
        }
    }
    Ok(left)
}

fn is_same<'p>(
    one: impl IntoIterator<Item = &'p String>,
    other: impl IntoIterator<Item = &'p String>,
) -> bool {
    let set = |parts: &mut dyn Iterator<Item = &'p String>| parts.collect::<BTreeSet<_>>();
    set(&mut one.into_iter()) == set(&mut other.into_iter())
}

/// What became of a step since the plan was shown.
fn changed(
    shown: &ShownPlan,
    number: usize,
    step: &ShownStep,
    left: &[String],
    now: Option<&Step>,
) -> String {
    let was = match (left, step.perhaps.as_slice()) {
        ([], perhaps) => format!("perhaps for {}", list(perhaps)),
        (certain, _) => format!("for {}", list(certain)),
    };
    let perhaps = now.map_or_else(Vec::new, |now| {
        now.perhaps.iter().map(|(part, _)| part.clone()).collect()
    });
    let is = match now.map_or(&[][..], |now| now.certain.as_slice()) {
        [] if perhaps.is_empty() => "not called for any more".to_owned(),
        [] => format!("perhaps called for on {}", list(&perhaps)),
        certain => format!("called for on {}", list(certain)),
    };
    format!(
        "Number {number} of plan {} was \"{}\", {was}. By now it is {is}. Say for which it was \
         done.",
        shown.number, step.job
    )
}
