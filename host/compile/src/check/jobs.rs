//! Checks of what jobs say of themselves: those that nothing plans, those that would find out
//! what is known or what they are never done for, and those that must follow one another and
//! may not be planned together.

use std::collections::HashSet;

use super::Say;
use crate::numbers::numbers;
use crate::places::Places;
use crate::plans::calls;
use tellmark_language::model::{
    Condition, JobId, KindId, Model, Nature, PIECE, Predicate, Reach, StateId, Test,
};
use tellmark_language::{Problem, words};

/// Every such message.
pub(super) fn check(say: &mut Say<'_>, model: &Model, places: &Places) {
    unplanned(say, model);
    once_for_no_owner(say, model, places);
    found_out_elsewhere(say, model);
    found_out_before(say, model);
    tied_and_excluded(say, model);
}

/// Jobs that would find out something of a part that they are never done for.
fn found_out_elsewhere(say: &mut Say<'_>, model: &Model) {
    let calls = calls(model);
    let a = |kind: KindId| words::a(&model.kinds[kind.index()].name);
    for (id, job) in numbers().map(JobId).zip(&model.jobs) {
        let planned = calls.iter().filter(|call| call.job == id);
        let mut done_for: Vec<KindId> = match job.once_for {
            Some(kind) => vec![kind],
            None => planned.map(|call| call.subject).collect(),
        };
        done_for.dedup();
        let of = |state: StateId| model.states[state.index()].kind;
        let is_same = |kind: KindId, of: KindId| {
            let is_piece = |kind: KindId| model.kinds[kind.index()].is_piece;
            model.are_kin(kind, of) || (is_piece(kind) && is_piece(of))
        };
        let mut asked = job.until.iter().map(|&state| of(state));
        let Some(first) = job.until.first().map(|&state| of(state)) else {
            continue;
        };
        let fits = asked.any(|of| done_for.iter().any(|&kind| is_same(kind, of)));
        if !fits && let Some(&kind) = done_for.first() {
            say.at(
                job.at,
                Problem::UntilOfAnother {
                    job: &job.name,
                    done_for: &a(kind),
                    of: &a(first),
                },
            );
        }
    }
}

fn unplanned(say: &mut Say<'_>, model: &Model) {
    let called = calls(model).into_iter();
    let mut planned: HashSet<usize> = called.map(|call| call.job.index()).collect();
    let mut open: Vec<usize> = planned.iter().copied().collect();
    while let Some(job) = open.pop() {
        let job = &model.jobs[job];
        for tied in job.first.iter().chain(&job.then) {
            if planned.insert(tied.index()) {
                open.push(tied.index());
            }
        }
    }
    for (i, job) in model.jobs.iter().enumerate() {
        if !planned.contains(&i) {
            say.at(job.at, Problem::NeverPlanned { job: &job.name });
        }
    }
}

/// Jobs that are planned only from what they would find out: then it is known, and they are not
/// done.
fn found_out_before(say: &mut Say<'_>, model: &Model) {
    let calls = calls(model);
    for (id, job) in numbers().map(JobId).zip(&model.jobs) {
        let is_tied = |other: &tellmark_language::model::Job| {
            other.first.contains(&id) || other.then.contains(&id)
        };
        if model.jobs.iter().any(is_tied) {
            continue;
        }
        let mut planned = calls.iter().filter(|call| call.job == id).peekable();
        if planned.peek().is_none() {
            continue;
        }
        let knows_one = |when: &Condition| job.until.iter().find(|&&s| knows(model, when, s));
        let known: Option<Vec<&StateId>> = planned.map(|call| knows_one(&call.when)).collect();
        let Some(&&state) = known.as_ref().and_then(|known| known.first()) else {
            continue;
        };
        let kind = &model.kinds[model.states[state.index()].kind.index()].name;
        let sign = words::state_phrase(model, &words::a(kind), state, true);
        say.at(
            job.at,
            Problem::UntilKnownBefore {
                job: &job.name,
                sign: &sign,
            },
        );
    }
}

/// Whether it is known of a part, one way or the other, if this holds for it.
fn knows(model: &Model, when: &Condition, state: StateId) -> bool {
    match when {
        Condition::All(all) => all.iter().any(|one| knows(model, one, state)),
        Condition::Any(any) => !any.is_empty() && any.iter().all(|one| knows(model, one, state)),
        Condition::AtLeast(..) => false,
        Condition::Test(Test { whose, what, .. }) => {
            let is_seen = matches!(model.states[state.index()].nature, Nature::Seen(_));
            let is_it = matches!(what, Predicate::State { state: of, .. } if *of == state);
            *whose == Reach::Own && is_seen && is_it
        }
    }
}

/// Jobs that are done once for something, and are called for by what is built into no such thing:
/// they would be done for that, and once more for whatever else calls for them.
fn once_for_no_owner(say: &mut Say<'_>, model: &Model, places: &Places) {
    let name = |kind: KindId| words::a(&model.kinds[kind.index()].name);
    let mut said = HashSet::new();
    for call in calls(model) {
        let job = &model.jobs[call.job.index()];
        let Some(once_for) = job.once_for else {
            continue;
        };
        let stands = places.of_subject(call.subject);
        let is_one = |place: usize| model.is_kind_of(places.kind(place), once_for);
        let is_in_one = |&place: &usize| {
            let mut owners = std::iter::successors(Some(place), |&at| places.owner(at));
            owners.any(is_one)
        };
        let is_it = model.are_kin(call.subject, once_for);
        if is_it || once_for == PIECE || stands.is_empty() || stands.iter().any(is_in_one) {
            continue;
        }
        if said.insert((call.job, call.subject)) {
            say.at(
                call.at(model),
                Problem::OnceForNoOwner {
                    job: &job.name,
                    once_for: &name(once_for),
                    subject: &name(call.subject),
                    once: &model.kinds[once_for.index()].name,
                    of: &model.kinds[call.subject.index()].name,
                },
            );
        }
    }
}

/// Jobs that lead to one another, and that are never to be planned together.
fn tied_and_excluded(say: &mut Say<'_>, model: &Model) {
    let job = |id: JobId| &model.jobs[id.index()];
    let leads = |one: JobId, other: JobId| {
        job(one).then.contains(&other) || job(other).first.contains(&one)
    };
    for exclusion in &model.exclusions {
        let (one, other) = (exclusion.one, exclusion.other);
        let Some((before, after)) = [(one, other), (other, one)]
            .into_iter()
            .find(|&(before, after)| leads(before, after))
        else {
            continue;
        };
        let is_then = job(before).then.contains(&after);
        let says = if is_then { before } else { after };
        let label = if is_then { "Then:" } else { "First:" };
        let line = say.line(job(says).at);
        say.at(
            exclusion.said_at,
            Problem::ExcludedAndTied {
                before: &job(before).name,
                after: &job(after).name,
                label,
                line: &line,
            },
        );
    }
}
