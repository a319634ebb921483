//! What is done, where, and whether it held.

use super::{Again, Mark, Marked, Progress, Told};
use tellmark_compile::set_up::Mend;

impl Progress {
    /// What was done, oldest first: ticks that were not taken back since.
    pub fn done(&self) -> impl Iterator<Item = &Told<Marked>> {
        let marks = self.marks.iter();
        marks.filter(|told| told.what.mark == Mark::Done)
    }

    /// Whether a job is done on a part, and nothing wrong was found there since.
    #[must_use]
    pub fn is_done_for_good(&self, job: usize, part: usize) -> bool {
        let done = self.done_in(job, part);
        done.is_some_and(|line| {
            let mut found = self.found.iter();
            !found.any(|&(number, at)| number > line && at == part)
        })
    }

    /// Whether a job is done on a part, and not to be done anew.
    #[must_use]
    pub fn is_done(&self, job: usize, part: usize) -> bool {
        let last = self.last(job, part, &[Mark::Done, Mark::NotDone]);
        last.is_some_and(|told| {
            told.what.mark == Mark::Done
                && !self.is_again(told.line, part, |_| true)
                && !self.is_to_follow(told.line, job, part)
                && !self.is_put_back(told.line, job, part)
        })
    }

    /// Whether a tick of this name stands for any of these parts.
    #[must_use]
    pub fn is_ticked(&self, job: &str, parts: &[usize]) -> bool {
        let is_on = |told: &Told<Marked>| {
            let ticked = &told.what.parts;
            let mut parts = parts.iter();
            ticked.indices.is_empty()
                || parts.any(|&part| {
                    let mut inside = ticked.indices.iter();
                    self.is_among(ticked, part)
                        || inside.any(|&at| self.owners.get(at).is_some_and(|o| o.contains(&part)))
                })
        };
        self.done().any(|told| told.what.job == job && is_on(told))
    }

    /// The line of the tick, if a job is done on a part.
    #[must_use]
    pub fn done_in(&self, job: usize, part: usize) -> Option<usize> {
        let last = self.last(job, part, &[Mark::Done, Mark::NotDone]);
        last.filter(|_| self.is_done(job, part))
            .map(|told| told.line)
    }

    /// The line of the last tick of a job on a part, if what it mended was found there again, so
    /// that the job is to be done anew.
    #[must_use]
    pub fn did_not_hold(&self, job: usize, part: usize) -> Option<usize> {
        let last = self.last(job, part, &[Mark::Done, Mark::NotDone])?;
        let was_there = |again: &Again| again.was_there;
        let is_again = last.what.mark == Mark::Done && self.is_again(last.line, part, was_there);
        is_again.then_some(last.line)
    }

    /// Whether something that a tick mended on a part was found there again.
    fn is_again(&self, line: usize, part: usize, counts: impl Fn(&Again) -> bool) -> bool {
        let is_of = |outer: usize, inner: usize| self.is_within(inner, outer);
        let mut again = self.again.iter();
        again.any(|one| {
            one.line == line && counts(one) && (is_of(part, one.part) || is_of(one.part, part))
        })
    }

    /// What the ticks say was mended, in the order of the record.
    #[must_use]
    pub fn mends(&self) -> Vec<Mend> {
        let done = self.done().map(|told| Mend {
            line: told.line,
            states: told.what.mends.clone(),
            fails: f64::from(told.what.fails.0) / 1000.0,
        });
        done.collect()
    }
}
