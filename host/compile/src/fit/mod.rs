//! Makes `If <sign>, that usually means <fault>` come true.
//!
//! Such a sentence is a statement about the finished rules: of the pieces on
//! which the restorer says yes to this sign, and nothing else is known, the
//! fault is there that often. What can be fitted is how often the sign shows
//! when nothing is wrong (its false-alarm chance) and, where no `If … then …`
//! sentence gives it, how often the fault shows the sign. An ordinary yes
//! allows for a slip of the eye, and the fit counts that in; so does one to the name
//! of a mark on a measure, when it is judged by eye.
//!
//! Everything but the sign's own chance and its links is exact: the joint
//! chances of the faults and of the sign's other causes come from the compiled
//! rules without them.

mod joint;
mod reached;
mod reading;
mod solve;
mod together;

use std::collections::{HashMap, HashSet};

use tellmark_core::inspection::Inspection;
use tellmark_core::limits::MAX_DEGREE;

pub use reached::Reached;
pub use together::ReachedTogether;

use crate::fitted::Fitted;
use crate::meaning::tests;
use crate::packing::Packed;
use crate::places::Places;
use crate::problem::Problem;
use crate::room::{PackBytes, Room};
use crate::rules::Rules;
use joint::Joint;
use reading::Reading;
use tellmark_language::model::{Model, Predicate, StateId};

/// How far a `that means` sentence may miss its figure.
pub const TOLERANCE: f64 = 0.02;

/// Fits every `that means` sentence. Signs that are themselves causes of something come
/// first, so that what depends on them sees them as they will be.
///
/// # Errors
/// The rules without these sentences do not fit the bench unit.
pub fn fit(rules: Rules<'_>) -> Result<Fitted, Problem> {
    let mut fitted = fit_signs(rules, Fitted::default())?;
    if rules.model.togethers.is_empty() {
        return Ok(fitted);
    }
    // What several signs mean hangs on what each of them means, and the other way round.
    for _ in 0..ROUNDS {
        let before = fitted.clone();
        for number in 0..rules.model.togethers.len() {
            together::solve(rules, number, &mut fitted)?;
        }
        if fitted == before {
            break;
        }
        if !rules.model.means.is_empty() {
            fitted = fit_signs(rules, fitted.only_together())?;
        }
    }
    Ok(fitted)
}

/// How often the two sorts of sentences are fitted in turn, at most.
const ROUNDS: usize = 12;

/// Fits every sentence about one sign, the figures of those about several being given.
fn fit_signs(rules: Rules<'_>, mut fitted: Fitted) -> Result<Fitted, Problem> {
    let readings = reading::readings(rules);
    // Nothing linked, and no false alarms yet.
    for reading in &readings {
        fitted.set_false_alarm(reading.place, rules.states.declared(reading.sign), 0.0);
    }
    let read = read_by_rules(rules.model);
    let (causes, rest): (Vec<_>, Vec<_>) =
        readings.into_iter().partition(|r| read.contains(&r.sign));
    for generation in [causes, rest] {
        if generation.is_empty() {
            continue;
        }
        let ruled_out = ruled_out(rules, &generation, &fitted)?;
        let packed = Packed::of(rules, &fitted, &|_| String::new())?;
        let mut next = fitted.clone();
        with_pieces(rules.places, &packed.bytes, |inspection, root| {
            for reading in in_piece(rules, &generation, root) {
                if let Some(mut joint) = Joint::of(rules, inspection, reading) {
                    let at = (reading.place, reading.sign);
                    joint.rule_out(ruled_out.get(&at).map_or(&[], Vec::as_slice));
                    solve::solve(rules, &joint, reading, &mut next);
                }
            }
        });
        fitted = next;
    }
    Ok(fitted)
}

/// Of signs that can be there only if something is so: the joint chances of the faults
/// with its being ruled out. Where a sign would show by itself whenever it can, it does
/// not show just where it is ruled out.
fn ruled_out(
    rules: Rules<'_>,
    readings: &[Reading],
    fitted: &Fitted,
) -> Result<HashMap<(usize, StateId), Vec<f64>>, Problem> {
    let Rules { model, states, .. } = rules;
    let only_ifs = model.only_ifs.iter();
    let limited: HashSet<usize> = only_ifs.flat_map(|o| states.with(model, o.state)).collect();
    let is_limited = |sign: StateId| limited.contains(&states.declared(sign));
    let limited = || readings.iter().filter(|r| is_limited(r.sign));
    let mut found = HashMap::new();
    if limited().next().is_none() {
        return Ok(found);
    }
    let mut showing = fitted.clone();
    for reading in limited() {
        showing.set_false_alarm(reading.place, rules.states.declared(reading.sign), 1.0);
    }
    let packed = Packed::of(rules, &showing, &|_| String::new())?;
    with_pieces(rules.places, &packed.bytes, |inspection, root| {
        let places = root..rules.places.get(root).end;
        for reading in limited().filter(|r| places.contains(&r.place)) {
            if let Some(joint) = Joint::of(rules, inspection, reading) {
                found.insert((reading.place, reading.sign), joint.without_sign());
            }
        }
    });
    Ok(found)
}

/// What every `that means` sentence comes to in this pack, on each kind of piece as it
/// usually is.
#[must_use]
pub fn reached(rules: Rules<'_>, bytes: &PackBytes) -> Vec<Reached> {
    let readings = reading::readings(rules);
    let mut reached = Vec::new();
    with_pieces(rules.places, bytes, |inspection, root| {
        for reading in in_piece(rules, &readings, root) {
            reached.extend(reached::reached(rules, inspection, reading));
        }
    });
    reached
}

/// What every sentence about several signs comes to in this pack.
#[must_use]
pub fn reached_together(rules: Rules<'_>, bytes: &PackBytes) -> Vec<ReachedTogether> {
    together::reached(rules, bytes)
}

/// The signs that stand in the piece with this root.
fn in_piece<'r>(
    rules: Rules<'_>,
    readings: &'r [Reading],
    root: usize,
) -> impl Iterator<Item = &'r Reading> + use<'r> {
    let places = root..rules.places.get(root).end;
    readings.iter().filter(move |r| places.contains(&r.place))
}

/// Calls `each` with every kind of piece as it usually is, all parts there.
pub(crate) fn with_pieces(
    places: &Places,
    bytes: &PackBytes,
    mut each: impl FnMut(&mut Inspection<'_, '_, f64>, usize),
) {
    let Ok(pack) = bytes.open() else { return };
    let mut room: Room<f64> = Room::default();
    for root in (0..places.len()).filter(|&p| places.owner(p).is_none()) {
        let usual = |_: &[_], _, place| {
            let record = pack.place(place);
            record.usual.max(1).min(record.most)
        };
        if let Ok(mut inspection) = room.inspection(pack, root, usual) {
            each(&mut inspection, root);
        }
    }
}

/// Every state that a rule reads.
fn read_by_rules(model: &Model) -> HashSet<StateId> {
    let mut read = HashSet::new();
    let of_rules = model.rules.iter();
    let of_rules = of_rules.flat_map(|rule| std::iter::once(&rule.when).chain(&rule.unless));
    let of_only_ifs = model.only_ifs.iter().map(|only_if| &only_if.when);
    for condition in of_rules.chain(of_only_ifs) {
        tests(condition, &mut |test| match test.what {
            Predicate::State { state, .. } => {
                read.insert(state);
            }
            Predicate::Measure { sign, .. } => {
                let degrees = (1..=MAX_DEGREE).map_while(|d| model.from_degree(sign, d));
                read.extend(degrees);
            }
            _ => {}
        });
    }
    read
}
