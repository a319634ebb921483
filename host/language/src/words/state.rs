//! States in words: "drawer 2 is stiff", "runner 1 does not show fresh dust".

use super::figure::{figure, sureness_word};
use crate::model::{Model, State, StateId, Verb};

/// "is stiff" or "shows fresh dust", and their opposites; "are", "show" for
/// several parts.
#[must_use]
pub fn state_words(model: &Model, state: StateId, yes: bool, plural: bool) -> String {
    let Some(state) = model.states.get(state.index()) else {
        return "?".to_owned();
    };
    format!("{} {}", verb(state.verb, yes, plural), state.phrase)
}

/// "drawer 2 is stiff", from the name of the part.
#[must_use]
pub fn state_phrase(model: &Model, part_name: &str, state: StateId, yes: bool) -> String {
    format!("{part_name} {}", state_words(model, state, yes, false))
}

/// "drawer 2 is probably stiff (82 in 100)".
#[must_use]
pub fn likely_phrase(model: &Model, part_name: &str, state: StateId, chance: f64) -> String {
    let Some(state) = model.states.get(state.index()) else {
        return "?".to_owned();
    };
    let word = sureness_word(chance);
    let said = match (state.verb, word.strip_suffix(" not")) {
        (Verb::Is, _) => format!("is {word} {}", state.phrase),
        (Verb::Shows, None) => format!("{word} shows {}", state.phrase),
        (Verb::Shows, Some(word)) => format!("{word} does not show {}", state.phrase),
    };
    format!("{part_name} {said} ({})", figure(chance))
}

/// "is", "are not", "does not show" …
pub(super) fn verb(verb: Verb, yes: bool, plural: bool) -> &'static str {
    match (verb, yes, plural) {
        (Verb::Is, true, false) => "is",
        (Verb::Is, true, true) => "are",
        (Verb::Is, false, false) => "is not",
        (Verb::Is, false, true) => "are not",
        (Verb::Shows, true, false) => "shows",
        (Verb::Shows, true, true) => "show",
        (Verb::Shows, false, false) => "does not show",
        (Verb::Shows, false, true) => "do not show",
    }
}

/// "is usually (8 in 10) under strain", "usually (8 in 10) shows fresh dust".
pub(super) fn with_how_often(state: &State, how_often: &str, plural: bool) -> String {
    let verb = verb(state.verb, true, plural);
    match state.verb {
        Verb::Is => format!("{verb} {how_often} {}", state.phrase),
        Verb::Shows => format!("{how_often} {verb} {}", state.phrase),
    }
}
