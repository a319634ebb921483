//! What was noted in words that no rule reads, as it was typed.

use super::matter::Matter;
use super::when::noted;
use serde::Serialize;
use tellmark_language::words::capital;

/// A remark.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct AlsoNoted {
    /// The part that it is about: "Drawer 2".
    pub part: String,
    /// What was typed.
    pub words: String,
    /// Its day.
    pub day: String,
    /// Its line in the record.
    pub line: usize,
}

pub(super) fn also_noted(matter: &Matter<'_>) -> Vec<AlsoNoted> {
    let remarks = matter.job().remarks_kept().into_iter();
    remarks
        .map(|one| AlsoNoted {
            part: capital(&one.remark.part),
            words: one.remark.words,
            day: noted(one.when),
            line: one.number,
        })
        .collect()
}
