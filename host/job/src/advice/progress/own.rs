//! Work of one's own: what of it is still to be done, what is done or refused.

use super::{Mark, Marked, OwnWork, Progress, Told, is_said};

impl Progress {
    /// Work of one's own that is still to be done, with each part where it is.
    pub fn own_to_do(&self) -> impl Iterator<Item = (&Told<OwnWork>, usize, &str)> {
        self.own.iter().flat_map(move |own| {
            let parts = &own.what.parts;
            let each = parts.indices.iter().copied().zip(&parts.names);
            each.filter(move |&(part, _)| !self.is_own_done(own, part))
                .filter(move |&(part, _)| {
                    self.leave(part).next().is_none() && !self.is_own_refused(&own.what.job, part)
                })
                .map(move |(part, name)| (own, part, name.as_str()))
        })
    }

    /// Whether work of one's own was ticked on a part since it was planned.
    fn is_own_done(&self, own: &Told<OwnWork>, part: usize) -> bool {
        let ticked = self.own_done_in(&own.what.job, part);
        ticked.is_some_and(|line| line > own.line)
    }

    /// Whether the owner will not have work of one's own done on a part.
    #[must_use]
    pub fn is_own_refused(&self, job: &str, part: usize) -> bool {
        self.own_refused_in(job, part).is_some()
    }

    /// The mark by which the owner will not have work of one's own done on a part.
    pub(in crate::advice) fn own_refused_in(
        &self,
        job: &str,
        part: usize,
    ) -> Option<&Told<Marked>> {
        let mut marks = self.marks.iter().rev();
        let last = marks.find(|told| {
            let marked = &told.what;
            marked.mark.is_decision()
                && marked.index.is_none()
                && is_said(&marked.job, job)
                && (marked.parts.indices.is_empty() || self.is_among(&marked.parts, part))
        });
        last.filter(|told| told.what.mark == Mark::Refused)
    }

    /// The line of the last tick of work of one's own on a part.
    #[must_use]
    pub fn own_done_in(&self, job: &str, part: usize) -> Option<usize> {
        let mut ticks = self.marks.iter().rev();
        let last = ticks.find(|told| {
            let marked = &told.what;
            marked.mark == Mark::Done
                && marked.index.is_none()
                && is_said(&marked.job, job)
                && (marked.parts.indices.is_empty() || self.is_among(&marked.parts, part))
        });
        last.map(|told| told.line)
    }
}
