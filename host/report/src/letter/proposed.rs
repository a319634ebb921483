//! What will be done, in which order, and how long that may take.

use super::super::kind::Kind;
use super::Gathering;
use super::pegs;
use serde::Serialize;
use tellmark_job::advice::{OneOf, OwnStep, Step};
use tellmark_language::model::{JobId, KindId, Minutes, Sureness, WorkStage};
use tellmark_language::words::{
    hours as in_hours, list, mention, minutes, plain_job_to_come, reaches, the_part,
};

/// A step of the work to come.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Proposed {
    /// "We will glue new blocks behind foot 3 of the base."
    pub says: String,
    /// The parts, where the sentence does not name them; may be empty.
    pub parts: String,
    /// Whether it is sure to be done.
    pub certain: bool,
    /// "about 1 h 30 each"; may be empty.
    pub takes: String,
    /// The owner decides before it.
    pub ask: bool,
}

/// How long it may take.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Hours {
    /// In a sentence.
    pub says: String,
    /// Drawn, for a wide page and for a narrow one.
    pub wide: String,
    /// For a narrow one.
    pub narrow: String,
}

pub(super) fn proposed(g: &Gathering<'_>) -> Vec<Proposed> {
    if g.kind == Kind::HandBack {
        return Vec::new();
    }
    let mut all: Vec<Proposed> = Vec::new();
    let mut told: Vec<&OneOf> = Vec::new();
    for step in &g.plan.steps {
        // A ladder is told once, where the first of its jobs stands.
        for open in step.one_of.iter().filter(|open| is_worth_telling(open)) {
            if !told.contains(&open) {
                all.push(by_measure(g, open));
                told.push(open);
            }
        }
        let step = without_ladders(step);
        if is_shown(&step) {
            all.push(one(g, &step));
        }
    }
    all.extend(g.plan.own.iter().map(|own| one_of_our_own(g, own)));
    all
}

/// A step without the parts on which it is one of several jobs, of which nobody knows which.
fn without_ladders(step: &Step) -> Step {
    let mut step = step.clone();
    let of_a_ladder = |part: &String| step.one_of.iter().any(|open| open.part == *part);
    step.perhaps.retain(|(part, _)| !of_a_ladder(part));
    step
}

/// Whether one of a ladder's jobs is called for, or probable.
fn is_worth_telling(open: &OneOf) -> bool {
    open.chance.is_none_or(is_probable)
}

/// "One of these, by what we measure: we will watch the crack; or we will glue it."
fn by_measure(g: &Gathering<'_>, open: &OneOf) -> Proposed {
    let model = g.matter.model();
    let part = g.part_named(&open.part);
    let kind = part.map_or(KindId(0), |part| g.kind_of(part));
    let ladder = model.ladders.get(open.ladder);
    let mut jobs: Vec<JobId> = Vec::new();
    for job in ladder.into_iter().flat_map(|ladder| {
        let rungs = ladder.rungs.iter().filter_map(|(_, job)| *job);
        rungs.chain(ladder.more)
    }) {
        if !jobs.contains(&job) {
            jobs.push(job);
        }
    }
    let said = jobs.iter().map(|&job| {
        let said = plain_job_to_come(model, job, &open.part, kind);
        let said = said.trim_end_matches('.');
        match said.strip_prefix("We ") {
            Some(rest) => format!("we {rest}"),
            None => said.to_owned(),
        }
    });
    let head = match open.chance {
        None => "One of these, by what we measure",
        Some(_) => "If it proves needed, one of these, by what we measure",
    };
    let times = jobs
        .iter()
        .filter_map(|job| model.jobs.get(job.index())?.takes);
    let times: Vec<Minutes> = times.map(|takes| takes.mostly).collect();
    let takes = match (times.iter().min(), times.iter().max()) {
        (Some(least), Some(most)) if least < most => {
            format!("about {} to {}", minutes(*least), minutes(*most))
        }
        (Some(least), _) => format!("about {}", minutes(*least)),
        _ => String::new(),
    };
    let ask = jobs.iter().any(|job| {
        let mut steps = g.plan.steps.iter();
        steps.any(|step| step.job == job.index() && step.to_ask)
    });
    Proposed {
        says: format!("{head}: {}.", said.collect::<Vec<_>>().join("; or ")),
        parts: match part {
            Some(0) => String::new(),
            _ => the_part(&open.part),
        },
        certain: open.chance.is_none(),
        takes,
        ask,
    }
}

/// Work that no rule plans, in the words of whoever planned it.
fn one_of_our_own(g: &Gathering<'_>, own: &OwnStep) -> Proposed {
    let is_whole = |name: &String| g.part_named(name) == Some(0);
    let named: Vec<String> = own.parts.iter().map(|name| the_part(name)).collect();
    let each = if named.len() > 1 { " each" } else { "" };
    Proposed {
        says: format!("We will do this: {}.", own.job.trim_end_matches('.')),
        parts: match own.parts.iter().all(is_whole) {
            true => String::new(),
            false => list(&named),
        },
        certain: true,
        takes: format!("about {}{each}", minutes(own.takes)),
        ask: false,
    }
}

/// How many more jobs the plan has than are shown: those that only what nobody has looked at
/// can call for.
pub(super) fn more(g: &Gathering<'_>) -> usize {
    if g.kind == Kind::HandBack {
        return 0;
    }
    let is_told = |step: &&Step| {
        let mut ladders = step.one_of.iter();
        is_shown(&without_ladders(step)) || ladders.any(is_worth_telling)
    };
    g.plan.steps.iter().filter(|step| !is_told(step)).count()
}

/// Whether a job is sure, or likely enough to be told of.
fn is_shown(step: &Step) -> bool {
    let likely = |chance: &Option<f64>| chance.is_some_and(is_probable);
    !step.certain.is_empty() || step.perhaps.iter().any(|(_, chance)| likely(chance))
}

fn is_probable(chance: f64) -> bool {
    reaches(chance, Sureness::Probably.percent())
}

fn one(g: &Gathering<'_>, step: &Step) -> Proposed {
    let model = g.matter.model();
    let certain = !step.certain.is_empty();
    let names: Vec<&str> = if certain {
        step.certain.iter().map(String::as_str).collect()
    } else {
        step.perhaps.iter().map(|(part, _)| part.as_str()).collect()
    };
    let first = names.first().copied().unwrap_or_default();
    let part = g.part_named(first);
    let kind = part.map_or(KindId(0), |part| g.kind_of(part));
    let job = JobId(u16::try_from(step.job).unwrap_or(u16::MAX));
    let job_words = model.plain.job(job).unwrap_or_default();
    let names_it = model
        .lineage(kind)
        .any(|kind| mention(model, job_words, kind).is_some());
    let mut says = plain_job_to_come(model, job, first, kind);
    let others: Vec<String> = names.iter().skip(1).map(|name| the_part(name)).collect();
    if names_it && !others.is_empty() {
        says = format!("{says} The same for {}.", list(&others));
    }
    if certain
        && !is_sure(g, step)
        && let Some(rest) = says.strip_prefix("We will ")
    {
        says = format!("Most likely we will {rest}");
    }
    if !certain && let Some(rest) = says.strip_prefix('W') {
        says = format!("If it proves needed, w{rest}");
    }
    let is_whole = part == Some(0);
    let named: Vec<String> = names.iter().map(|name| the_part(name)).collect();
    let each = if names.len() > 1 { " each" } else { "" };
    let job = model.jobs.get(step.job);
    Proposed {
        says,
        parts: if names_it || is_whole {
            String::new()
        } else {
            list(&named)
        },
        certain,
        takes: job
            .and_then(|job| job.takes)
            .map_or_else(String::new, |time| {
                format!("about {}{each}", minutes(time.mostly))
            }),
        ask: step.to_ask,
    }
    .without_time_of_record(job.map(|job| job.stage))
}

/// Whether it is as good as certain that what is planned is done, as the quotation has it.
fn is_sure(g: &Gathering<'_>, step: &Step) -> bool {
    let name = g.matter.model().jobs.get(step.job);
    let items = g
        .matter
        .quoted
        .map_or(&[][..], |quoted| &quoted.quote.items);
    let mut of_it = items.iter().filter(|item| {
        name.is_some_and(|job| job.name == item.job) && step.certain.contains(&item.part)
    });
    let surely = Sureness::Surely.percent();
    of_it.all(|item| item.certain || item.chance.is_none_or(|chance| reaches(chance, surely)))
}

impl Proposed {
    /// What is written down beside the work is not worth a figure to an owner.
    fn without_time_of_record(mut self, stage: Option<WorkStage>) -> Self {
        if stage == Some(WorkStage::Record) {
            self.takes.clear();
        }
        self
    }
}

pub(super) fn hours(g: &Gathering<'_>) -> Option<Hours> {
    if g.kind == Kind::HandBack {
        return None;
    }
    let quote = g.matter.quoted?.quote;
    if quote.items.is_empty() {
        return None;
    }
    let mut at = [0.0; 10];
    for (hours, share) in at
        .iter_mut()
        .zip([0.05, 0.15, 0.25, 0.35, 0.45, 0.55, 0.65, 0.75, 0.85, 0.95])
    {
        *hours = quote.total.point(share);
    }
    let left = match g.kind {
        Kind::Progress => "what is left",
        _ => "the work",
    };
    Some(Hours {
        says: format!(
            "With everything that may still come to light, {left} takes no more than {} in one of \
             ten pieces like yours, no more than {} in five, and no more than {} in nine.",
            in_hours(quote.hours.p10),
            in_hours(quote.hours.p50),
            in_hours(quote.hours.p90)
        ),
        wide: pegs::rule_of_hours(&at, true),
        narrow: pegs::rule_of_hours(&at, false),
    })
}
