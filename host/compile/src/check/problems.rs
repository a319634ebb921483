//! What cannot be built, in words.

use tellmark_core::limits::{MAX_INTERFACE, MAX_NODES};

use super::Say;
use crate::problem::{Capacity, Problem, Tangled, TooMuch};
use crate::rules::Rules;
use crate::tangle::culprit;
use tellmark_language::model::{Asks, Ticks};
use tellmark_language::span::Span;
use tellmark_language::{Problem as Message, text_of, words};

/// Says why the rules could not be built.
pub(super) fn say(say: &mut Say<'_>, rules: Rules<'_>, problem: &Problem) {
    match problem {
        Problem::Tangled(tangled) => too_tangled(say, rules, *tangled),
        Problem::TooMuch(much) => too_much(say, much),
    }
}

fn too_tangled(say: &mut Say<'_>, rules: Rules<'_>, tangled: Tangled) {
    let kind = &rules.model.kinds[rules.places.kind(tangled.place).index()];
    let is_own = |at: Span| !say.is_standard(at);
    let remove = culprit(rules, tangled, &is_own);
    let at = remove.unwrap_or(kind.at);
    let kind = &kind.name;
    let limit = MAX_INTERFACE;
    let sentence = remove.map(|at| (say.line(at), text_of(&say.reading.files, at)));
    let size = match tangled.nodes {
        Some(nodes) if tangled.interface <= limit => {
            format!("{nodes} sums and products; it can manage {}", MAX_NODES)
        }
        _ if tangled.interface > limit => format!(
            "{} things that a {kind} and what it is built into share; it can manage {limit}",
            tangled.interface
        ),
        _ => "more sums and products than it has room for".to_owned(),
    };
    say.at(
        at,
        Message::TooTangled {
            part: kind,
            size: &size,
            line: sentence.as_ref().map(|(line, _)| line.as_str()),
            sentence: sentence.as_ref().map(|(_, text)| text.as_str()),
        },
    );
}

/// Says what there is too much of.
pub(super) fn too_much(say: &mut Say<'_>, much: &TooMuch) {
    let TooMuch {
        what, found, most, ..
    } = *much;
    let at = much.at.unwrap_or_default();
    let count = |things: &str| (format!("{found} {things}"), most.to_string());
    let (found, most) = match what {
        Capacity::Marks => count("marks on one measure or count that rules read"),
        Capacity::Values => count("values of one choice"),
        Capacity::Steps => count("steps in one round"),
        Capacity::Minutes => {
            let hours = |minutes: usize| format!("{} hours", minutes / 60);
            (format!("a time of {}", hours(found)), hours(most))
        }
        Capacity::Gauge => gauge(say, at, found, most),
        Capacity::Depth => count("parts built into one another"),
        Capacity::Places => count("kinds of part, counted wherever they stand in a piece"),
        Capacity::States => count("things that may be true of parts"),
        Capacity::Asks => count("things that can be asked"),
        Capacity::Sentences => count("sentences of one sort"),
        Capacity::Condition => count("clauses in one condition"),
        Capacity::Behind => (
            format!("more than {most} sentences with \"instead of\" one behind the other"),
            most.to_string(),
        ),
        Capacity::Pack => (
            "rules longer than any pack".to_owned(),
            "four thousand million bytes".to_owned(),
        ),
    };
    let (found, most) = (&found, &most);
    say.at(at, Message::NoRoom { found, most });
}

/// How far a gauge may be out, in the unit of its measure.
fn gauge(say: &Say<'_>, at: Span, found: usize, most: usize) -> (String, String) {
    let mut signs = say.reading.model.signs.iter().filter(|sign| sign.at == at);
    let unit = signs.find_map(|sign| match sign.asks {
        Asks::HowMuch { unit, .. } => Some(unit),
        _ => None,
    });
    let quantity = |ticks: usize| match (unit, Ticks::try_from(ticks)) {
        (Some(unit), Ok(ticks)) => words::quantity_short(ticks, unit),
        _ => format!("{ticks} ticks"),
    };
    let found = format!("a gauge that may be out by {}", quantity(found));
    (found, quantity(most))
}
