//! Lines of the record that a later line corrects, and lines that could not be used. The
//! record is append-only, so the earlier lines are still there.

use super::matter::Matter;
use super::when::{date, noted};
use jiff::civil::Date;
use serde::Serialize;
use std::collections::BTreeMap;
use tellmark_job::record::Says;

/// A line that a later one put right.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Corrected {
    /// Its number.
    pub line: usize,
    /// Its day.
    pub day: String,
    /// What it said.
    pub said: String,
    /// The later line.
    pub by: usize,
    /// Its day.
    pub by_day: String,
    /// What it says.
    pub now: String,
    /// A slip of the pen: put right within the same day's looking over.
    pub is_slip: bool,
}

/// A line that nothing goes by.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LeftOut {
    /// Its number.
    pub line: usize,
    /// What it says.
    pub said: String,
    /// Why nothing goes by it.
    pub why: String,
}

/// What was put right, and what is not gone by.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Changed {
    /// Lines that a later one put right.
    pub corrected: Vec<Corrected>,
    /// Lines that nothing goes by.
    pub left_out: Vec<LeftOut>,
}

pub(super) fn changed(matter: &Matter<'_>) -> Changed {
    let when = |number: usize| {
        let lines = matter.job().lines().iter().map(|l| (l.number, l.when));
        let entries = matter.job().entries().iter().map(|e| (e.number, e.when));
        let found = lines.chain(entries).find(|(n, _)| *n == number);
        found.map(|(_, when)| when)
    };
    let day_of = |number: usize| when(number).map_or_else(String::new, noted);
    let date_of = |number: usize| date(when(number)?);
    let text_of = |number: usize| {
        let entry = matter.job().entries().iter().find(|e| e.number == number);
        entry.map_or_else(|| matter.text(number).to_owned(), |e| e.says.shown())
    };
    let mut pairs: Vec<(usize, usize)> = matter
        .view
        .open
        .corrected
        .iter()
        .filter(|finding| !finding.is_said_again)
        .filter_map(|finding| Some((finding.number, finding.put_right_by?)))
        .chain(entries_put_right(matter))
        .collect();
    // What was only said again puts nothing right.
    pairs.retain(|(line, by)| text_of(*line) != text_of(*by));
    pairs.sort_unstable();
    pairs.dedup();
    let corrected = pairs.into_iter().map(|(line, by)| Corrected {
        is_slip: is_slip(&date_of, line, by),
        line,
        day: day_of(line),
        said: text_of(line),
        by,
        by_day: day_of(by),
        now: text_of(by),
    });
    let unread = matter.job().unread().iter().map(|unread| LeftOut {
        line: unread.number,
        said: unread.text.clone(),
        why: unread.why.in_words(),
    });
    let not_understood = matter.view.open.left_out.iter().map(|(line, why)| LeftOut {
        line: *line,
        said: matter.text(*line).to_owned(),
        why: why.clone(),
    });
    let labelled = matter.progress.not_understood.iter().map(|told| LeftOut {
        line: told.line,
        said: text_of(told.line),
        why: told.what.clone(),
    });
    let mut left_out: Vec<LeftOut> = unread.chain(not_understood).chain(labelled).collect();
    left_out.sort_by_key(|line| line.line);
    Changed {
        corrected: corrected.collect(),
        left_out,
    }
}

/// Whether a line was put right on the day on which it was written. Neither is then of
/// another moment: an eye that slipped, or a second look.
fn is_slip(date_of: &dyn Fn(usize) -> Option<Date>, line: usize, by: usize) -> bool {
    date_of(line).is_some_and(|day| date_of(by) == Some(day))
}

/// Lines with a label that a later one puts right: about the same photograph, or taking
/// back what must be left or was done.
fn entries_put_right(matter: &Matter<'_>) -> Vec<(usize, usize)> {
    let mut latest: BTreeMap<(&str, &str), usize> = BTreeMap::new();
    let mut pairs = Vec::new();
    for entry in matter.job().entries() {
        let topic = match &entry.says {
            Says::Photo(photo) => ("photo", photo.file.as_str()),
            Says::Leave { part, .. } | Says::NotLeave { part } => ("leave", part.as_str()),
            Says::Done { job, .. } => ("done", job.as_str()),
            Says::NotDone { job, .. } => {
                if let Some(earlier) = latest.remove(&("done", job.as_str())) {
                    pairs.push((earlier, entry.number));
                }
                continue;
            }
            _ => continue,
        };
        let earlier = latest.insert(topic, entry.number);
        // A job may be done for one part after the other.
        if let Some(earlier) = earlier
            && topic.0 != "done"
        {
            pairs.push((earlier, entry.number));
        }
    }
    pairs
}
