//! Cautions that end with a job: a cornice that may fall does not once it is lifted off.

use super::progress::Progress;
use tellmark_compile::set_up::Caution;
use tellmark_language::model::{Model, Until};

/// The job that a caution ends with, if it ends with one.
pub(super) fn ends_with(model: &Model, caution: &Caution) -> Option<usize> {
    match model.cautions.get(caution.caution)?.until? {
        Until::Done(job) => Some(job.index()),
        Until::Known(_) => None,
    }
}

/// Leaves out of cautions the parts of which the job is done that they end with. What is found
/// there afterwards brings them back: it is on the piece again, or was never off.
pub(super) fn leave_out_ended(model: &Model, progress: &Progress, cautions: &mut Vec<Caution>) {
    for caution in cautions.iter_mut() {
        let Some(job) = ends_with(model, caution) else {
            continue;
        };
        let parts = caution.indices.iter().copied().zip(&caution.parts);
        let left = parts.filter(|&(part, _)| !progress.is_done_for_good(job, part));
        let (indices, parts) = left.map(|(part, name)| (part, name.clone())).unzip();
        (caution.indices, caution.parts) = (indices, parts);
    }
    cautions.retain(|caution| !caution.parts.is_empty());
}
