//! How a finding was found out, in words: seen, felt, measured, told by the owner.

use tellmark_language::model::{Fact, Found, Sense};

/// "seen", "told by the owner", "found".
pub(super) fn sense_said(sense: Option<Sense>) -> &'static str {
    match sense {
        Some(Sense::See) => "seen",
        Some(Sense::Feel) => "felt",
        Some(Sense::Hear) => "heard",
        Some(Sense::Smell) => "smelt",
        Some(Sense::Ask) => "told by the owner",
        Some(Sense::Measure) => "measured",
        Some(Sense::Count) => "counted",
        None => "found",
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
