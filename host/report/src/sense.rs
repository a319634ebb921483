//! How a finding was found out: seen, felt, measured, told by the owner.

use tellmark_language::model::{Fact, Found, Model, Nature, Sense, SignId};

/// How a fact was found out; `None` for a hidden fault that was opened up.
pub(super) fn sense(model: &Model, fact: &Fact) -> Option<Sense> {
    let of = |sign: SignId| model.signs.get(sign.index()).map(|s| s.sense);
    match fact.found {
        Found::State { state, .. } | Found::NotOpened(state) => {
            match model.states.get(state.index())?.nature {
                Nature::Seen(sign) => of(sign),
                Nature::Hidden { .. } => None,
                Nature::CountsAs { .. } => Some(Sense::See),
            }
        }
        Found::Measure { .. } => Some(Sense::Measure),
        Found::Choice { sign, .. }
        | Found::Degree { sign, .. }
        | Found::SignCannotBeSeen(sign)
        | Found::NotLooked(sign) => of(sign),
        Found::Count { .. } => Some(Sense::Count),
        Found::PartCannotBeSeen | Found::PartCanBeSeen => Some(Sense::See),
    }
}

/// "seen", "told by the owner", "opened up".
pub(super) fn sense_said(sense: Option<Sense>) -> &'static str {
    match sense {
        Some(Sense::See) => "seen",
        Some(Sense::Feel) => "felt",
        Some(Sense::Hear) => "heard",
        Some(Sense::Smell) => "smelt",
        Some(Sense::Ask) => "told by the owner",
        Some(Sense::Measure) => "measured",
        Some(Sense::Count) => "counted",
        None => "opened up",
    }
}

/// Whether a fact says that something could not be, or was not, found out.
pub(super) fn is_open(fact: &Fact) -> bool {
    matches!(
        fact.found,
        Found::PartCannotBeSeen
            | Found::PartCanBeSeen
            | Found::SignCannotBeSeen(_)
            | Found::NotLooked(_)
            | Found::NotOpened(_)
    )
}
