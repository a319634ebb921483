//! What a measure is worked out from, in words.

use super::grammar::list;
use super::length::quantity_short;
use super::measure::how_words;
use super::part::{kind_name, kind_plural};
use crate::model::{Asks, Model, Operand, Sign, WorkedOut, Working};

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

fn operand(model: &Model, of: &Sign, operand: &Operand) -> String {
    let Some(sign) = model.signs.get(operand.sign.index()) else {
        return "?".to_owned();
    };
    let part = match operand.part {
        None => "it".to_owned(),
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
    let several = operand.part.is_some_and(|part| part.several);
    let words = how_words(&sign.asks, &part);
    if several {
        words.replacen(&format!("{part} is"), &format!("{part} are"), 1)
    } else {
        words
    }
}
