//! What the piece waits for, for its owner to read: what somebody said it waits for, and what
//! was done and must be left alone for longer.

use super::super::when::day;
use super::Gathering;
use jiff::civil::{DateTime, Time};
use tellmark_job::advice::Wait;
use tellmark_language::model::JobId;
use tellmark_language::words::plain_job;

/// A sentence or two for everything that is waited for, the longest wait first.
pub(super) fn waits(g: &Gathering<'_>) -> Vec<String> {
    let waits = g.matter.waits();
    let until = |wait: &Wait| wait.ticked.and(wait.until);
    let mut said: Vec<String> = waits.iter().map(|wait| of_one(g, wait)).collect();
    // Until when, is said once of what is left alone equally long.
    for (at, pair) in waits.windows(2).enumerate() {
        if until(&pair[0]).is_some() && until(&pair[0]) == until(&pair[1]) {
            let shorter = said[at].replace(&alone(until(&pair[0])), "");
            said[at] = shorter;
        }
    }
    said
}

/// " What we did there is to be left alone until 5 December 2026."
fn alone(until: Option<DateTime>) -> String {
    until.map_or_else(String::new, |until| {
        format!(
            " What we did there is to be left alone until {}.",
            moment(until)
        )
    })
}

fn of_one(g: &Gathering<'_>, wait: &Wait) -> String {
    let Some(line) = wait.ticked else {
        return match wait.until {
            Some(until) => {
                let is_over = until.date() < g.matter.today();
                let expect = if is_over { "expected" } else { "expect" };
                let on = day(until.date());
                format!("We wait for {}, which we {expect} on {on}.", wait.what)
            }
            None => format!("We wait for {}.", wait.what),
        };
    };
    let mut done = g.matter.progress.done();
    let tick = done.find(|told| told.line == line);
    let plain = tick.and_then(|tick| {
        let job = JobId(u16::try_from(tick.what.index?).ok()?);
        let part = tick.what.parts.indices.first().copied().unwrap_or(0);
        Some(plain_job(
            g.matter.model(),
            job,
            g.name_of(part),
            g.kind_of(part),
        ))
    });
    let rest = alone(wait.until);
    format!("{}{rest}", plain.unwrap_or_else(|| wait.what.clone()))
}

/// "5 December 2026", or with the minute where that is not midnight.
fn moment(at: DateTime) -> String {
    let date = day(at.date());
    match at.time() == Time::midnight() {
        true => date,
        false => format!("{} on {date}", at.strftime("%H:%M")),
    }
}
