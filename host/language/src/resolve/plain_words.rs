//! `In plain words:` and what the owner is told: sentences that are read out as they stand, and
//! must be able to be said of what was, of what is and of what may be.

use super::Reader;
use super::look::{Done, refuse};
use super::particulars::Particulars;
use crate::entry::Entry;
use crate::message::Problem;
use crate::model::{JobId, KindId, PIECE, StateId};
use crate::syntax::Name;
use crate::words::{Plainly, at_time, capital, mention, to_come};

/// The most signs that such a text may have: four lines on paper.
const LONGEST: usize = 300;

impl Reader<'_> {
    /// What is said of a fault or a sign.
    pub(super) fn plain_of_state(&mut self, entry: &Entry, state: StateId, given: &Particulars) {
        let Some(said) = &given.plain else {
            return;
        };
        let kind = self.model.states[state.index()].kind;
        let read = self.of_fault(said, kind);
        if let Some(words) = self.keep(entry, read) {
            self.model.plain.set_fault(state, words);
        }
    }

    /// What is said of a job, and after it.
    pub(super) fn plain_of_job(&mut self, entry: &Entry, job: JobId, given: &Particulars) {
        if let Some(said) = &given.plain {
            let read = self.of_job(said, job);
            if let Some(words) = self.keep(entry, read) {
                self.model.plain.set_job(job, words);
            }
        }
        if let Some(said) = &given.afterwards {
            let read = whole(said);
            if let Some(words) = self.keep(entry, read) {
                self.model.plain.set_afterwards(job, words);
            }
        }
    }

    fn of_fault(&self, said: &Name, kind: KindId) -> Done<String> {
        let words = whole(said)?;
        let record = &self.model.kinds[kind.index()];
        let name = &record.name;
        if at_time(&words, Plainly::MayBe).is_none() {
            return refuse(said.at, Problem::PlainFaultNotPast { part: name });
        }
        let is_whole = kind == PIECE || record.is_piece;
        if !is_whole && mention(&self.model, &words, kind).is_none() {
            let part_cap = &capital(name);
            let part = name;
            return refuse(said.at, Problem::PlainWithoutPart { part, part_cap });
        }
        Ok(words)
    }

    fn of_job(&self, said: &Name, job: JobId) -> Done<String> {
        let words = whole(said)?;
        if to_come(&words).is_none() {
            let done = crate::words::done(&self.model.jobs[job.index()].name);
            return refuse(said.at, Problem::PlainJobNotDone { done: &done });
        }
        Ok(words)
    }
}

/// Whole sentences, not too many.
pub(super) fn whole(said: &Name) -> Done<String> {
    let words = said.text.trim();
    let number = words.chars().count();
    if number > LONGEST {
        let most = LONGEST;
        return refuse(said.at, Problem::PlainTooLong { number, most });
    }
    let first = words.chars().next();
    let is_begun = first.is_some_and(|first| !first.is_lowercase());
    if is_begun && words.ends_with(['.', '!', '?']) {
        Ok(words.to_owned())
    } else {
        refuse(said.at, Problem::PlainHalf)
    }
}
