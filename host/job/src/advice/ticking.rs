//! What speaks against ticking a job: that it is ticked already, what should have come before
//! it, and what the owner wanted otherwise. What was done is done; but it is not ticked without a word.

use super::plan::{After, Step, WorkPlan};
use super::progress::{Left, Mark, Marked, Progress, Told};
use super::standing::{Now, sets_until};
use jiff::civil::DateTime;
use tellmark_compile::always_before;
use tellmark_core::pack::Force;
use tellmark_language::model::{JobId, Model};
use tellmark_language::words::list;

/// Something that speaks against ticking a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Objection {
    /// It is ticked already.
    Ticked {
        /// The line of the record, from 1.
        line: usize,
    },
    /// Another job was to come first, and is not done.
    After {
        /// The job.
        job: String,
        /// Its parts.
        parts: Vec<String>,
        /// Why, in the rules' own words; empty if they do not say.
        because: String,
    },
    /// What was done before it is to be left alone for longer: glue that sets, a board that
    /// dries.
    Waits {
        /// The job that was done.
        job: String,
        /// Until when.
        until: DateTime,
        /// The line of the record, from 1.
        line: usize,
    },
    /// The rules never plan it together with a job that is ticked.
    NotBoth {
        /// The other job.
        job: String,
        /// The line of the record, from 1.
        line: usize,
    },
    /// It is on what the owner wants left alone.
    Left {
        /// What.
        parts: Vec<String>,
        /// Why; may be empty.
        because: String,
        /// The line of the record, from 1.
        line: usize,
    },
    /// The owner was to be asked first, and the record has no answer.
    NotAsked,
    /// The owner will not have it.
    Refused {
        /// How and why; may be empty.
        words: String,
        /// The line of the record, from 1.
        line: usize,
    },
}

impl Objection {
    /// In a sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let colon = |words: &str| match words {
            "" => String::new(),
            words => format!(": {words}"),
        };
        match self {
            Objection::Ticked { line } => format!(
                "It is ticked already (line {line}); --undo takes a tick back, to put it right."
            ),
            Objection::After {
                job,
                parts,
                because,
            } => {
                let because = match because.as_str() {
                    "" => String::new(),
                    because => format!(", because {because}"),
                };
                format!(
                    "It was to come after \"{job}\" ({}), which is not ticked{because}.",
                    list(parts)
                )
            }
            Objection::Waits { job, until, line } => format!(
                "\"{job}\" (line {line}) is to be left alone until {} at the least, and this comes \
                 after it.",
                until.strftime("%Y-%m-%d %H:%M")
            ),
            Objection::NotBoth { job, line } => {
                format!(
                    "The rules never plan it together with \"{job}\", which is ticked (line {line})."
                )
            }
            Objection::Left {
                parts,
                because,
                line,
            } => format!(
                "The owner wants {} left alone (line {line}){}.",
                list(parts),
                colon(because)
            ),
            Objection::NotAsked => {
                "The owner was to be asked first, and the record has no answer.".to_owned()
            }
            Objection::Refused { words, line } => {
                format!("The owner would not have it (line {line}){}.", colon(words))
            }
        }
    }
}

/// What speaks against ticking a job for these parts of the piece; of work of one's own, that it
/// is ticked already, or that they are to be left alone.
#[must_use]
pub fn objections(
    model: &Model,
    plan: &WorkPlan,
    progress: &Progress,
    (job, name): (Option<usize>, &str),
    parts: &[usize],
    now: Now,
) -> Vec<Objection> {
    let mut found = Vec::new();
    let mut add = |one: Objection| {
        if !found.contains(&one) {
            found.push(one);
        }
    };
    let left_alone = |left: &Told<Left>| Objection::Left {
        parts: left.what.parts.names.clone(),
        because: left.what.because.clone(),
        line: left.line,
    };
    let Some(job) = job else {
        let ticked = parts
            .iter()
            .filter_map(|&part| progress.own_done_in(name, part));
        ticked
            .map(|line| Objection::Ticked { line })
            .for_each(&mut add);
        for &part in parts {
            progress.leave(part).map(left_alone).for_each(&mut add);
            if let Some(told) = progress.own_refused_in(name, part) {
                add(Objection::Refused {
                    words: told.what.words.clone(),
                    line: told.line,
                });
            }
        }
        return found;
    };
    let asks = model.jobs.get(job).is_some_and(|job| job.ask_owner);
    for &part in parts {
        if asks && progress.decision(job, part).is_none() {
            add(Objection::NotAsked);
        }
        if let Some(line) = progress.done_in(job, part) {
            add(Objection::Ticked { line });
        }
        let touched = progress.touches(job, part).into_iter();
        let left = progress.stops(job, part).chain(touched);
        left.map(left_alone).for_each(&mut add);
        if let Some(told) = progress.decision(job, part)
            && told.what.mark == Mark::Refused
        {
            add(Objection::Refused {
                words: told.what.words.clone(),
                line: told.line,
            });
        }
    }
    for told in progress.done() {
        if let Some(until) = sets_until(model, told, now)
            && is_of_these(progress, &told.what.parts.indices, parts)
            && comes_after(model, job, told)
        {
            add(Objection::Waits {
                job: told.what.job.clone(),
                until,
                line: told.line,
            });
        }
    }
    for other in never_with(model, job) {
        let mut done = progress.done();
        let both = done.find(|told| {
            told.what.index == Some(other) && is_of_these(progress, &told.what.parts.indices, parts)
        });
        if let Some(told) = both {
            add(Objection::NotBoth {
                job: told.what.job.clone(),
                line: told.line,
            });
        }
    }
    let steps = |job: usize| plan.steps.iter().filter(move |step| step.job == job);
    let after = steps(job).flat_map(|step| &step.after);
    let mut after: Vec<&After> = after.filter(|after| after.force != Force::Better).collect();
    // Of what is said twice, once with a reason, that is told.
    after.sort_by_key(|after| (after.job, after.because.is_empty()));
    after.dedup_by_key(|after| after.job);
    for after in after {
        let first: Vec<String> = steps(after.job)
            .flat_map(|step| before(step, progress, parts))
            .collect();
        if !first.is_empty() {
            let job = model.jobs.get(after.job);
            add(Objection::After {
                job: job.map_or_else(String::new, |job| job.name.clone()),
                parts: first,
                because: after.because.clone(),
            });
        }
    }
    found
}

/// Whether a job is always done after one that is done.
fn comes_after(model: &Model, job: usize, done: &Told<Marked>) -> bool {
    let id = |job: usize| u16::try_from(job).ok().map(JobId);
    let (before, after) = (done.what.index.and_then(id), id(job));
    before
        .zip(after)
        .is_some_and(|(before, after)| always_before(model, before, after))
}

/// Whether what was done on some parts has to do with others; on no part in particular, it has.
fn is_of_these(progress: &Progress, done: &[usize], parts: &[usize]) -> bool {
    let related =
        |one: usize, other: usize| progress.is_within(one, other) || progress.is_within(other, one);
    let mut pairs = done
        .iter()
        .flat_map(|&one| parts.iter().map(move |&other| (one, other)));
    done.is_empty() || pairs.any(|(one, other)| related(one, other))
}

/// The parts of a step that it is certain for, and that have to do with these parts: what is
/// done on another drawer can wait.
fn before(step: &Step, progress: &Progress, parts: &[usize]) -> Vec<String> {
    let certain = step.certain.iter().zip(&step.certain_parts);
    let related = certain.filter(|(_, first)| {
        parts
            .iter()
            .any(|&part| progress.is_within(part, **first) || progress.is_within(**first, part))
    });
    related.map(|(name, _)| name.clone()).collect()
}

/// The jobs that are never planned together with a job, whatever is so.
fn never_with(model: &Model, job: usize) -> impl Iterator<Item = usize> + '_ {
    let always = model.exclusions.iter().filter(|one| one.when.is_none());
    always.filter_map(move |one| match (one.one.index(), one.other.index()) {
        (one, other) if one == job => Some(other),
        (one, other) if other == job => Some(one),
        _ => None,
    })
}
