//! How long was worked on something by the clock.

use crate::record::Job;
use tellmark_language::AnswerReader;
use tellmark_language::model::{Minutes, Model};

/// The minutes for which something was timed since it was last ticked.
#[must_use]
pub fn timed(model: &Model, job: &Job, work: &str) -> Minutes {
    let reader = AnswerReader::new(model);
    let times = job.timed(work).into_iter();
    times.filter_map(|took| reader.time(took)).sum()
}
