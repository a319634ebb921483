//! What can be found out, and how: the entry, and the check on one part.

use super::entries::{plain_of_state, source_mark};
use super::figure::{cases, how_often};
use super::grammar::{a, list_or, quoted};
use super::length::{quantity, quantity_short};
use super::measure::how_words;
use super::part::{kind_name, kind_plural};
use super::state::verb;
use super::time::minutes;
use crate::model::{Asks, Disturbs, Model, Sense, Sign, SignId, Thousandths, Unit, Verb};

/// "see", "measure", "ask" …
#[must_use]
pub fn sense_word(sense: Sense) -> &'static str {
    match sense {
        Sense::See => "see",
        Sense::Feel => "feel",
        Sense::Hear => "hear",
        Sense::Smell => "smell",
        Sense::Ask => "ask",
        Sense::Measure => "measure",
        Sense::Count => "count",
    }
}

/// What to do to find it out on one part: "see whether drawer 2 is stiff",
/// "measure how much runner 1 of drawer 2 is worn", "count the supports of
/// fall 1".
#[must_use]
pub fn sign_check(model: &Model, sign: SignId, part_name: &str) -> String {
    model
        .signs
        .get(sign.index())
        .map_or_else(|| "?".to_owned(), |s| check(model, s, part_name))
}

fn check(model: &Model, sign: &Sign, part_name: &str) -> String {
    let sense = sense_word(sign.sense);
    let about = asked(model, &sign.asks, part_name);
    format!("{sense} {about}")
}

/// "whether drawer 2 is stiff".
pub(super) fn asked(model: &Model, asks: &Asks, part_name: &str) -> String {
    match asks {
        Asks::Whether(state) => {
            let (verb, phrase) = model
                .states
                .get(state.index())
                .map_or((verb(Verb::Is, true, false), "?"), |s| {
                    (verb(s.verb, true, false), s.phrase.as_str())
                });
            format!("whether {part_name} {verb} {phrase}")
        }
        Asks::Which { attribute, .. } => format!("which {attribute} {part_name} has"),
        Asks::HowMuch { .. } | Asks::Degrees { .. } => how_words(asks, part_name),
        Asks::HowMany(kind) => format!("the {} of {part_name}", kind_plural(model, *kind)),
    }
}

/// "You can measure how much a runner is worn, in mm, from 0 mm to 15 mm
/// (about 19/32 in); asked as “Runner wear?”; takes 3 min."
#[must_use]
pub fn sign_entry(model: &Model, sign: &Sign) -> String {
    if let Some(worked) = &sign.worked {
        let how = asked(model, &sign.asks, &a(kind_name(model, sign.kind)));
        let said = super::worked_out::worked_out(model, sign, worked);
        let particulars = particulars(model, sign);
        let joined = particulars.iter().map(|said| format!("; {said}"));
        let source = source_mark(model, sign.source);
        let text = format!(
            "{how} is worked out: {said}{}.{source}",
            joined.collect::<String>()
        );
        return super::grammar::capital(&text);
    }
    let mut text = format!(
        "You can {}",
        check(model, sign, &a(kind_name(model, sign.kind)))
    );
    match &sign.asks {
        Asks::Which { values, .. } => {
            text.push_str(": ");
            text.push_str(&list_or(values));
        }
        Asks::HowMuch {
            unit, least, most, ..
        } => {
            text.push_str(&format!(
                ", in {}, from {} to {}",
                unit_name(*unit),
                quantity_short(*least, *unit),
                quantity(*most, *unit)
            ));
        }
        Asks::Degrees { degrees, .. } => {
            text.push_str(": ");
            text.push_str(&list_or(degrees));
        }
        Asks::Whether(_) | Asks::HowMany(_) => {}
    }
    let particulars = particulars(model, sign);
    if !particulars.is_empty() {
        text.push_str("; ");
        text.push_str(&particulars.join("; "));
    }
    format!("{text}.{}", source_mark(model, sign.source))
}

fn particulars(model: &Model, sign: &Sign) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(ask) = &sign.ask {
        said.push(format!("asked as {}", quoted(ask)));
    }
    if let Some(takes) = sign.takes {
        said.push(format!("takes {}", minutes(takes)));
    }
    if let (Asks::Which { values, .. }, Some((usual, often))) = (&sign.asks, sign.usually)
        && let Some(value) = values.get(usize::from(usual))
    {
        said.push(format!("it is {value} {}", cases(often)));
    }
    said.extend(in_order(sign));
    if let Asks::Whether(state) = sign.asks
        && let Some(state) = model.states.get(state.index())
    {
        said.extend(plain_of_state(model, state));
    }
    let own = match &sign.asks {
        Asks::Whether(state) => model
            .states
            .get(state.index())
            .and_then(|s| s.on_its_own)
            .map(|own| format!("so on its own {}", how_often(&own))),
        Asks::Degrees { .. } => sign
            .on_its_own
            .map(|own| format!("so on its own {}", how_often(&own))),
        _ => sign
            .on_its_own
            .map(|own| format!("it passes a mark on its own {}", how_often(&own))),
    };
    said.extend(own);
    if matches!(sign.asks, Asks::Whether(_) | Asks::Degrees { .. }) && sign.slip != USUAL_SLIP {
        said.push(format!("{} answers is a slip of the eye", cases(sign.slip)));
    }
    if let Asks::HowMuch { gauge, unit, .. } = sign.asks
        && gauge > 0
    {
        said.push(format!("reads to {}", quantity_short(gauge, unit)));
    }
    match sign.disturbs {
        Disturbs::Nothing => {}
        Disturbs::ALittle => said.push("disturbs a little".to_owned()),
        Disturbs::ALot => said.push("disturbs a lot".to_owned()),
    }
    said
}

/// "no is in order", "blunt or gimlet-point is in order".
fn in_order(sign: &Sign) -> Option<String> {
    let answers = sign.in_order.as_ref()?;
    let of = |at: u8| match (&sign.asks, at) {
        (Asks::Which { values, .. }, at) => values.get(usize::from(at)).map(String::as_str),
        (_, 0) => Some("no"),
        (Asks::Degrees { degrees, .. }, at) => degrees.get(usize::from(at) - 1).map(String::as_str),
        _ => Some("yes"),
    };
    let answers: Vec<&str> = answers.iter().filter_map(|&at| of(at)).collect();
    Some(format!("{} is in order", list_or(&answers)))
}

/// What goes without saying of an ordinary answer.
const USUAL_SLIP: Thousandths = Thousandths(10);

fn unit_name(unit: Unit) -> &'static str {
    match unit {
        Unit::Mm => "mm",
        Unit::Cm => "cm",
        Unit::M => "m",
        Unit::In => "inches",
        Unit::Ft => "feet",
        Unit::Percent => "per cent",
        Unit::Day => "days",
        Unit::Week => "weeks",
        Unit::Month => "months",
        Unit::Year => "years",
        Unit::Kg => "kg",
        Unit::Lb => "lb",
    }
}
