//! What is worth looking at next.
//!
//! A fault that may be there costs something either way: left out of the plan
//! it costs what its `Missed:` line says, planned for nothing it costs the hours
//! of its job. The better of the two is taken, and what that is expected to cost
//! is the fault's loss. A check is worth what its answer is expected to take off
//! all losses together, for each minute it takes: exact, over every answer it
//! can have and every fault on the piece. (A measure is taken to come out clear
//! of every mark; close to one, its answer is worth less.)
//!
//! One pass for each fault, with that fault held true, gives its joint chance
//! with every answer to every check at once (A. Darwiche, "A differential
//! approach to inference in Bayesian networks", J. ACM 50, 2003).

use tellmark_core::inspection::Inspection;
use tellmark_core::number::UFloat;
use tellmark_core::pack::{Form, Nature as PackNature, Pack, Touch, Trial};
use tellmark_core::piece::{Answer, SetUpError};

use super::apply::SetUp;
use super::parts::part_ref;
use crate::compile::Asked;
use crate::model::{Minutes, SignId, StateId};
use crate::room::Room;
use crate::words;

/// What a check changes most.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The part.
    pub part: String,
    /// The fault.
    pub state: StateId,
    /// Its chance now.
    pub now: f64,
    /// The lowest and highest chance that an answer leads to.
    pub from_to: (f64, f64),
    /// What the check is expected to take off this fault's loss, in minutes.
    pub saves: f64,
}

/// A check that has not been made.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// Index of the part.
    pub part: usize,
    /// The sign.
    pub sign: SignId,
    /// "feel whether drawer 3 is twisting by hand".
    pub words: String,
    /// Minutes it takes.
    pub minutes: Minutes,
    /// How far it interferes.
    pub touch: Touch,
    /// What it is expected to take off the loss, in minutes.
    pub saves: f64,
    /// The same for each minute that it takes.
    pub worth: f64,
    /// What it changes most, first the most.
    pub changes: Vec<Change>,
}

/// What a fault costs, in minutes.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Costs {
    missed: f64,
    needless: f64,
}

impl Costs {
    /// The expected cost of the better choice, times the chance of being here.
    fn loss(self, with: f64, without: f64) -> f64 {
        (with * self.missed).min(without * self.needless)
    }
}

/// What a risk is reckoned to cost beside the hours, in minutes: nothing, half
/// an hour, two hours, a day, a week. A choice of this project, for risks 1
/// (nuisance) to 5 (loss of the piece or injury).
const RISK: [f64; 6] = [0.0, 0.0, 30.0, 120.0, 480.0, 2_400.0];
/// What a job is reckoned to take when no job says that it mends the fault.
const NO_JOB: f64 = 60.0;
/// What a check is reckoned to take when the house does not say.
const NO_TIME: Minutes = 1;
/// Savings below this, in minutes, are nothing.
const LEAST: f64 = 1e-3;
/// Changes named for each check.
const CHANGES: usize = 3;

struct Fault {
    part: usize,
    number: u16,
    state: StateId,
    chance: f64,
    costs: Costs,
}

/// A check with the chance of each of its answers, by what they say of the
/// states it decides.
struct Candidate {
    part: usize,
    ask: u16,
    sign: SignId,
    slip: f64,
    /// The states it decides, wider marks before narrower ones.
    states: Vec<u16>,
    kind: Kind,
    /// The chance of each outcome.
    chances: Vec<f64>,
    saves: Vec<(usize, f64, (f64, f64))>,
    total: f64,
}

#[derive(Clone, Copy, PartialEq)]
enum Kind {
    /// Yes or no, with a slip of the eye.
    Whether,
    /// Between marks, each within the one before.
    Marks,
    /// One of some values, or none of those that matter.
    Values,
}

/// The checks that have not been made, most worth making first; `None` if the
/// findings clash.
///
/// A check that interferes with the piece stands behind every gentler one that
/// is worth something for the same fault.
///
/// # Errors
/// If the piece cannot be set up.
pub fn next(set_up: &SetUp<'_>, pack: Pack<'_>) -> Result<Option<Vec<Check>>, SetUpError> {
    let mut room = Room::<UFloat>::default();
    let mut case = set_up.case(pack, &mut room)?;
    if case.inspection.settle().is_err() {
        return Ok(None);
    }
    let inspection = &mut case.inspection;
    let faults = faults(set_up, inspection);
    let mut candidates = candidates(set_up, inspection);
    for (i, fault) in faults.iter().enumerate() {
        weigh(inspection, fault, i, &mut candidates);
    }
    let mut checks: Vec<Check> = candidates
        .iter()
        .filter(|c| c.total > LEAST)
        .map(|c| check(set_up, inspection, &faults, c))
        .collect();
    // What reads the same stays in the order of the parts.
    let tenths = |minutes: f64| (minutes * 10.0).round();
    checks.sort_by(|a, b| tenths(b.worth).total_cmp(&tenths(a.worth)));
    Ok(Some(gentle_first(checks)))
}

fn faults(set_up: &SetUp<'_>, inspection: &mut Inspection<'_, '_, UFloat>) -> Vec<Fault> {
    let rows = &set_up.built.states.states;
    let pack = *inspection.pack();
    let mut found = Vec::new();
    for part in 0..inspection.piece().parts().len() {
        let place = usize::from(inspection.piece().part(part).place);
        for number in pack.states_of(place) {
            let row = &rows[usize::from(number)];
            let (PackNature::Hidden, Some(state)) = (row.nature, row.declared) else {
                continue;
            };
            let chance = inspection.chance(part, number).unwrap_or_default().as_f64();
            let missed = row.missed.map_or(0.0, |m| {
                f64::from(m.minutes) + RISK.get(usize::from(m.risk)).copied().unwrap_or(0.0)
            });
            if chance > 0.0 && chance < 1.0 && missed > 0.0 {
                found.push(Fault {
                    part,
                    number,
                    state,
                    chance,
                    costs: Costs {
                        missed,
                        needless: needless(set_up, state),
                    },
                });
            }
        }
    }
    found
}

/// The hours of the quickest job that mends the fault.
fn needless(set_up: &SetUp<'_>, state: StateId) -> f64 {
    let jobs = set_up.model.jobs.iter();
    jobs.filter(|job| job.mends.contains(&state))
        .filter_map(|job| job.takes.map(|takes| f64::from(takes.mostly)))
        .min_by(f64::total_cmp)
        .unwrap_or(NO_JOB)
}

fn candidates(set_up: &SetUp<'_>, inspection: &mut Inspection<'_, '_, UFloat>) -> Vec<Candidate> {
    let pack = *inspection.pack();
    let mut found = Vec::new();
    for part in 0..inspection.piece().parts().len() {
        let record = inspection.piece().part(part);
        if record.out_of_sight {
            continue;
        }
        for ask in pack.asks_of(usize::from(record.place)) {
            let is_open = inspection.piece().answer(&pack, part, ask) == Answer::NotLooked;
            let Asked::Sign(sign) = set_up.built.states.asks[usize::from(ask)].what else {
                continue;
            };
            let mut states: Vec<u16> = pack
                .states_of(usize::from(record.place))
                .filter(|&s| {
                    let row = &set_up.built.states.states[usize::from(s)];
                    row.in_use && row.ask == usize::from(ask)
                })
                .collect();
            if !is_open || states.is_empty() {
                continue;
            }
            states.sort_by_key(|&s| std::cmp::Reverse(width(pack.state(usize::from(s)).trial)));
            let details = pack.ask(usize::from(ask));
            let mut candidate = Candidate {
                part,
                ask,
                sign,
                slip: f64::from(details.slip) / 1000.0,
                states,
                kind: match details.form {
                    Form::Whether => Kind::Whether,
                    Form::Which { .. } => Kind::Values,
                    Form::HowMuch { .. } | Form::HowMany { .. } => Kind::Marks,
                },
                chances: Vec::new(),
                saves: Vec::new(),
                total: 0.0,
            };
            candidate.chances = candidate.outcomes(inspection);
            found.push(candidate);
        }
    }
    found
}

fn width(trial: Trial) -> i64 {
    match trial {
        Trial::Within(from, to) => i64::from(to) - i64::from(from),
        Trial::Yes | Trial::Value(_) => 0,
    }
}

impl Candidate {
    /// The chance of each answer, as things stand in the inspection.
    fn outcomes(&self, inspection: &mut Inspection<'_, '_, UFloat>) -> Vec<f64> {
        let chances: Vec<f64> = self
            .states
            .iter()
            .map(|&s| inspection.chance(self.part, s).unwrap_or_default().as_f64())
            .collect();
        match self.kind {
            Kind::Whether => {
                let yes = chances.first().copied().unwrap_or(0.0);
                let says_yes = (yes + (1.0 - yes) * self.slip) / (1.0 + self.slip);
                vec![1.0 - says_yes, says_yes]
            }
            // The states exclude each other.
            Kind::Values => {
                let rest = 1.0 - chances.iter().sum::<f64>();
                std::iter::once(rest.max(0.0)).chain(chances).collect()
            }
            Kind::Marks => bands(inspection.pack(), &self.states, &chances),
        }
    }
}

/// The chances between marks that lie one within the other. Marks on the two
/// sides of what is usual ("fewer than 2", "at least 4") exclude each other.
fn bands(pack: &Pack<'_>, states: &[u16], chances: &[f64]) -> Vec<f64> {
    let trial = |i: usize| match pack.state(usize::from(states[i])).trial {
        Trial::Within(from, to) => (from, to),
        Trial::Yes | Trial::Value(_) => (i32::MIN, i32::MAX),
    };
    let inside = |inner: usize, outer: usize| {
        let ((f, t), (of, ot)) = (trial(inner), trial(outer));
        inner != outer && of <= f && t <= ot
    };
    let mut within = vec![1.0];
    let mut bands = Vec::new();
    for i in 0..states.len() {
        let direct = (0..states.len())
            .filter(|&j| inside(j, i) && !(0..states.len()).any(|k| inside(j, k) && inside(k, i)));
        let inner: f64 = direct.map(|j| chances[j]).sum();
        bands.push((chances[i] - inner).max(0.0));
        let is_outermost = !(0..states.len()).any(|k| inside(i, k));
        if is_outermost {
            within.push(chances[i]);
        }
    }
    let outermost: f64 = within.iter().skip(1).sum();
    std::iter::once((1.0 - outermost).max(0.0))
        .chain(bands)
        .collect()
}

/// Adds what each check is expected to take off the loss of one fault.
fn weigh(
    inspection: &mut Inspection<'_, '_, UFloat>,
    fault: &Fault,
    index: usize,
    candidates: &mut [Candidate],
) {
    let pack = *inspection.pack();
    let state = pack.state(usize::from(fault.number));
    let before = inspection.answer(fault.part, state.ask, Answer::Certain(true));
    if inspection.settle().is_ok() {
        let now = fault.costs.loss(fault.chance, 1.0 - fault.chance);
        for candidate in candidates.iter_mut() {
            let given = candidate.outcomes(inspection);
            let mut after = 0.0;
            let mut from_to = (fault.chance, fault.chance);
            for (&all, &with) in candidate.chances.iter().zip(&given) {
                let with = (with * fault.chance).min(all);
                after += fault.costs.loss(with, all - with);
                if all > LEAST {
                    from_to.0 = f64::min(from_to.0, with / all);
                    from_to.1 = f64::max(from_to.1, with / all);
                }
            }
            let saves = now - after;
            if saves > LEAST {
                candidate.total += saves;
                candidate.saves.push((index, saves, from_to));
            }
        }
    }
    inspection.answer(fault.part, state.ask, before.unwrap_or_default());
}

fn check(
    set_up: &SetUp<'_>,
    inspection: &Inspection<'_, '_, UFloat>,
    faults: &[Fault],
    candidate: &Candidate,
) -> Check {
    let parts = inspection.piece().parts();
    let name = |part: usize| {
        let reference = part_ref(&set_up.built.places, parts, part);
        words::part_name(set_up.model, &reference)
    };
    let details = inspection.pack().ask(usize::from(candidate.ask));
    let minutes = match details.minutes {
        0 => NO_TIME,
        n => Minutes::from(n),
    };
    let mut changes = candidate.saves.clone();
    let tenths = |minutes: f64| (minutes * 10.0).round();
    changes.sort_by(|a, b| tenths(b.1).total_cmp(&tenths(a.1)));
    Check {
        part: candidate.part,
        sign: candidate.sign,
        words: words::sign_check(set_up.model, candidate.sign, &name(candidate.part)),
        minutes,
        touch: details.touch,
        saves: candidate.total,
        worth: candidate.total / f64::from(minutes),
        changes: changes
            .into_iter()
            .take(CHANGES)
            .map(|(fault, saves, from_to)| {
                let fault = &faults[fault];
                Change {
                    part: name(fault.part),
                    state: fault.state,
                    now: fault.chance,
                    from_to,
                    saves,
                }
            })
            .collect(),
    }
}

/// Moves each check behind the last gentler one whose main fault is the same.
fn gentle_first(checks: Vec<Check>) -> Vec<Check> {
    let main = |check: &Check| {
        let change = check.changes.first();
        change.map(|c| (c.part.clone(), c.state))
    };
    let mut ordered: Vec<Check> = Vec::with_capacity(checks.len());
    let mut waiting = checks;
    while !waiting.is_empty() {
        let next = (0..waiting.len())
            .find(|&i| {
                !waiting
                    .iter()
                    .any(|other| other.touch < waiting[i].touch && main(other) == main(&waiting[i]))
            })
            .unwrap_or(0);
        ordered.push(waiting.remove(next));
    }
    ordered
}
