//! The same once something was mended: over both moments together.

use std::collections::BTreeSet;

use tellmark_core::number::UFloat;

use super::looks::{self, Look};
use super::rivals::{self, Rival};
use super::{LEAST_DECIBANS, Weight, set_sentences};
use crate::advice::later_looks;
use crate::advice::triage::decibans;
use tellmark_compile::Asked;
use tellmark_compile::set_up::{Case, Later, Origin, SetUp, part_ref};
use tellmark_language::words;

/// What everything that was told does to the chance of a state (by its number among those of
/// the piece), heaviest first.
pub(super) fn weights(later: &Later, state: usize, chance: f64) -> Vec<Weight> {
    let of = |chances: Option<Vec<Option<f64>>>| chances.and_then(|all| all[state]);
    let mut told = BTreeSet::new();
    let mut before = of(later.chances_with(&told)).unwrap_or(chance);
    let mut found = Vec::new();
    for (from, _) in later.told() {
        told.insert(from);
        let after = of(later.chances_with(&told)).unwrap_or(before);
        if let Some(without) = of(later.chances_without(from)) {
            found.push(Weight {
                from,
                decibans: decibans(chance, without),
                without,
                in_order: decibans(after, before),
                sentences: Vec::new(),
            });
        }
        before = after;
    }
    let known: Vec<(Origin, Vec<usize>)> = found
        .iter()
        .map(|weight| (weight.from, later.touches(weight.from).collect()))
        .collect();
    set_sentences(&mut found, later.ground(), later.state_now(state), &known);
    let is_felt = |d: f64| d.abs() >= LEAST_DECIBANS / 5.0;
    found.retain(|w| is_felt(w.decibans) || is_felt(w.in_order));
    found.sort_by(|a, b| b.decibans.abs().total_cmp(&a.decibans.abs()));
    for weight in &mut found {
        weight.from = later.name(weight.from);
    }
    found
}

/// Faults that fall if this one is there, and the checks that would move it most.
pub(super) fn rivals_and_looks(
    set_up: &SetUp<'_>,
    later: &Later,
    case: &Case<'_, UFloat>,
    state: usize,
    chance: f64,
) -> (Vec<Rival>, Vec<Look>) {
    let Some(then) = later.chances_if(state).filter(|_| chance > 0.0) else {
        return (Vec::new(), Vec::new());
    };
    let now = later.chances();
    let ground = set_up.ground(&case.inspection);
    let parts = case.inspection.piece().parts();
    let name = |part: usize| {
        let reference = part_ref(&set_up.built.places, parts, part);
        words::part_name(set_up.model, &reference)
    };
    let rows = &set_up.built.states.states;
    let hidden = ground.states.iter().enumerate().filter_map(|(at, own)| {
        let declared = rows[own.row].declared?;
        let is_hidden = rows[own.row].nature == tellmark_core::pack::Nature::Hidden;
        let rival = Rival {
            part: name(own.part),
            state: declared,
            now: now[at]?,
            then: then[at]?,
        };
        is_hidden.then_some(rival)
    });
    let rivals = rivals::named(hidden.collect());
    let mut found = Vec::new();
    for check in later_looks::open(&case.inspection, &ground) {
        let Some(moves) = check.moves(chance, &now, &then) else {
            continue;
        };
        let from_to = later_looks::ends(chance, &moves);
        let Some(Asked::Sign(sign)) = set_up
            .built
            .states
            .asks
            .get(usize::from(check.ask))
            .map(|a| a.what)
        else {
            continue;
        };
        let part = name(check.part);
        found.push(Look {
            check: words::sign_check(set_up.model, sign, &part),
            part,
            sign,
            minutes: case.inspection.pack().ask(usize::from(check.ask)).minutes,
            from_to,
            expected: moves
                .iter()
                .map(|m| m.likely * (m.then - chance).abs())
                .sum(),
        });
    }
    found.retain(|look| look.from_to.1 - look.from_to.0 >= looks::LEAST_MOVE);
    found.sort_by(|a, b| b.expected.total_cmp(&a.expected));
    found.truncate(looks::LOOKS);
    (rivals, found)
}
