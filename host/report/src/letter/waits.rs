//! What the piece waits for, for its owner to read: what somebody said it waits for, and what
//! was done and must be left alone for longer.

use super::super::when::day;
use super::Gathering;
use jiff::civil::{Date, DateTime, Time};
use tellmark_job::advice::Wait;
use tellmark_language::model::JobId;
use tellmark_language::words::plain_job;

/// A sentence or two for everything that is waited for, the longest wait first.
pub(super) fn waits(g: &Gathering<'_>) -> Vec<String> {
    let waits = g.matter.waits();
    let until: Vec<Option<DateTime>> = waits
        .iter()
        .map(|wait| wait.ticked.and(wait.until))
        .collect();
    let said = waits.iter().zip(said_until(&until));
    said.map(|(wait, ends)| of_one(g, wait, ends)).collect()
}

/// What ends within so many hours of one another is left alone equally long for whoever reads it.
const ALIKE: i64 = 3;

/// Of what is left alone about equally long, the last says until when: the latest of them.
fn said_until(until: &[Option<DateTime>]) -> Vec<Option<DateTime>> {
    let is_alike = |one: DateTime, other: DateTime| {
        let hours = one.duration_since(other).as_hours();
        hours.abs() < ALIKE
    };
    let mut said = Vec::new();
    let mut latest: Option<DateTime> = None;
    for (at, ends) in until.iter().enumerate() {
        latest = match (latest, *ends) {
            (Some(latest), Some(ends)) if is_alike(latest, ends) => Some(latest.max(ends)),
            (_, ends) => ends,
        };
        let next = until.get(at + 1).copied().flatten();
        let goes_on = latest.zip(next).is_some_and(|(a, b)| is_alike(a, b));
        said.push(latest.filter(|_| !goes_on));
    }
    said
}

/// `ends`: the moment that is said of what is left alone.
fn of_one(g: &Gathering<'_>, wait: &Wait, ends: Option<DateTime>) -> String {
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
    let rest = ends.map_or_else(String::new, |ends| {
        let moment = moment(ends, g.matter.today());
        format!(" What we did there is to be left alone until {moment}.")
    });
    format!("{}{rest}", plain.unwrap_or_else(|| wait.what.clone()))
}

/// After so many days the hour makes no difference to anybody.
const FAR: i32 = 3;

/// "5 December 2026", or with the minute where that is soon and not midnight. What ends in the
/// course of a day that is far ends with it.
fn moment(at: DateTime, today: Date) -> String {
    let is_midnight = at.time() == Time::midnight();
    let is_far = (at.date() - today).get_days() > FAR;
    match (is_midnight, is_far) {
        (true, _) => day(at.date()),
        (false, true) => day(at.date().tomorrow().unwrap_or(at.date())),
        (false, false) => format!("{} on {}", at.strftime("%H:%M"), day(at.date())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn what_ends_within_hours_is_said_once() {
        let at = |hour: i8, minute: i8| Some(date(2026, 12, 1).at(hour, minute, 0, 0));
        assert_eq!(
            said_until(&[at(19, 34), at(19, 34), at(19, 33), None, at(9, 0)]),
            [None, None, at(19, 34), None, at(9, 0)]
        );
        assert_eq!(said_until(&[at(19, 0), at(12, 0)]), [at(19, 0), at(12, 0)]);
        assert_eq!(said_until(&[]), []);
    }
}
