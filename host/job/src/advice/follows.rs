//! What must follow what is done: a door that is off is hung.

use super::progress::Progress;
use tellmark_language::model::Model;

/// What must be followed by what, by indices of jobs.
pub(super) fn ties(model: &Model) -> Vec<(usize, usize)> {
    let jobs = model.jobs.iter().enumerate();
    jobs.flat_map(|(before, job)| job.then.iter().map(move |after| (before, after.index())))
        .collect()
}

impl Progress {
    /// Whether a job that this one must follow was done on the part after that line: a door that
    /// is taken off once more is to be hung once more.
    pub(super) fn is_to_follow(&self, line: usize, job: usize, part: usize) -> bool {
        let mut ties = self.ties.iter();
        ties.any(|&(before, after)| after == job && self.is_ticked_since(line, before, part))
    }

    /// Whether what must follow this job was done on the part after that line: a door that was
    /// hung again is to be taken off again, if something calls for it.
    pub(super) fn is_put_back(&self, line: usize, job: usize, part: usize) -> bool {
        let mut ties = self.ties.iter();
        ties.any(|&(before, after)| before == job && self.is_ticked_since(line, after, part))
    }

    /// Whether a job was ticked after that line on the part, on one of its owners or on something
    /// that is built into it.
    fn is_ticked_since(&self, line: usize, job: usize, part: usize) -> bool {
        self.done().any(|told| {
            let is_there = |&at: &usize| self.is_within(part, at) || self.is_within(at, part);
            told.line > line
                && told.what.index == Some(job)
                && (told.what.parts.indices.is_empty()
                    || told.what.parts.indices.iter().any(is_there))
        })
    }

    /// The jobs that are done and that another must follow, each with the parts that it was done
    /// for; the piece, where it was done wherever it was called for.
    #[must_use]
    pub fn to_be_followed(&self) -> Vec<(u16, usize)> {
        let done = self.done().filter_map(|told| {
            let job = told.what.index?;
            let is_tied = self.ties.iter().any(|&(before, _)| before == job);
            is_tied.then_some((u16::try_from(job).ok()?, &told.what.parts.indices))
        });
        done.flat_map(|(job, parts)| {
            let parts: &[usize] = if parts.is_empty() { &[0] } else { parts };
            parts.iter().map(move |&part| (job, part))
        })
        .collect()
    }
}
