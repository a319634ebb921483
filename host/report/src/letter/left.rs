//! What is left as it is, and why.

use super::Gathering;
use super::together::{all_called, together};
use crate::kind::Kind;
use serde::Serialize;
use tellmark_job::advice::{Mark, NotDone, Step};
use tellmark_job::record::PaperName;
use tellmark_language::model::{JobId, KindId, WorkStage};
use tellmark_language::words::{capital, list, plain_job_to_come, sentence, the_part};

/// Something that is left as it is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LeftAsItIs {
    /// "The surface of the top".
    pub what: String,
    /// Why, in sentences; may be empty.
    pub why: Vec<String>,
}

pub(super) fn left(g: &Gathering<'_>) -> Vec<LeftAsItIs> {
    let progress = g.matter.progress;
    let wanted = progress.left.iter().map(|told| {
        let names = named(&told.what.parts.names);
        let because = &told.what.because;
        let parts = &told.what.parts.indices;
        let mut after = progress.done().filter(|done| done.line > told.line);
        let is_there = |part: &usize| parts.iter().any(|&left| progress.is_within(*part, left));
        let works_on = |job: usize| parts.iter().any(|&part| progress.works_on(job, part));
        let is_touched = after.any(|done| {
            done.what.parts.indices.iter().any(is_there) || done.what.index.is_some_and(works_on)
        });
        let asked = match is_touched {
            false => "You asked us to leave it alone.",
            true => "You asked us to leave it alone, but for what we tell of above.",
        };
        LeftAsItIs {
            what: capital(&list(&names)),
            why: [asked.to_owned()]
                .into_iter()
                .chain(words_of(because))
                .chain(works_on_it(g, told.line))
                .collect(),
        }
    });
    let refused = progress
        .marks
        .iter()
        .filter(|told| told.what.mark == Mark::Refused);
    let refused = refused.map(|told| {
        let on = named(&told.what.parts.names);
        LeftAsItIs {
            what: match on.as_slice() {
                [] => capital(&told.what.job),
                on => capital(&list(on)),
            },
            why: refusal(&told.what.job, on.is_empty(), &told.what.words),
        }
    });
    let not_done = g.plan.not_done.iter().map(not_done);
    let open = open(g);
    wanted.chain(refused).chain(not_done).chain(open).collect()
}

/// That something which is planned works on what is to be left alone, by the line that says so.
fn works_on_it(g: &Gathering<'_>, line: usize) -> Option<String> {
    let is_of_it =
        |step: &&Step| !step.certain.is_empty() && step.left.iter().any(|left| left.line == line);
    let steps = g.plan.steps.iter().filter(is_of_it);
    let jobs: Vec<String> = steps.map(|step| to_come(g, step)).collect();
    let is_open = !jobs.is_empty() && g.kind != Kind::HandBack;
    is_open.then(|| {
        format!(
            "Some of what is planned works on it as well: we will {}. Tell us whether that may be.",
            list(&jobs)
        )
    })
}

/// What a step comes to in plain words, as it stands after "we will": "flatten the left leaf".
fn to_come(g: &Gathering<'_>, step: &Step) -> String {
    let model = g.matter.model();
    let part = step.certain.first().map_or("", String::as_str);
    let kind = g.part_named(part).map_or(KindId(0), |part| g.kind_of(part));
    let name = || {
        let job = model.jobs.get(step.job);
        job.map_or_else(String::new, |job| job.name.clone())
    };
    let Ok(job) = u16::try_from(step.job) else {
        return name();
    };
    let plain = plain_job_to_come(model, JobId(job), part, kind);
    let plain = plain.strip_prefix("We will ");
    plain.map_or_else(name, |rest| rest.trim_end_matches('.').to_owned())
}

/// That the owner will not have a job, and how they said so: in their answer to a paper, or in
/// words of their own.
fn refusal(job: &str, is_of_all: bool, words: &str) -> Vec<String> {
    let (how, words) = match PaperName::read(words) {
        Some(paper) => (format!(", in your answer to {paper}"), None),
        None => (String::new(), words_of(words)),
    };
    let said = match is_of_all {
        true => format!("You decided against it{how}."),
        false => format!("You decided against this{how}: {job}."),
    };
    std::iter::once(said).chain(words).collect()
}

/// What the plan still calls for as the piece goes home.
fn open(g: &Gathering<'_>) -> Vec<LeftAsItIs> {
    if g.kind != Kind::HandBack {
        return Vec::new();
    }
    let is_work = |step: &&Step| {
        let job = g.matter.model().jobs.get(step.job);
        !step.certain.is_empty() && job.is_some_and(|job| job.stage != WorkStage::Record)
    };
    let steps = g.plan.steps.iter().filter(is_work);
    let open = steps.map(|step| {
        let open = to_come(g, step);
        let certain = step.certain.iter().filter_map(|name| g.part_named(name));
        LeftAsItIs {
            what: capital(&together(&named(&step.certain), &all_called(g, certain))),
            why: vec![format!("This is not done: {open}.")],
        }
    });
    open.collect()
}

fn not_done(not_done: &NotDone) -> LeftAsItIs {
    let on = named(&not_done.parts);
    LeftAsItIs {
        what: capital(&not_done.job),
        why: vec![format!(
            "It {} be called for{}{}; it is {}.",
            if not_done.is_certain { "would" } else { "may" },
            if on.is_empty() { "" } else { " on " },
            list(&on),
            not_done.reason()
        )],
    }
}

fn named(names: &[String]) -> Vec<String> {
    names.iter().map(|name| the_part(name)).collect()
}

/// A person's own words, as a sentence.
fn words_of(words: &str) -> Option<String> {
    (!words.is_empty()).then(|| sentence(words))
}
