//! One job in the place of another: what would do nothing, or something else than it says.

use super::Say;
use super::circles::circle;
use crate::numbers::numbers;
use crate::places::Places;
use crate::plans::{asks_about_parts, calls, number_of_calls, seen_from};
use crate::ties::always_before;
use std::collections::{BTreeMap, BTreeSet};
use tellmark_language::label::Label;
use tellmark_language::model::{Job, JobId, KindId, Model, Order, StandIn};
use tellmark_language::span::Span;
use tellmark_language::{Problem, words};

/// Says what is wrong with the sentences with "instead of"; `false` if nothing more can be
/// worked out.
pub(super) fn check(say: &mut Say<'_>, model: &Model) -> bool {
    if model.stand_ins.is_empty() {
        return true;
    }
    if in_a_circle(say, model) {
        return false;
    }
    // Where there are too many calls to list, that is said with the other limits.
    if number_of_calls(model).is_none_or(|number| number > usize::from(u16::MAX)) {
        return true;
    }
    let mut planned: BTreeMap<JobId, BTreeSet<KindId>> = BTreeMap::new();
    for call in calls(model) {
        planned.entry(call.job).or_default().insert(call.subject);
    }
    let mut needed_by: BTreeMap<JobId, (&Job, Label)> = BTreeMap::new();
    for job in &model.jobs {
        for (label, tied) in [(Label::First, &job.first), (Label::Then, &job.then)] {
            for other in tied {
                needed_by.entry(*other).or_insert((job, label));
            }
        }
    }
    let mut is_sound = true;
    for one in &model.stand_ins {
        is_sound &= is_planned_there(say, model, one, &planned)
            && is_tied_to_none(say, model, one, &needed_by);
    }
    is_sound
}

fn job(model: &Model, job: JobId) -> &str {
    super::job(model, job)
}

fn in_a_circle(say: &mut Say<'_>, model: &Model) -> bool {
    let mut others = vec![Vec::new(); model.jobs.len()];
    for one in &model.stand_ins {
        others[one.replaced.index()].push((one.job.index(), one.at));
    }
    let way = circle(model.jobs.len(), |job| others[job].clone());
    let Some(way) = way else { return false };
    let name = |at: usize| format!("\"{}\"", model.jobs[at].name);
    let mut names: Vec<String> = way.iter().map(|(job, _)| name(*job)).collect();
    names.extend(names.first().cloned());
    let sentences: BTreeSet<Span> = way.iter().map(|(_, at)| *at).collect();
    let sentences: Vec<Span> = sentences.into_iter().collect();
    let lines = say.lines(&sentences);
    let at = sentences.first().copied().unwrap_or_default();
    let circle = names.join(", then ");
    say.at(
        at,
        Problem::StandInCircle {
            circle: &circle,
            lines: &lines,
        },
    );
    true
}

/// The condition must be about what the replaced job is planned for, or what that is built
/// into; of the latter, it can ask only about the owner itself.
fn is_planned_there(
    say: &mut Say<'_>,
    model: &Model,
    one: &StandIn,
    planned: &BTreeMap<JobId, BTreeSet<KindId>>,
) -> bool {
    let none = BTreeSet::new();
    let subjects = planned.get(&one.replaced).unwrap_or(&none);
    let name = job(model, one.replaced);
    let a = |kind: KindId| words::a(&model.kinds[kind.index()].name);
    let (subject, all) = (
        a(one.subject),
        subjects.iter().map(|&kind| a(kind)).collect::<Vec<_>>(),
    );
    if subjects.is_empty() {
        say.at(one.replaced_at, Problem::NothingToStandInFor { job: name });
        return false;
    }
    let seen = |kind: KindId| seen_from(model, kind, one.subject);
    // Spelt out for several kinds, it may be for the jobs of one of them only.
    let others = model.stand_ins.iter().filter(|other| other.at == one.at);
    let is_for = |other: &StandIn| {
        let mut planned = subjects.iter();
        planned.any(|&kind| seen_from(model, kind, other.subject).is_some())
    };
    if !others.into_iter().any(is_for) {
        say.at(
            one.replaced_at,
            Problem::StandInElsewhere {
                job: name,
                planned: &words::list(&all),
                subject: &subject,
            },
        );
        return false;
    }
    let inside = subjects
        .iter()
        .find(|&&kind| seen(kind).flatten().is_some());
    match inside {
        Some(&kind) if asks_about_parts(&one.when) => {
            say.at(
                one.replaced_at,
                Problem::StandInOfOtherParts {
                    job: name,
                    planned: &a(kind),
                    subject: &subject,
                },
            );
            false
        }
        _ => true,
    }
}

/// What another job needs first is done for its sake, whatever stands in its place.
fn is_tied_to_none(
    say: &mut Say<'_>,
    model: &Model,
    one: &StandIn,
    needed_by: &BTreeMap<JobId, (&Job, Label)>,
) -> bool {
    let Some((other, label)) = needed_by.get(&one.replaced) else {
        return true;
    };
    let line = say.line(other.at);
    say.at(
        one.replaced_at,
        Problem::StandInForTied {
            label: label.words(),
            job: job(model, one.replaced),
            other: &other.name,
            line: &line,
            instead: job(model, one.job),
        },
    );
    false
}

/// Orders of work that name the replaced job and have no twin for the one in its place, of jobs
/// that may both be done on one piece.
pub(super) fn without_place(say: &mut Say<'_>, model: &Model, places: &Places) {
    if model.stand_ins.is_empty() {
        return;
    }
    let done_on = pieces_of_jobs(model, places);
    let mut orders: BTreeMap<JobId, Vec<&Order>> = BTreeMap::new();
    let mut ordered: BTreeSet<[JobId; 2]> = BTreeSet::new();
    for order in &model.orders {
        ordered.insert(both(order.before, order.after));
        for job in [order.before, order.after] {
            orders.entry(job).or_default().push(order);
        }
    }
    for (after, job) in numbers().map(JobId).zip(&model.jobs) {
        let tied = job.first.iter().chain(&job.then);
        ordered.extend(tied.map(|&tied| both(tied, after)));
    }
    for one in &model.stand_ins {
        for order in orders.get(&one.replaced).into_iter().flatten() {
            let is_before = order.before == one.replaced;
            let other = if is_before { order.after } else { order.before };
            if say.reading.files.are_of_two_families(one.at, order.at) {
                continue;
            }
            let is_replaced_too = model.stand_ins.iter().any(|beside| {
                (beside.replaced, beside.job, beside.subject) == (other, one.job, one.subject)
            });
            let there = roots(places, one.subject);
            let meets = !done_on[other.index()].is_disjoint(&there);
            let is_said = ordered.contains(&both(one.job, other))
                || (!is_before && before_its_first(model, other, one.job));
            let is_new = other != one.job && !is_said;
            if is_new && meets && !is_replaced_too {
                no_place(say, model, one, order);
            }
        }
    }
}

/// Whether a job always comes before one of those that another names after `First:`, which are
/// planned with it: then it comes before that one, too.
fn before_its_first(model: &Model, before: JobId, job: JobId) -> bool {
    let first_of = |job: JobId| model.jobs.get(job.index()).map(|job| job.first.as_slice());
    let mut open = vec![job];
    let mut seen = BTreeSet::new();
    while let Some(next) = open.pop() {
        for &first in first_of(next).into_iter().flatten() {
            if always_before(model, before, first) {
                return true;
            }
            if seen.insert(first) {
                open.push(first);
            }
        }
    }
    false
}

/// The pieces that have such a part, or are it.
fn roots(places: &Places, kind: KindId) -> BTreeSet<usize> {
    let all = places.of_subject(kind).into_iter();
    all.map(|place| places.root(place)).collect()
}

/// The pieces on which each job may be done: where it is planned, or tied to one that is.
fn pieces_of_jobs(model: &Model, places: &Places) -> Vec<BTreeSet<usize>> {
    let mut done_on = vec![BTreeSet::new(); model.jobs.len()];
    for call in calls(model) {
        done_on[call.job.index()].extend(roots(places, call.subject));
    }
    let mut grew = true;
    while grew {
        grew = false;
        for (at, job) in model.jobs.iter().enumerate() {
            for tied in job.first.iter().chain(&job.then) {
                let more = done_on[at].clone();
                let before = done_on[tied.index()].len();
                done_on[tied.index()].extend(more);
                grew |= done_on[tied.index()].len() > before;
            }
        }
    }
    done_on
}

/// Two jobs, whichever way round.
fn both(one: JobId, other: JobId) -> [JobId; 2] {
    [one.min(other), one.max(other)]
}

fn no_place(say: &mut Say<'_>, model: &Model, one: &StandIn, order: &Order) {
    let word = if order.always { "Always" } else { "Better" };
    let name = |id: JobId| {
        let id = if id == one.replaced { one.job } else { id };
        job(model, id)
    };
    let because = order.because.as_ref().map_or("", |_| ", because …");
    let right = format!(
        "{word} {} before you {}{because}.",
        name(order.before),
        name(order.after)
    );
    let said = format!(
        "{word} {} before you {}",
        job(model, order.before),
        job(model, order.after)
    );
    let line = say.line(order.at);
    say.at(
        one.at,
        Problem::StandInWithoutPlace {
            replaced: job(model, one.replaced),
            order: &said,
            line: &line,
            job: job(model, one.job),
            right: &right,
        },
    );
}
