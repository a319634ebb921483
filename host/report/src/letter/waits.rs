//! What the piece waits for, for its owner to read: what somebody said it waits for, and what
//! was done and must be left alone for longer.

use super::super::when::day;
use super::Gathering;
use jiff::civil::{Date, DateTime, Time};
use tellmark_job::advice::Wait;
use tellmark_language::model::JobId;
use tellmark_language::words::{capital, number, plain_job};

/// A sentence or two: what somebody said that it waits for, and of what was done what must be left
/// alone for longest, with how many more there are.
pub(super) fn waits(g: &Gathering<'_>) -> Vec<String> {
    let waits = g.matter.waits();
    let (done, said): (Vec<&Wait>, Vec<&Wait>) =
        waits.iter().partition(|wait| wait.ticked.is_some());
    let mut sentences: Vec<String> = said.iter().map(|wait| of_one(g, wait, None)).collect();
    if let Some(longest) = done.iter().max_by_key(|wait| wait.until) {
        sentences.push(of_one(g, longest, longest.until));
    }
    match u32::try_from(done.len().saturating_sub(1)).unwrap_or(u32::MAX) {
        0 => {}
        1 => sentences.push("One more repair is to be left alone as well, no longer.".to_owned()),
        more => sentences.push(format!(
            "{} more repairs are to be left alone as well, none longer.",
            capital(&number(more))
        )),
    }
    sentences
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
