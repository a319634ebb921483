//! Where a job stands: what a workshop wants to know of each job on its shelf.

use super::plan::WorkPlan;
use super::progress::{Mark, Progress};
use tellmark_language::model::Minutes;

/// How far a job has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Nothing was found yet.
    TakenIn,
    /// Something was found; nothing is agreed or done.
    LookedOver,
    /// The owner agreed to something; nothing is done.
    Agreed,
    /// Something is done, and something is left to do.
    OnTheBench,
    /// Something is done, and nothing that is left is certain.
    NothingCertainLeft,
}

impl Stage {
    /// "on the bench".
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::TakenIn => "taken in",
            Self::LookedOver => "looked over",
            Self::Agreed => "agreed",
            Self::OnTheBench => "on the bench",
            Self::NothingCertainLeft => "nothing certain left",
        }
    }
}

/// Where a job stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Standing {
    /// How far it has come.
    pub stage: Stage,
    /// Jobs that are certain and left to do.
    pub left: usize,
    /// The minutes that these mostly take, of as many as the rules give a time for.
    pub minutes: Minutes,
    /// Those of them that wait for the owner's answer.
    pub to_ask: usize,
    /// Jobs that were ticked.
    pub done: usize,
}

impl Standing {
    /// Of a job with so many findings, by its plan.
    #[must_use]
    pub fn of(findings: usize, progress: &Progress, plan: &WorkPlan) -> Self {
        let done = progress.done().count();
        let certain = || plan.steps.iter().filter(|step| !step.certain.is_empty());
        let left = certain().count();
        let is_agreed = progress.marks.iter().any(|m| m.what.mark == Mark::Agreed);
        let stage = match () {
            () if done > 0 && left == 0 => Stage::NothingCertainLeft,
            () if done > 0 => Stage::OnTheBench,
            () if is_agreed => Stage::Agreed,
            () if findings > 0 => Stage::LookedOver,
            () => Stage::TakenIn,
        };
        Self {
            stage,
            left,
            minutes: plan.times.certain[1],
            to_ask: certain().filter(|step| step.to_ask).count(),
            done,
        }
    }
}
