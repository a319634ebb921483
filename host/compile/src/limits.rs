//! What a pack and the bench unit have room for, seen to before anything is built. Each
//! limit that a sentence can go past names that sentence.

use std::collections::HashMap;

use tellmark_core::limits::{MAX_GAUGE, MAX_MARKS, MAX_STEPS};
use tellmark_core::pack::{NONE, Trial};

use crate::meaning::tests;
use crate::plans::{MOST_BEHIND, calls, number_of_calls};
use crate::problem::{Capacity, TooMuch};
use crate::rules::Rules;
use crate::ties::ties;
use tellmark_language::model::{Asks, Condition, Model, Placing, Predicate, Reach, SignId};
use tellmark_language::span::Span;

/// The largest number that half a word holds.
const HALF: usize = NONE as usize - 1;

/// Whether everything but the belief network fits.
///
/// # Errors
/// The first thing that does not.
pub(super) fn check(rules: Rules<'_>) -> Result<(), TooMuch> {
    let model = rules.model;
    values(model)?;
    marks(rules)?;
    steps(model)?;
    minutes(model)?;
    gauges(model)?;
    replaced(model)?;
    conditions(model)?;
    sentences(model)
}

fn at_most(what: Capacity, found: usize, most: usize, at: Span) -> Result<(), TooMuch> {
    if found <= most {
        return Ok(());
    }
    Err(TooMuch {
        what,
        found,
        most,
        at: Some(at),
    })
}

fn values(model: &Model) -> Result<(), TooMuch> {
    for sign in &model.signs {
        if let Asks::Which { values, .. } = &sign.asks {
            at_most(Capacity::Values, values.len(), MAX_MARKS, sign.at)?;
        }
    }
    Ok(())
}

/// Marks that are told apart when a check is weighed; where there are too many, the last
/// sentence that reads one is named.
fn marks(rules: Rules<'_>) -> Result<(), TooMuch> {
    let mut of_ask: HashMap<u16, usize> = HashMap::new();
    for row in &rules.states.states {
        if row.in_use && row.trial != Trial::Yes {
            *of_ask.entry(row.ask).or_default() += 1;
        }
    }
    for (number, sign) in crate::numbers::numbers().zip(&rules.model.signs) {
        let sign_id = SignId(number);
        let found = of_ask.get(&rules.states.ask(sign_id)).copied();
        let at = last_that_reads(rules.model, sign_id).unwrap_or(sign.at);
        at_most(Capacity::Marks, found.unwrap_or_default(), MAX_MARKS, at)?;
    }
    Ok(())
}

fn last_that_reads(model: &Model, sign: SignId) -> Option<Span> {
    let reads = |condition: &Condition| {
        let mut found = false;
        tests(condition, &mut |test| {
            if let Reach::Down {
                only: Some(place), ..
            } = &test.whose
            {
                found |= reads_place(place, sign);
            }
            found |= match &test.what {
                Predicate::Measure { sign: read, .. } | Predicate::Choice { sign: read, .. } => {
                    *read == sign
                }
                Predicate::Has { part, .. } => {
                    model.signs[sign.index()].asks == Asks::HowMany(*part)
                }
                Predicate::Placed { place, .. } => reads_place(place, sign),
                Predicate::State { .. } | Predicate::CannotBeSeen => false,
            };
        });
        found
    };
    let conditions = |rule: &&tellmark_language::model::Rule| {
        reads(&rule.when) || rule.unless.as_ref().is_some_and(reads)
    };
    let found = model.rules.iter().filter(conditions);
    found.map(|rule| rule.at).max()
}

fn reads_place(place: &Placing, sign: SignId) -> bool {
    place.at.iter().any(|&(read, _)| read == sign)
}

fn steps(model: &Model) -> Result<(), TooMuch> {
    for round in &model.rounds {
        let over = round.steps.get(MAX_STEPS).map_or(round.at, |step| step.at);
        at_most(Capacity::Steps, round.steps.len(), MAX_STEPS, over)?;
    }
    Ok(())
}

fn minutes(model: &Model) -> Result<(), TooMuch> {
    let jobs = model.jobs.iter().map(|job| {
        let takes = job.takes.map_or(0, |t| t.least.max(t.mostly).max(t.most));
        let waits = job.waits.map_or(0, |(a, b)| a.max(b));
        (takes.max(waits), job.at)
    });
    let signs = model.signs.iter();
    let signs = signs.map(|sign| (sign.takes.unwrap_or_default(), sign.at));
    let states = model.states.iter().map(|state| {
        let minutes = match state.nature {
            tellmark_language::model::Nature::Hidden { missed } => missed.map(|m| m.minutes),
            _ => None,
        };
        (minutes.unwrap_or_default(), state.at)
    });
    for (minutes, at) in jobs.chain(signs).chain(states) {
        at_most(Capacity::Minutes, minutes as usize, u16::MAX.into(), at)?;
    }
    Ok(())
}

fn gauges(model: &Model) -> Result<(), TooMuch> {
    for sign in &model.signs {
        if let Asks::HowMuch { gauge, .. } = sign.asks {
            // A gauge that is out by less than nothing does not exist.
            let ticks = usize::try_from(gauge).unwrap_or_default();
            at_most(Capacity::Gauge, ticks, MAX_GAUGE.into(), sign.at)?;
        }
    }
    Ok(())
}

/// Sentences with "instead of" that stand one behind the other can make very many plans of
/// one.
fn replaced(model: &Model) -> Result<(), TooMuch> {
    let at = model.stand_ins.last().map_or(Span::default(), |one| one.at);
    match number_of_calls(model) {
        Some(found) => at_most(Capacity::Sentences, found, HALF, at),
        None => at_most(Capacity::Behind, MOST_BEHIND + 1, MOST_BEHIND, at),
    }
}

/// The opposite of one clause may take so many looks.
const LOOKS_OF_OPPOSITE: usize = 3;

/// A jump in a condition's program reaches so far, and no clause is longer than this.
const LONGEST_CLAUSE: usize = 16;

fn conditions(model: &Model) -> Result<(), TooMuch> {
    for call in calls(model) {
        let mut clauses = 0;
        tests(&call.when, &mut |_| clauses += 1);
        for turn in &call.turns {
            tests(&turn.when, &mut |_| clauses += LOOKS_OF_OPPOSITE);
        }
        let at = call.turns.last();
        let at = at.map_or_else(|| call.at(model), |turn| model.stand_ins[turn.stand_in].at);
        at_most(Capacity::Condition, clauses, HALF / LONGEST_CLAUSE, at)?;
    }
    let exclusions = model.exclusions.iter();
    let exclusions = exclusions.filter_map(|e| Some((&e.when.as_ref()?.1, e.at)));
    let cautions = model.cautions.iter().map(|c| (&c.when, c.at));
    let datings = model.datings.iter();
    let datings = datings.filter_map(|d| Some((d.when.as_ref()?, d.at)));
    let relatives = model.relatives.iter();
    let relatives = relatives.filter_map(|r| Some((r.when.as_ref()?, r.at)));
    let tells = model.tells.iter().map(|t| (&t.when, t.at));
    let datings = datings.chain(relatives).chain(tells);
    let steps = model.rounds.iter().flat_map(|round| &round.steps);
    let steps = steps.filter_map(|s| Some((s.only_if.as_ref()?, s.at)));
    let only_ifs = model.only_ifs.iter().map(|o| (&o.when, o.at));
    let looked_at = exclusions.chain(cautions).chain(datings).chain(steps);
    for (condition, at) in looked_at.chain(only_ifs) {
        let mut clauses = 0;
        tests(condition, &mut |_| clauses += 1);
        at_most(Capacity::Condition, clauses, HALF / LONGEST_CLAUSE, at)?;
    }
    Ok(())
}

/// Sentences of each sort, by their numbers in a pack.
fn sentences(model: &Model) -> Result<(), TooMuch> {
    let steps = model.rounds.iter().map(|round| round.steps.len()).sum();
    let reasons = model.rules.len() + model.means.len() + model.togethers.len();
    let mends = model.jobs.iter().map(|job| job.mends.len()).sum::<usize>();
    let counts = [
        calls(model).len(),
        model.jobs.len(),
        ties(model).len() + model.orders.len(),
        model.cautions.len(),
        model.datings.len(),
        model.rounds.len(),
        steps,
        mends + model.exclusions.len(),
        reasons,
        model.only_ifs.len(),
    ];
    for found in counts {
        if found > HALF {
            return Err(TooMuch {
                what: Capacity::Sentences,
                found,
                most: HALF,
                at: None,
            });
        }
    }
    Ok(())
}
