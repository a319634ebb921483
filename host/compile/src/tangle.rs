//! Whether the rules of any place hang together too much for the bench unit: seen before
//! the work is done, and which sentence helps most if it is left out.

use crate::fitted::Fitted;
use crate::fragment::{Estimate, Prepared};
use crate::network::{Network, Without};
use crate::problem::Tangled;
use crate::rules::Rules;
use tellmark_language::span::Span;

/// Sentences tried by leaving them out: at least and at most.
const TRIED: (usize, usize) = (8, 200);
/// Variables squared that may be spent on trying.
const EFFORT: usize = 2_000_000;

/// Whether every place could be summed out within bounds.
///
/// # Errors
/// The first place that could not.
pub(super) fn check(rules: Rules<'_>) -> Result<(), Tangled> {
    let everywhere = 0..rules.places.len();
    let fitted = Fitted::assumed(rules);
    let network = Network::of(rules, &fitted, Without::Nothing, everywhere.clone());
    for place in everywhere {
        Prepared::of(&network, rules.places, place)?;
    }
    Ok(())
}

/// The sentence whose absence helps most; of the house's own sentences (`is_own`) if one
/// of them helps at all.
#[must_use]
pub(crate) fn culprit(
    rules: Rules<'_>,
    tangled: Tangled,
    is_own: &dyn Fn(Span) -> bool,
) -> Option<Span> {
    let model = rules.model;
    let fitted = Fitted::assumed(rules);
    let root = rules.places.root(tangled.place);
    let measure = |without: Without| {
        let within = root..rules.places.get(root).end;
        let network = Network::of(rules, &fitted, without, within);
        Estimate::of(&network, rules.places, tangled.place)
    };
    let now = measure(Without::Nothing);
    let each = now.variables().saturating_mul(now.variables()).max(1);
    let tried = (EFFORT / each).clamp(TRIED.0, TRIED.1);
    let here = root..rules.places.get(root).end;
    let is_here = |kind| {
        let mut places = rules.places.of_subject(kind).into_iter();
        places.any(|place| here.contains(&place))
    };
    let sentences = model.rules.iter().enumerate();
    let sentences = sentences.filter(|(_, rule)| is_here(rule.subject));
    let means = model.means.iter().enumerate();
    let means = means.filter(|(_, means)| is_here(means.subject));
    let together = model.togethers.iter().enumerate();
    let together = together.filter(|(_, together)| is_here(together.subject));
    let all: Vec<(Without, Span)> = sentences
        .map(|(i, rule)| (Without::Rule(i), rule.at))
        .chain(means.map(|(i, means)| (Without::Means(i), means.at)))
        .chain(together.map(|(i, t)| (Without::Together(i), t.at)))
        .collect();
    [true, false].into_iter().find_map(|own| {
        let those = all.iter().filter(|(_, at)| is_own(*at) == own);
        let measured = those
            .take(tried)
            .map(|&(without, at)| (measure(without), at));
        let best = measured.min_by_key(|(size, _)| *size);
        best.filter(|(size, _)| *size < now).map(|(_, at)| at)
    })
}
