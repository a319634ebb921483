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

    /// The remarks that nothing was noted in place of, oldest first: those that are still to be
    /// settled, and those that somebody was done with without a reading.
    #[must_use]
    pub fn remarks_kept(&self) -> Vec<Remarked> {
        let entries = self.entries();
        kept(entries, |entry| match &entry.says {
            Says::Settled(settled) => is_read(entries, entry.number, settled).then_some(settled),
            _ => None,
        })
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
    kept(entries, |entry| match &entry.says {
        Says::Settled(settled) => Some(settled),
        _ => None,
    })
}

/// The remarks without those that a later line takes away.
fn kept<'e>(
    entries: &'e [Entry],
    takes_away: impl Fn(&'e Entry) -> Option<&'e Remark>,
) -> Vec<Remarked> {
    let mut kept: Vec<Remarked> = Vec::new();
    for entry in entries {
        if let Says::Remark(remark) = &entry.says {
            kept.push(Remarked {
                number: entry.number,
                when: entry.when,
                remark: remark.clone(),
            });
        } else if let Some(gone) = takes_away(entry) {
            kept.retain(|one| one.remark != *gone);
        }
    }
    kept
}

/// Whether a reading was noted for a remark that a line settles: it stands just before, with the
/// remark's own words as what was typed, and perhaps what they say besides.
fn is_read(entries: &[Entry], settled: usize, remark: &Remark) -> bool {
    let mut before = entries.iter().filter(|entry| entry.number < settled);
    let is_rest = |entry: &Entry| matches!(&entry.says, Says::Remark(rest) if rest != remark);
    let last = before.rfind(|entry| !is_rest(entry));
    last.is_some_and(|entry| match &entry.says {
        Says::Typed { words, .. } => *words == remark.words,
        _ => false,
    })
}
