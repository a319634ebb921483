//! What is said to the owner: faults and jobs in plain words, and how to look after the piece.
//! None of it takes part in any chance, and none of it is in a pack.

use crate::model::{Condition, JobId, KindId, Model, SourceId, StateId};
use crate::span::Span;

/// Faults and jobs in plain words.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, Default)]
pub struct PlainWords {
    /// `In plain words:` of a fault or a sign: a sentence in the past, "The drawer had lost
    /// its stops."
    faults: Vec<(StateId, String)>,
    /// `In plain words:` of a job: what was done, "We glued the blocks again."
    jobs: Vec<(JobId, String)>,
    /// `Afterwards:` of a job: what the owner is told when it is done.
    afterwards: Vec<(JobId, String)>,
}

impl PlainWords {
    /// Sets what is said of a fault; what was said before gives way.
    pub fn set_fault(&mut self, state: StateId, words: String) {
        set(&mut self.faults, state, words);
    }

    /// Sets what is said of a job; what was said before gives way.
    pub fn set_job(&mut self, job: JobId, words: String) {
        set(&mut self.jobs, job, words);
    }

    /// Sets what the owner is told after a job; what was said before gives way.
    pub fn set_afterwards(&mut self, job: JobId, words: String) {
        set(&mut self.afterwards, job, words);
    }

    /// What is said of a job, if the house says it.
    #[must_use]
    pub fn job(&self, job: JobId) -> Option<&str> {
        get(&self.jobs, job)
    }

    /// What the owner is told after a job, if the house says it.
    #[must_use]
    pub fn afterwards(&self, job: JobId) -> Option<&str> {
        get(&self.afterwards, job)
    }
}

impl Model {
    /// What is said of a fault in plain words, if the house says it: of the kind itself, or of
    /// the nearest kind that it is a kind of.
    #[must_use]
    pub fn plain_fault(&self, state: StateId) -> Option<&str> {
        let kind = |state: StateId| self.states.get(state.index()).map(|state| state.kind);
        let like = self.declared_like(state);
        let said_of = |at: KindId| {
            let mut faults = self.plain.faults.iter();
            let is_it = |one: StateId| kind(one) == Some(at) && self.declared_like(one) == like;
            faults.find(|(one, _)| is_it(*one))
        };
        let said = self.lineage(kind(state)?).find_map(said_of);
        said.map(|(_, words)| words.as_str())
    }
}

fn set<I: Copy + PartialEq>(all: &mut Vec<(I, String)>, of: I, words: String) {
    match all.iter_mut().find(|(one, _)| *one == of) {
        Some((_, said)) => *said = words,
        None => all.push((of, words)),
    }
}

fn get<I: Copy + PartialEq>(all: &[(I, String)], of: I) -> Option<&str> {
    all.iter()
        .find(|(one, _)| *one == of)
        .map(|(_, said)| said.as_str())
}

/// `Tell the owner when …`: how to look after the piece.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Tell {
    /// The kind of part it is about.
    pub subject: KindId,
    /// What must be so.
    pub when: Condition,
    /// What the owner is told.
    pub text: String,
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`.
    pub called: Option<String>,
    /// The whole entry.
    pub at: Span,
}
