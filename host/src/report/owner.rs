//! What the owner wishes, says and decides.

use super::matter::Matter;
use super::when::noted;
use crate::job::{Decision, Says};
use crate::model::Sense;
use crate::words::{fact_sentence, list, sentence};
use serde::Serialize;

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

impl Owner {
    /// Whether the owner has not been heard yet.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Owner::default()
    }
}

pub(super) fn owner(matter: &Matter<'_>) -> Owner {
    let mut owner = Owner::default();
    for entry in matter.job.entries() {
        let decided = |agreed, decision: &Decision| Decided {
            day: noted(entry.when),
            agreed,
            job: decision.job.clone(),
            parts: list(&decision.parts),
            words: decision.words.clone(),
        };
        match &entry.says {
            Says::Wish(words) => owner.wishes.push(words.clone()),
            Says::Limit(words) => owner.limits.push(words.clone()),
            Says::Leave { part, because } => {
                owner.leave.retain(|untouched| untouched.part != *part);
                owner.leave.push(Untouched {
                    part: part.clone(),
                    because: because.clone(),
                });
            }
            Says::NotLeave { part } => owner.leave.retain(|untouched| untouched.part != *part),
            Says::Agreed(decision) => owner.decisions.push(decided(true, decision)),
            Says::Refused(decision) => owner.decisions.push(decided(false, decision)),
            Says::Done { .. } | Says::NotDone { .. } | Says::Photo(_) => {}
        }
    }
    let model = matter.model();
    let asked = matter
        .findings
        .iter()
        .filter(|finding| super::looked::sense(model, &finding.fact) == Some(Sense::Ask));
    owner.told = asked
        .map(|finding| sentence(&fact_sentence(model, &finding.fact)))
        .collect();
    owner
}
