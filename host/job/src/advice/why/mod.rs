//! Why a fault is as likely as it is: the weight of each answer, the sentences
//! on the way, and what would move it most next.

mod later;
mod looks;
mod rivals;
mod unread;
mod ways;
mod weights;

use std::collections::BTreeSet;

use tellmark_core::number::UFloat;
use tellmark_core::pack::Pack;
use tellmark_core::piece::SetUpError;

use super::reckoned::{self, Reckoned};
use super::triage::LEAST_DECIBANS;
use tellmark_compile::ground::{Ground, SentenceId};
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Evidence, Origin, SetUp, part_ref};
use tellmark_language::model::{SourceId, StateId};
use tellmark_language::span::Span;
use tellmark_language::words;

pub use looks::Look;
pub use rivals::Rival;
pub use unread::{Unread, unread};
pub use weights::Weight;

use ways::{Ways, touched};

/// A sentence on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct Sentence {
    /// Which.
    pub id: SentenceId,
    /// Where it stands.
    pub at: Span,
    /// Where it comes from.
    pub source: Option<SourceId>,
    /// As it is understood.
    pub words: String,
}

/// Why a fault is as likely as it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Why {
    /// The part.
    pub part: String,
    /// The fault or sign.
    pub state: StateId,
    /// Its chance.
    pub chance: f64,
    /// Its chance before anything was found.
    pub before: f64,
    /// Its chance on its own, when nothing gives a reason for it.
    pub own: f64,
    /// What was found, heaviest first.
    pub weights: Vec<Weight>,
    /// All sentences on the way.
    pub sentences: Vec<Sentence>,
    /// Faults that fall if this one is there: they explain the same findings.
    pub rivals: Vec<Rival>,
    /// The checks that would move it most.
    pub next: Vec<Look>,
    /// The measures that were worked out by a sum of the handbook from what moves it.
    pub reckoned: Vec<Reckoned>,
}

/// Works out the reasons for a state of a part; `None` if the answers clash.
///
/// # Errors
/// If the piece cannot be set up.
pub fn why(
    set_up: &SetUp<'_>,
    pack: Pack<'_>,
    part: usize,
    state: StateId,
) -> Result<Option<Why>, SetUpError> {
    let mut room = Room::<UFloat>::default();
    let mut case = set_up.case(pack, &mut room)?;
    let row = set_up.built.states.declared(state);
    let number = set_up.built.states.number(state);
    let Ok(chance) = case.inspection.chance(part, number) else {
        return Ok(None);
    };
    let chance = chance.as_f64();
    let mut bare_room = Room::<UFloat>::default();
    let mut bare = set_up.bare(pack, &mut bare_room)?;
    let before = bare.chance(part, number).unwrap_or_default().as_f64();
    let network = set_up.ground(&case.inspection);
    let target = network
        .states
        .iter()
        .position(|s| s.part == part && s.row == row);
    let base = target;
    let (weights, network, target) = match (set_up.later, target) {
        (Some(later), Some(state)) => (
            later::weights(later, state, chance),
            later.ground().clone(),
            Some(later.state_now(state)),
        ),
        _ => {
            let mut weights = weights::weights(&mut case, part, number, chance);
            if let Some(target) = target {
                let known: Vec<(Origin, Vec<usize>)> = case
                    .evidence
                    .iter()
                    .map(|e| (e.from, touched(set_up, &network, e).collect()))
                    .collect();
                set_sentences(&mut weights, &network, target, &known);
            }
            (weights, network, target)
        }
    };
    let mut ids: BTreeSet<SentenceId> = weights
        .iter()
        .flat_map(|w| w.sentences.iter().copied())
        .collect();
    if ids.is_empty()
        && let Some(target) = target
    {
        ids.extend(network.states[target].causes.iter().map(|c| c.sentence));
    }
    let (rivals, next) = match (set_up.later, base) {
        (Some(later), Some(state)) => later::rivals_and_looks(set_up, later, &case, state, chance),
        _ => (
            rivals::rivals(set_up, &mut case, part, state),
            looks::looks(set_up, &mut case, part, number),
        ),
    };
    let moves = |(part, ask): &(usize, u16)| {
        let is_it = |e: &Evidence| e.given.part == *part && e.given.ask == *ask;
        let mut said = case.evidence.iter().filter(|e| is_it(e));
        said.any(|e| weights.iter().any(|weight| weight.from == e.from))
    };
    let mut reckoned = reckoned::reckoned(set_up, pack)?;
    reckoned.retain(|one| one.reads.iter().any(moves));
    let parts = case.inspection.piece().parts();
    let own = parts.get(part).and_then(|record| {
        let place = usize::from(record.place);
        set_up.built.false_alarm(place, row)
    });
    Ok(Some(Why {
        part: words::part_name(set_up.model, &part_ref(&set_up.built.places, parts, part)),
        state,
        chance,
        before,
        own: own.unwrap_or(set_up.built.states.states[row].alone),
        weights,
        sentences: ids
            .into_iter()
            .filter_map(|id| sentence(set_up, id))
            .collect(),
        rivals,
        next,
        reckoned,
    }))
}

/// Finds the sentences that lead from what was told to the fault; `known` has the states
/// that each thing told is about.
fn set_sentences(
    weights: &mut [Weight],
    network: &Ground,
    target: usize,
    known: &[(Origin, Vec<usize>)],
) {
    let mut is_known = vec![false; network.states.len()];
    for &state in known.iter().flat_map(|(_, states)| states) {
        is_known[state] = true;
    }
    let ways = Ways::from(network, target, &is_known);
    let felt = weights
        .iter_mut()
        .filter(|w| w.decibans.abs() >= LEAST_DECIBANS);
    for weight in felt {
        let own = known.iter().filter(|(from, _)| *from == weight.from);
        weight.sentences = ways.to(own.flat_map(|(_, states)| states.iter().copied()));
    }
}

fn sentence(set_up: &SetUp<'_>, id: SentenceId) -> Option<Sentence> {
    let (at, source, words) = match id {
        SentenceId::Rule(i) => {
            let rule = set_up.model.rules.get(i)?;
            (rule.at, rule.source, words::rule(set_up.model, rule))
        }
        SentenceId::Means(i) => {
            let means = set_up.model.means.get(i)?;
            (means.at, means.source, words::means(set_up.model, means))
        }
        SentenceId::Together(i) => {
            let together = set_up.model.togethers.get(i)?;
            let words = words::together(set_up.model, together);
            (together.at, together.source, words)
        }
        SentenceId::OnlyIf(i) => {
            let only_if = set_up.model.only_ifs.get(i)?;
            let words = words::only_if(set_up.model, only_if);
            (only_if.at, only_if.source, words)
        }
        SentenceId::Meaning => return None,
    };
    Some(Sentence {
        id,
        at,
        source,
        words,
    })
}
