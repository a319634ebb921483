//! What a job is done about.

use std::collections::BTreeSet;
use tellmark_compile::meaning::tests;
use tellmark_language::model::{Found, Model, Nature, Predicate, SignId, StateId, WorkStage};

/// Whether a job (by its index) may have put right what a finding says: a rule plans it from that.
/// Not where the rules say which jobs mend it, nor of a job that only finds something out or
/// writes something down.
#[must_use]
pub fn may_treat(model: &Model, job: usize, found: &Found) -> bool {
    let is_work = model
        .jobs
        .get(job)
        .is_some_and(|job| job.until.is_empty() && job.stage != WorkStage::Record);
    let is_mended = match *found {
        Found::State { state, .. } => model.jobs.iter().any(|job| job.mends.contains(&state)),
        _ => false,
    };
    is_work && !is_mended && is_about(model, job, found)
}

/// The jobs, by their indices, that the rules plan from what a finding says, or that mend what it
/// points to.
#[must_use]
pub fn jobs_about(model: &Model, found: &Found) -> Vec<usize> {
    let state = match *found {
        Found::State { state, .. } => Some(state),
        _ => None,
    };
    let jobs = model.jobs.iter().enumerate();
    let about = jobs.filter(|(at, job)| {
        let points_to = |fault: &StateId| {
            state.is_some_and(|state| shown_by(model, &[*fault]).contains(&state))
        };
        is_about(model, *at, found) || job.mends.iter().any(points_to)
    });
    about.map(|(at, _)| at).collect()
}

/// What some faults bring about, by way of one another or by themselves, and what points to them:
/// the signs by which they are known.
#[must_use]
pub fn shown_by(model: &Model, faults: &[StateId]) -> BTreeSet<StateId> {
    let mut shown: BTreeSet<StateId> = faults.iter().copied().collect();
    loop {
        let before = shown.len();
        for rule in &model.rules {
            let mut is_reason = false;
            tests(&rule.when, &mut |test| {
                is_reason |= matches!(
                    test.what,
                    Predicate::State { state, yes: true, .. } if shown.contains(&state)
                );
            });
            if is_reason {
                shown.extend(rule.results());
            }
        }
        let means = model
            .means
            .iter()
            .filter(|means| shown.contains(&means.fault));
        let signs: Vec<StateId> = means.map(|means| means.sign).collect();
        shown.extend(signs);
        let together = model
            .togethers
            .iter()
            .filter(|one| shown.contains(&one.fault));
        let signs: Vec<StateId> = together.flat_map(|one| one.signs.clone()).collect();
        shown.extend(signs);
        if shown.len() == before {
            return shown;
        }
    }
}

/// Whether a rule plans a job from what a finding says.
fn is_about(model: &Model, job: usize, found: &Found) -> bool {
    let (state, sign) = match *found {
        Found::State { state, .. } => (Some(state), sign_of(model, state)),
        Found::Measure { sign, .. } | Found::Choice { sign, .. } | Found::Degree { sign, .. } => {
            (None, Some(sign))
        }
        _ => return false,
    };
    let is_it = |of: StateId| Some(of) == state || (sign.is_some() && sign_of(model, of) == sign);
    let mut ladders = model.ladders.iter();
    let is_rung = ladders.any(|ladder| {
        let mut jobs = ladder
            .rungs
            .iter()
            .filter_map(|(_, job)| *job)
            .chain(ladder.more);
        Some(ladder.sign) == sign && jobs.any(|one| one.index() == job)
    });
    let mut plans = model.plans.iter().filter(|plan| plan.job.index() == job);
    is_rung
        || plans.any(|plan| {
            let mut is_read = false;
            tests(&plan.when, &mut |test| {
                is_read |= match test.what {
                    Predicate::State { state, .. } => is_it(state),
                    Predicate::Measure { sign: of, .. } | Predicate::Choice { sign: of, .. } => {
                        Some(of) == sign
                    }
                    Predicate::Has { .. } | Predicate::Placed { .. } | Predicate::CannotBeSeen => {
                        false
                    }
                };
            });
            is_read
        })
}

/// The sign that shows a state, if it is no hidden one.
fn sign_of(model: &Model, state: StateId) -> Option<SignId> {
    match model.states.get(state.index())?.nature {
        Nature::Seen(sign) | Nature::CountsAs { sign, .. } => Some(sign),
        Nature::Hidden { .. } => None,
    }
}
