//! The three kinds of a report, by the moment at which it is made.

use super::matter::Matter;
use serde::Serialize;
use tellmark_compile::set_up::Mended;
use tellmark_job::advice::{Mark, Progress, WorkPlan, said_when};
use tellmark_job::record::Shelf;
use tellmark_language::model::{Model, WorkStage};

/// What a report is, by the moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Before the work: what is wrong, what may be, what will be done.
    Estimate,
    /// While it lasts: what is done, and what is left.
    Progress,
    /// When it goes home: what was wrong, and what was done.
    HandBack,
}

impl Kind {
    /// Every kind with its name.
    pub const ALL: [(Kind, &'static str); 3] = [
        (Kind::Estimate, "estimate"),
        (Kind::Progress, "progress"),
        (Kind::HandBack, "hand-back"),
    ];

    /// The kind of this name.
    #[must_use]
    pub fn of_name(name: &str) -> Option<Kind> {
        let found = Kind::ALL.iter().find(|(_, known)| *known == name);
        found.map(|(kind, _)| *kind)
    }

    /// Whether a report of this kind would be true of a job.
    ///
    /// # Errors
    /// If it would not: why, as a sentence.
    pub fn fits(self, model: &Model, progress: &Progress) -> Result<(), String> {
        if self == Kind::Estimate && has_begun(model, progress) {
            return Err(
                "Work on this piece is ticked as done, and an estimate says only what is to come. \
                 Make it with --kind progress, or leave --kind out."
                    .to_owned(),
            );
        }
        Ok(())
    }

    /// The kind that the moment calls for.
    pub(super) fn of_moment(matter: &Matter<'_>, plan: &WorkPlan) -> Kind {
        if is_going_home(matter) {
            return Kind::HandBack;
        }
        // Where the findings clash there is no plan, and nothing is known to be over.
        let is_left = plan.clash.is_some() || plan.is_left();
        let is_open = is_left || is_in_doubt(matter) || !matter.waits().is_empty();
        match (has_begun(matter.model(), matter.progress), is_open) {
            (false, _) => Kind::Estimate,
            (true, true) => Kind::Progress,
            (true, false) => Kind::HandBack,
        }
    }
}

/// Whether somebody said that it is ready, or was handed back; what is not done then is not
/// done.
fn is_going_home(matter: &Matter<'_>) -> bool {
    let said = said_when(matter.job().entries());
    matches!(said, Some((Shelf::Ready | Shelf::HandedBack, _)))
}

/// Whether something that was mended is there again, or may be: then the piece does not go
/// home yet.
fn is_in_doubt(matter: &Matter<'_>) -> bool {
    let now = matter.view.later();
    now.is_some_and(|now| now.later.mended.iter().any(Mended::is_in_doubt))
}

/// Whether something was done to the piece; recording and labelling come before the work.
fn has_begun(model: &Model, progress: &Progress) -> bool {
    progress.done().any(|told| {
        let job = told.what.index.and_then(|job| model.jobs.get(job));
        told.what.mark == Mark::Done && job.is_none_or(|job| job.stage != WorkStage::Record)
    })
}
