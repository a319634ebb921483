//! Remarks: what was noted in words that no rule reads, kept as it was typed.

use super::entry::{Entry, Remark, Says};
use super::error::JobError;
use super::folder::{Added, Job, New, line};
use super::lines::When;
use super::lock::Turn;
use jiff::civil::DateTime;

/// A remark of the record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remarked {
    /// Its line in the file, from 1.
    pub number: usize,
    /// When it was written down.
    pub when: When,
    /// What it says, and of which part.
    pub remark: Remark,
}

impl Job {
    /// The remarks that are still to be settled, oldest first.
    #[must_use]
    pub fn remarks(&self) -> Vec<Remarked> {
        open_remarks(self.entries())
    }

    /// Adds lines that settle a remark, if nobody has settled it in the meantime: all of them,
    /// or none.
    ///
    /// # Errors
    /// As [`Job::append`]; [`JobError::Settled`] if somebody has.
    pub fn settle(
        &mut self,
        remark: &Remark,
        with: &[New<'_>],
        now: DateTime,
    ) -> Result<Added, JobError> {
        let settled = Says::Settled(remark.clone());
        let new = with.iter().copied().chain([New::Entry(&settled)]);
        let lines: Result<String, JobError> = new.map(|new| line(new, now, &self.pen)).collect();
        let lines = lines?;
        let turn = Turn::take(self.folder(), now)?;
        self.look_again()?;
        if !self.remarks().iter().any(|open| open.remark == *remark) {
            return Err(JobError::Settled);
        }
        let added = self.write(&lines, |_| Ok(()))?;
        drop(turn);
        Ok(added)
    }

    /// What was typed for a finding, to the byte; `None` if it was the finding itself.
    #[must_use]
    pub fn typed(&self, line: usize) -> Option<&str> {
        self.entries().iter().find_map(|entry| match &entry.says {
            Says::Typed { lines, words } => {
                let first = entry.number.saturating_sub(*lines);
                (first..entry.number)
                    .contains(&line)
                    .then_some(words.as_str())
            }
            _ => None,
        })
    }
}

/// A line `settled:` takes away every earlier remark in its words.
fn open_remarks(entries: &[Entry]) -> Vec<Remarked> {
    let mut open: Vec<Remarked> = Vec::new();
    for entry in entries {
        match &entry.says {
            Says::Remark(remark) => open.push(Remarked {
                number: entry.number,
                when: entry.when,
                remark: remark.clone(),
            }),
            Says::Settled(settled) => open.retain(|one| one.remark != *settled),
            _ => {}
        }
    }
    open
}
