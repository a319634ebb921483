//! What is worth looking at next, in words: [`tellmark_core::looking`] says what
//! each check is worth.

use std::collections::BTreeMap;

use tellmark_core::inspection::Inspection;
use tellmark_core::looking::{self, Candidate, Looking, Minutes as Saved, NotStarted, Progress};
use tellmark_core::number::{Number, UFloat};
use tellmark_core::pack::{Pack, Touch};
use tellmark_core::piece::SetUpError;

use super::later_looks::{self, Fault};
use tellmark_compile::Asked;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Case, Later, SetUp, part_ref};
use tellmark_language::model::{KindId, Minutes, Model, SignId, StateId, Step};
use tellmark_language::words;

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
    /// What the part is called.
    pub part_name: String,
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

/// The checks that are worth most within some time, in the order in which one walks round the
/// piece: a short look over. Nothing is opened or taken off for it.
#[must_use]
pub fn short_round<'c>(
    model: &Model,
    piece: KindId,
    checks: &'c [Check],
    within: Minutes,
) -> Vec<&'c Check> {
    let mut left = within;
    let mut taken: Vec<&Check> = Vec::new();
    for check in checks.iter().filter(|check| check.touch != Touch::ALot) {
        if check.minutes <= left {
            left -= check.minutes;
            taken.push(check);
        }
    }
    let place = |check: &Check| (place_in_round(model, piece, check.sign), check.part);
    taken.sort_by_key(|check| place(check));
    taken
}

/// Where a sign is looked at in the round of a kind of piece; last if it is in none.
fn place_in_round(model: &Model, piece: KindId, sign: SignId) -> usize {
    let declared = model.signs.len() - model.inherited.signs.len();
    // "A bracket foot is damp" is looked at where a foot's damp is.
    let general = sign
        .index()
        .checked_sub(declared)
        .and_then(|like| model.inherited.signs.get(like).copied());
    let round = model.lineage(piece).find_map(|kind| {
        let mut rounds = model.rounds.iter();
        rounds.find(|round| round.piece == kind)
    });
    let is_it = |step: &Step| step.sign == sign || Some(step.sign) == general;
    round
        .and_then(|round| round.steps.iter().position(is_it))
        .unwrap_or(usize::MAX)
}

/// Changes named for each check.
const CHANGES: usize = 3;

/// Everything that a check changes, by its part and ask.
type Changes = BTreeMap<(u16, u16), Vec<looking::Change>>;

/// The checks that have not been made, most worth making first; `None` if the
/// findings clash.
///
/// # Errors
/// If the piece cannot be set up.
pub fn next(set_up: &SetUp<'_>, pack: Pack<'_>) -> Result<Option<Vec<Check>>, SetUpError> {
    let mut room = Room::<UFloat>::default();
    let mut case = set_up.case(pack, &mut room)?;
    if let Some(later) = set_up.later {
        return Ok((!later.is_impossible()).then(|| next_of_now(set_up, later, &case)));
    }
    let inspection = &mut case.inspection;
    let need = looking::Need::of(inspection.pack(), inspection.piece());
    let mut candidates = vec![Candidate::default(); need.candidates];
    let mut numbers = vec![UFloat::ZERO; need.numbers];
    let mut looking = Looking::new(&mut candidates, &mut numbers);
    match looking.start(inspection) {
        Ok(()) => {}
        Err(NotStarted::Clash) => return Ok(None),
        Err(NotStarted::TooSmall(_)) => return Err(SetUpError::TooManyAnswers),
    }
    let mut changes = Changes::new();
    let mut note = |of: &Candidate, change| {
        changes.entry((of.part, of.ask)).or_default().push(change);
    };
    while looking.step(inspection, &mut note) == Progress::More {}
    let best = looking.best().iter();
    Ok(Some(
        best.filter_map(|candidate| check(set_up, inspection, candidate, &changes))
            .collect(),
    ))
}

/// What a check saves on a fault, and the lowest and highest chance that it leads to.
type SavedOn = (f64, Fault, (f64, f64));

/// What is less than this, in minutes, is left out.
const NOTHING: f64 = 0.001;

/// The same of the piece after something was mended.
fn next_of_now(set_up: &SetUp<'_>, later: &Later, case: &Case<'_, UFloat>) -> Vec<Check> {
    let inspection = &case.inspection;
    let (pack, ground) = (inspection.pack(), set_up.ground(inspection));
    let before = later.chances();
    let open = later_looks::open(inspection, &ground);
    let mut saved: Vec<Vec<SavedOn>> = vec![Vec::new(); open.len()];
    for fault in later_looks::faults(pack, &ground, later) {
        let Some(then) = later.chances_if(fault.state) else {
            continue;
        };
        for (check, saved) in open.iter().zip(&mut saved) {
            let Some(moves) = check.moves(fault.chance, &before, &then) else {
                continue;
            };
            let saves = fault.saved(&moves);
            if saves >= NOTHING {
                saved.push((saves, fault, later_looks::ends(fault.chance, &moves)));
            }
        }
    }
    let weighed = open
        .iter()
        .zip(saved)
        .filter(|(_, saved)| !saved.is_empty());
    let mut checks: Vec<(Check, (usize, u16))> = weighed
        .filter_map(|(check, mut saved)| {
            saved.sort_by(|a, b| b.0.total_cmp(&a.0));
            let main = saved
                .first()
                .map(|(_, fault, _)| (fault.part, fault.number))?;
            Some((of_now(set_up, inspection, check, &saved)?, main))
        })
        .collect();
    let tenths = |check: &Check| (check.worth * 10.0).round();
    checks.sort_by(|(a, _), (b, _)| tenths(b).total_cmp(&tenths(a)));
    // A check that interferes stands behind every gentler one for the same fault.
    for at in 0..checks.len() {
        let waiting = &mut checks[at..];
        let has_gentler = |(one, main): &(Check, (usize, u16))| {
            let mut others = waiting.iter();
            others.any(|(other, fault)| other.touch < one.touch && fault == main)
        };
        let next = waiting
            .iter()
            .position(|one| !has_gentler(one))
            .unwrap_or(0);
        waiting[..=next].rotate_right(1);
    }
    checks.into_iter().map(|(check, _)| check).collect()
}

fn of_now(
    set_up: &SetUp<'_>,
    inspection: &Inspection<'_, '_, UFloat>,
    check: &later_looks::Open,
    saved: &[SavedOn],
) -> Option<Check> {
    let states = &set_up.built.states;
    let Asked::Sign(sign) = states.asks.get(usize::from(check.ask))?.what else {
        return None;
    };
    let parts = inspection.piece().parts();
    let name = |part: usize| {
        let reference = part_ref(&set_up.built.places, parts, part);
        words::part_name(set_up.model, &reference)
    };
    let changes = saved
        .iter()
        .take(CHANGES)
        .filter_map(|(saves, fault, from_to)| {
            Some(Change {
                part: name(fault.part),
                state: states.states.get(usize::from(fault.number))?.declared?,
                now: fault.chance,
                from_to: *from_to,
                saves: *saves,
            })
        });
    let saves: f64 = saved.iter().map(|(saves, ..)| saves).sum();
    Some(Check {
        part: check.part,
        sign,
        words: words::sign_check(set_up.model, sign, &name(check.part)),
        part_name: name(check.part),
        minutes: Minutes::from(check.minutes),
        touch: check.touch,
        saves,
        worth: saves / f64::from(check.minutes),
        changes: changes.collect(),
    })
}

fn check(
    set_up: &SetUp<'_>,
    inspection: &Inspection<'_, '_, UFloat>,
    candidate: &Candidate,
    changes: &Changes,
) -> Option<Check> {
    let states = &set_up.built.states;
    let Asked::Sign(sign) = states.asks.get(usize::from(candidate.ask))?.what else {
        return None;
    };
    let parts = inspection.piece().parts();
    let name = |part: u16| {
        let reference = part_ref(&set_up.built.places, parts, usize::from(part));
        words::part_name(set_up.model, &reference)
    };
    let minutes = |saved: Saved| f64::from(saved.units()) / 4_096.0;
    let chance = |units: u16| f64::from(units) / 65_536.0;
    let changes = changes.get(&(candidate.part, candidate.ask));
    let mut changes = changes.cloned().unwrap_or_default();
    changes.sort_by_key(|c| (std::cmp::Reverse(c.saves.tenths()), c.part, c.state));
    let changes = changes.iter().take(CHANGES).filter_map(|change| {
        Some(Change {
            part: name(change.part),
            state: states.states.get(usize::from(change.state))?.declared?,
            now: chance(change.now),
            from_to: (chance(change.lowest), chance(change.highest)),
            saves: minutes(change.saves),
        })
    });
    let saves = minutes(candidate.saves);
    Some(Check {
        part: usize::from(candidate.part),
        sign,
        words: words::sign_check(set_up.model, sign, &name(candidate.part)),
        part_name: name(candidate.part),
        minutes: Minutes::from(candidate.minutes),
        touch: candidate.touch,
        saves,
        worth: saves / f64::from(candidate.minutes),
        changes: changes.collect(),
    })
}
