//! What the owner wishes, says and decides.

use super::matter::Matter;
use super::when::noted;
use serde::Serialize;
use tellmark_job::advice::Mark;
use tellmark_language::model::Sense;
use tellmark_language::words::{fact_sentence, list, sentence};

/// A part that must not be touched.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Untouched {
    /// The part.
    pub part: String,
    /// Why; may be empty.
    pub because: String,
}

/// What the owner decided about a job.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Decided {
    /// The day.
    pub day: String,
    /// "yes" rather than "no".
    pub agreed: bool,
    /// The job.
    pub job: String,
    /// The parts; empty: wherever it is planned.
    pub parts: String,
    /// The parts of which it was taken back since, and nothing was decided; may be empty.
    pub open_again: String,
    /// How and why; may be empty.
    pub words: String,
}

/// What the owner wishes, says and decides.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Owner {
    /// What the piece is for.
    pub wishes: Vec<String>,
    /// How far the work may go.
    pub limits: Vec<String>,
    /// What must not be touched.
    pub leave: Vec<Untouched>,
    /// What the owner told of the piece.
    pub told: Vec<String>,
    /// What was decided, oldest first.
    pub decisions: Vec<Decided>,
}

pub(super) fn owner(matter: &Matter<'_>) -> Owner {
    let progress = matter.progress;
    let leave = progress.left.iter().map(|told| Untouched {
        part: list(&told.what.parts.names),
        because: told.what.because.clone(),
    });
    let model = matter.model();
    let asked =
        matter.found.findings.iter().filter(|finding| {
            tellmark_job::worries::sense(model, &finding.fact) == Some(Sense::Ask)
        });
    Owner {
        wishes: progress
            .wishes
            .iter()
            .map(|told| told.what.clone())
            .collect(),
        limits: progress
            .limits
            .iter()
            .map(|told| told.what.words.clone())
            .collect(),
        leave: leave.collect(),
        told: asked
            .map(|finding| sentence(&fact_sentence(model, &finding.fact)))
            .collect(),
        decisions: decisions(matter),
    }
}

/// What was decided and still holds, oldest first.
pub(super) fn decisions(matter: &Matter<'_>) -> Vec<Decided> {
    let progress = matter.progress;
    let standing = progress.marks.iter();
    let standing = standing.filter(|told| progress.still_holds(told));
    let decided = standing.filter_map(|told| {
        let agreed = match told.what.mark {
            Mark::Agreed => true,
            Mark::Refused => false,
            Mark::Undecided | Mark::Done | Mark::NotDone => return None,
        };
        Some(Decided {
            day: noted(told.when),
            agreed,
            job: told.what.job.clone(),
            parts: list(&told.what.parts.names),
            open_again: list(&progress.open_again(told)),
            words: told.what.words.clone(),
        })
    });
    decided.collect()
}
