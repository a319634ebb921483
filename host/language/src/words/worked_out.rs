//! What a measure is worked out from, in words.

use super::grammar::list;
use super::length::quantity_short;
use super::measure::how_words;
use super::part::{kind_name, kind_plural};
use crate::model::{Along, Asks, By, Model, Operand, Sign, Table, WorkedOut, Working};

/// "the difference between how high its left side is and how high its right side is, from
/// 0 mm to 500 mm".
pub(super) fn worked_out(model: &Model, sign: &Sign, worked: &WorkedOut) -> String {
    let of: Vec<String> = worked
        .of
        .iter()
        .map(|of| operand(model, sign, of))
        .collect();
    let said = match worked.working {
        Working::Difference => format!("the difference between {}", list(&of)),
        Working::Sum => format!("the sum of {}", list(&of)),
        Working::Share => of.join(", as a share of "),
        Working::Most => format!("the largest of {}", list(&of)),
        Working::Least => format!("the smallest of {}", list(&of)),
        Working::Number | Working::FromLast => "which of its like it is".to_owned(),
        Working::Handbook => by_handbook(model, sign, worked),
    };
    match sign.asks {
        Asks::HowMuch {
            unit, least, most, ..
        } => {
            let (least, most) = (quantity_short(least, unit), quantity_short(most, unit));
            format!("{said}, from {least} to {most}")
        }
        _ => said,
    }
}

/// "the sag of a shelf, where the span is how long it is and the wood is oak".
fn by_handbook(model: &Model, sign: &Sign, worked: &WorkedOut) -> String {
    let Some(handbook) = &worked.handbook else {
        return "?".to_owned();
    };
    let inputs = handbook.sum.inputs();
    let fed: Vec<String> = handbook
        .fed
        .iter()
        .map(|fed| {
            let name = inputs.get(fed.input).map_or("?", |input| input.name);
            let value = match &fed.by {
                By::Found(of) => worked
                    .of
                    .get(*of)
                    .map_or_else(|| "?".to_owned(), |of| operand(model, sign, of)),
                By::Quantity(ticks, unit) => quantity_short(*ticks, *unit),
                By::Number(number) => number.to_string(),
                By::Named(name) => name.clone(),
            };
            format!("the {name} is {value}")
        })
        .collect();
    let mut said = format!("{}, where {}", handbook.sum.name(), list(&fed));
    let unknown = values_without(model, worked, &handbook.table);
    if !unknown.is_empty() {
        said.push_str(&format!(" (for {} nothing is worked out)", list(&unknown)));
    }
    said
}

/// The values of choices for which a sum comes to nothing.
fn values_without(model: &Model, worked: &WorkedOut, table: &Table) -> Vec<String> {
    let mut without = Vec::new();
    for (axis, of) in worked.of.iter().enumerate() {
        let sign = model.signs.get(of.sign.index());
        let Some(Asks::Which { values, .. }) = sign.map(|sign| &sign.asks) else {
            continue;
        };
        let counts = table.axes.iter().map(Along::count);
        let apart: usize = counts.skip(axis + 1).product();
        for (number, name) in values.iter().enumerate() {
            let mut of_it = table.values.iter().enumerate();
            let is_of_it = |at: usize| at / apart % values.len() == number;
            if of_it.all(|(at, value)| !is_of_it(at) || value.is_none()) {
                without.push(name.clone());
            }
        }
    }
    without
}

fn operand(model: &Model, of: &Sign, operand: &Operand) -> String {
    let Some(sign) = model.signs.get(operand.sign.index()) else {
        return "?".to_owned();
    };
    let part = match operand.part {
        None => match operand.owner {
            Some(owner) => format!("its {}", kind_name(model, owner)),
            None => "it".to_owned(),
        },
        Some(part) => {
            let owner = model.kinds.get(of.kind.index());
            let mut members = owner.iter().flat_map(|kind| &kind.members);
            let member = members.find(|member| member.kind == part.kind);
            let named = part.named.and_then(|at| member?.names.get(usize::from(at)));
            match named {
                Some(name) => format!("its {name} {}", kind_name(model, part.kind)),
                None if part.several => format!("its {}", kind_plural(model, part.kind)),
                None => format!("its {}", kind_name(model, part.kind)),
            }
        }
    };
    if let Asks::Which { attribute, .. } = &sign.asks {
        return format!("which {attribute} {part} has");
    }
    let several = operand.part.is_some_and(|part| part.several);
    let words = how_words(&sign.asks, &part);
    if several {
        words.replacen(&format!("{part} is"), &format!("{part} are"), 1)
    } else {
        words
    }
}
