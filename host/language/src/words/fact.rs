//! Facts and pieces in words that the language reads again.

use super::degree::judged_words;
use super::grammar::{list, some_of};
use super::length::{quantity, quantity_short};
use super::measure::measured_words;
use super::part::{kind_name, kind_plural, named, part_name};
use super::sign::{asked, sense_word};
use super::state::verb;
use crate::model::{
    Asks, Fact, Found, Model, PieceOrder, Sense, SignId, StateId, Sure, Ticks, Unit, Verb, Which,
};

/// A fact as the language writes it, so that reading it again gives the same
/// fact: "runner 1 of drawer 2 is worn 3 mm".
#[must_use]
pub fn fact_line(model: &Model, fact: &Fact) -> String {
    said(model, fact, quantity_short)
}

/// A fact for people, with the other system of measures beside the figure:
/// "runner 1 of drawer 2 is worn 3 mm (about 1/8 in)".
#[must_use]
pub fn fact_sentence(model: &Model, fact: &Fact) -> String {
    match nothing(model, &fact.found) {
        Some(phrase) if is_every(fact) => {
            format!("{} is {phrase}", named(model, &fact.part, "no"))
        }
        Some(phrase) => format!("{} is not {phrase}", part_name(model, &fact.part)),
        None => said(model, fact, quantity),
    }
}

/// What a reading of nothing says is not so: "split", of what is split 0 mm wide.
#[must_use]
pub fn nothing<'m>(model: &'m Model, found: &Found) -> Option<&'m str> {
    let Found::Measure { sign, ticks: 0 } = found else {
        return None;
    };
    let asks = model.signs.get(sign.index()).map(|sign| &sign.asks)?;
    match asks {
        Asks::HowMuch { phrase, .. }
            if asks.tense() == crate::model::Tense::Is && !phrase.is_empty() =>
        {
            Some(phrase)
        }
        _ => None,
    }
}

fn said(model: &Model, fact: &Fact, quantity: fn(Ticks, Unit) -> String) -> String {
    let part = part_name(model, &fact.part);
    match &fact.found {
        Found::State { state, yes, sure } => found_state(model, fact, *state, *yes, *sure),
        Found::Measure { sign, ticks } => match model.signs.get(sign.index()).map(|s| &s.asks) {
            Some(asks @ Asks::HowMuch { unit, .. }) => {
                let amount = quantity(*ticks, *unit);
                format!("{part} {}", measured_words(asks, &amount, false))
            }
            _ => "?".to_owned(),
        },
        Found::Choice { sign, value } => match model.signs.get(sign.index()).map(|s| &s.asks) {
            Some(Asks::Which { attribute, values }) => {
                let value = values.get(usize::from(*value)).map_or("?", String::as_str);
                format!("{attribute} of {part} is {value}")
            }
            _ => "?".to_owned(),
        },
        Found::Degree {
            sign,
            degree,
            than,
            sure,
        } => {
            let asks = model.signs.get(sign.index()).map(|s| &s.asks);
            let words = asks.map_or_else(
                || "is ?".to_owned(),
                |asks| judged_words(asks, (*than, *degree), *sure),
            );
            let positive = words.replacen("is not ", "is ", 1);
            let positive = positive.replacen("does not look ", "looks ", 1);
            if is_every(fact) && positive != words {
                return format!("{} {positive}", named(model, &fact.part, "no"));
            }
            format!("{part} {words}")
        }
        Found::Count { part: kind, number } => {
            let (one, many) = (kind_name(model, *kind), kind_plural(model, *kind));
            format!("{part} has {}", some_of((*number).into(), one, many))
        }
        Found::PartCannotBeSeen => format!("{part} cannot be seen"),
        Found::PartCanBeSeen => format!("{part} can be seen"),
        Found::SignCannotBeSeen(sign) => about_sign(model, *sign, &part, "cannot"),
        Found::NotLooked(sign) => about_sign(model, *sign, &part, "have not"),
        Found::NotOpened(state) => {
            let asks = Asks::Whether(*state);
            format!("have not looked {}", asked(model, &asks, &part))
        }
    }
}

/// "every drawer".
fn is_every(fact: &Fact) -> bool {
    let first = fact.part.steps.first();
    first.is_some_and(|step| step.which == Which::Every)
}

fn found_state(model: &Model, fact: &Fact, state: StateId, yes: bool, sure: Sure) -> String {
    let Some(state) = model.states.get(state.index()) else {
        return "?".to_owned();
    };
    let phrase = &state.phrase;
    // "every drawer is not stiff" is misread; "no drawer is stiff" is not.
    let (part, yes) = if is_every(fact) && !yes && sure != Sure::Certain {
        (named(model, &fact.part, "no"), true)
    } else {
        (part_name(model, &fact.part), yes)
    };
    let not = if yes { "" } else { "not " };
    match (sure, state.verb) {
        (Sure::Ordinary, v) => format!("{part} {} {phrase}", verb(v, yes, false)),
        (Sure::Certain, Verb::Is) => format!("{part} is certainly {not}{phrase}"),
        (Sure::Certain, Verb::Shows) if yes => format!("{part} certainly shows {phrase}"),
        (Sure::Certain, Verb::Shows) => format!("{part} does not certainly show {phrase}"),
        (Sure::Looks, Verb::Is) if yes => format!("{part} looks {phrase}"),
        (Sure::Looks, Verb::Is) => format!("{part} does not look {phrase}"),
        (Sure::Looks, Verb::Shows) if yes => format!("{part} looks as if it shows {phrase}"),
        (Sure::Looks, Verb::Shows) => format!("{part} does not look as if it shows {phrase}"),
    }
}

/// "cannot see whether drawer 2 is stiff", "have not looked whether drawer 2 is
/// stiff".
fn about_sign(model: &Model, sign: SignId, part: &str, opening: &str) -> String {
    let Some(sign) = model.signs.get(sign.index()) else {
        return "?".to_owned();
    };
    let doing = match (opening, &sign.asks) {
        ("cannot", Asks::HowMuch { unit, .. }) if unit.is_time() => sense_word(sign.sense),
        (_, Asks::HowMuch { unit, .. }) if unit.is_time() && sign.sense == Sense::Ask => "asked",
        ("cannot", Asks::HowMuch { .. }) => "measure",
        ("cannot", Asks::HowMany(_)) => "count",
        ("cannot", _) => "see",
        (_, Asks::HowMuch { .. }) => "measured",
        (_, Asks::HowMany(_)) => "counted",
        _ => "looked",
    };
    format!("{opening} {doing} {}", asked(model, &sign.asks, part))
}

/// "chest of drawers with 4 drawers and 2 doors".
#[must_use]
pub fn piece_order(model: &Model, order: &PieceOrder) -> String {
    let name = kind_name(model, order.kind);
    let counts: Vec<String> = order
        .counts
        .iter()
        .map(|(kind, n)| {
            some_of(
                (*n).into(),
                kind_name(model, *kind),
                kind_plural(model, *kind),
            )
        })
        .collect();
    if counts.is_empty() {
        name.to_owned()
    } else {
        format!("{name} with {}", list(&counts))
    }
}
