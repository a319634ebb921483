//! Time at the bench as a clock measures it: lines `started:` and `stopped:`.

use super::entry::{Entry, Says};
use super::folder::Job;
use super::lines::When;
use jiff::tz::Offset;
use jiff::{Timestamp, Unit};

/// Work that is being timed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Running {
    /// What is worked on.
    pub job: String,
    /// When it was started.
    pub since: When,
    /// The line that says so, from 1.
    pub line: usize,
}

/// So many hours at a stretch nobody works: the clock was left running.
const LONGEST: i64 = 12 * 60;

impl Job {
    /// What is being timed now, if anything.
    #[must_use]
    pub fn running(&self) -> Option<Running> {
        let timing =
            |entry: &&Entry| matches!(entry.says, Says::Started { .. } | Says::Stopped { .. });
        let last = self.entries().iter().rev().find(timing)?;
        match &last.says {
            Says::Started { job } => Some(Running {
                job: job.clone(),
                since: last.when,
                line: last.number,
            }),
            _ => None,
        }
    }

    /// How long was worked on something since it was last ticked: each time as it was noted.
    #[must_use]
    pub fn timed(&self, job: &str) -> Vec<&str> {
        let is_it = |other: &str| other.to_lowercase() == job.to_lowercase();
        let mut timed = Vec::new();
        for entry in self.entries() {
            match &entry.says {
                Says::Stopped { job, took } if is_it(job) => timed.push(took.as_str()),
                Says::Done { job, .. } if is_it(job) => timed.clear(),
                _ => {}
            }
        }
        timed
    }
}

impl Running {
    /// The minutes since it was started, at least one; `None` if only whoever was there can
    /// say: it ran over night, for longer than anybody works, or its clock does not tell.
    #[must_use]
    pub fn minutes(&self, now: Timestamp, here: Offset) -> Option<u32> {
        let since = self.since.instant(here)?;
        let minutes = now.since(since).ok()?.total(Unit::Minute).ok()?;
        let is_today = self.since.date() == Some(here.to_datetime(now).date());
        #[allow(clippy::cast_possible_truncation)]
        let minutes = minutes.floor() as i64;
        let is_told = is_today && (0..=LONGEST).contains(&minutes);
        is_told.then(|| u32::try_from(minutes.max(1)).unwrap_or(1))
    }
}
