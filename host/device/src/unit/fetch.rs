//! What was noted, from the unit into a job's record: once and in order,
//! wherever it is interrupted.
//!
//! Each batch of notes is kept as it was sent, then written into the record,
//! and only then may the unit forget it (see `ledger.rs`).

use super::fetch_error::FetchError;
use super::ledger::{LEDGER_FILE, Ledger};
use super::line::{Line, LinkError, Notes, Size};
use super::port::Wire;
use super::writing::Work;
use crate::bench;
use jiff::civil::DateTime;
use std::path::Path;
use tellmark_compile::Built;
use tellmark_core::link::{Answer, Hello, Refusal, Request};
use tellmark_job::record::Job;
use tellmark_language::model::Model;

/// The rules that the notes are read with.
#[derive(Clone, Copy, Debug)]
pub struct Rules<'r> {
    /// What they say.
    pub model: &'r Model,
    /// The same, compiled.
    pub built: &'r Built,
}

/// Where the notes go.
#[derive(Clone, Copy, Debug)]
pub struct Target<'t> {
    /// The job's folder; it is made if it is not there.
    pub folder: &'t Path,
    /// The time on the wall. The unit has none, so this is when the findings
    /// are dated.
    pub now: DateTime,
    /// The job has a piece from this unit already, and the notes begin it
    /// anew.
    pub again: bool,
}

/// What was fetched.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Fetched {
    /// The piece.
    pub piece: String,
    /// The job's folder was made.
    pub created: bool,
    /// Notes that are in the record now and were not before.
    pub notes: usize,
    /// The lines that were added to the record.
    pub lines: Vec<String>,
    /// Notes that were damaged on the unit and cannot be read.
    pub damaged: usize,
    /// Notes that are not in the words of these rules; they are kept as they
    /// were sent.
    pub unsaid: usize,
    /// A piece is being begun at the bench, and not set up yet.
    pub being_begun: bool,
    /// The unit has notes about another piece.
    pub more: bool,
}

/// Fetches the notes about one piece. `progress` is told how many of how many
/// are in the record.
pub fn fetch<W: Wire>(
    line: &mut Line<W>,
    rules: Rules<'_>,
    target: Target<'_>,
    mut progress: impl FnMut(u32, u32),
) -> Result<Fetched, FetchError> {
    let (hello, acknowledged) = greet(line)?;
    let mut size = Size::of_notes();
    let mut room = bench::Room::default();
    let mut work = Work::new(rules, target, &mut room, hello.log, acknowledged)?;
    if let Some(ledger) = work.ledger()
        && ledger.done > acknowledged
    {
        acknowledge(line, hello.log, ledger.done)?;
    }
    work.take_what_is_kept()?;
    let mut from = work.done.saturating_add(1);
    let first = from;
    while !work.fetched.more {
        let notes = line.notes(from, &mut size)?;
        if notes.log != hello.log {
            return Err(LinkError::Refused(Refusal::OtherLog).into());
        }
        let Some(last) = notes.entries.last().map(|entry| entry.sequence) else {
            break;
        };
        match work.take(&notes.entries) {
            Ok(()) => {}
            Err(FetchError::OtherRules { notes: pack, .. }) => {
                return Err(other_rules(line, &mut work, notes, pack)?);
            }
            Err(trouble) => return Err(trouble),
        }
        if let Some(done) = work.write()? {
            acknowledge(line, hello.log, done)?;
            progress(done - first + 1, notes.newest.max(done) - first + 1);
        }
        from = last.saturating_add(1);
    }
    work.fetched.being_begun = !work.held.is_empty() && !work.fetched.more;
    work.fetched.piece = work.bench.name();
    Ok(work.fetched)
}

/// Puts into the words of the rules, and into the record, what a job's folder only
/// kept until now ([`keep`]). No unit is needed.
pub fn put_into_words(rules: Rules<'_>, target: Target<'_>) -> Result<Fetched, FetchError> {
    Job::open(target.folder)?;
    let mut all = Fetched::default();
    for log in Ledger::logs_kept(target.folder)? {
        let done = Ledger::open(target.folder, log)?.done;
        let mut room = bench::Room::default();
        let mut work = Work::new(rules, target, &mut room, log, done)?;
        work.take_what_is_kept()?;
        all.piece = work.bench.name();
        all.notes += work.fetched.notes;
        all.lines.append(&mut work.fetched.lines);
        all.damaged += work.fetched.damaged;
        all.unsaid += work.fetched.unsaid;
        all.being_begun |= !work.held.is_empty() && !work.fetched.more;
        all.more |= work.fetched.more;
    }
    Ok(all)
}

/// Keeps all notes there are in the folder of a job as they were sent, and lets
/// the unit forget them. Says how many.
pub fn keep<W: Wire>(line: &mut Line<W>, folder: &Path) -> Result<usize, FetchError> {
    let (hello, acknowledged) = greet(line)?;
    Job::open(folder)?;
    let mut ledger = Ledger::open(folder, hello.log)?;
    let mut from = acknowledged
        .max(ledger.done)
        .max(ledger.kept)
        .saturating_add(1);
    let (mut number, mut size) = (0, Size::of_notes());
    loop {
        let notes = line.notes(from, &mut size)?;
        let Some(last) = notes.entries.last().map(|entry| entry.sequence) else {
            return Ok(number);
        };
        let lines: String = notes.entries.iter().map(|e| ledger.note(e)).collect();
        ledger.append(&lines)?;
        ledger.keep(last)?;
        acknowledge(line, notes.log, last)?;
        number += notes.entries.len();
        from = last.saturating_add(1);
    }
}

/// Who the unit is, and up to which note it says that it was fetched from.
///
/// Notes before that are not asked for, so two answers must agree on it: one
/// damaged frame in 65,536 has a right check sum.
fn greet<W: Wire>(line: &mut Line<W>) -> Result<(Hello, u32), LinkError> {
    for _ in 0..3 {
        let hello = line.greet()?;
        let notes = line.notes(u32::MAX, &mut Size::of_notes())?;
        let acknowledged = hello.newest.checked_sub(hello.unfetched);
        if notes.log == hello.log && acknowledged == Some(notes.acknowledged) {
            return Ok((hello, notes.acknowledged));
        }
    }
    Err(LinkError::Nonsense)
}

fn acknowledge<W: Wire>(line: &mut Line<W>, log: u32, up_to: u32) -> Result<(), LinkError> {
    line.ask(Request::Acknowledge { log, up_to }, |answer| {
        matches!(answer, Answer::Acknowledged { .. }).then_some(())
    })
}

/// Keeps all notes there are as they were sent, for when the rules are there.
fn other_rules<W: Wire>(
    line: &mut Line<W>,
    work: &mut Work<'_>,
    mut notes: Notes,
    pack: u32,
) -> Result<FetchError, FetchError> {
    let mut kept = None;
    if let Some((_, ledger)) = &mut work.job {
        let (mut number, mut size) = (0, Size::of_notes());
        while let Some(last) = notes.entries.last().map(|entry| entry.sequence) {
            let lines: String = notes.entries.iter().map(|e| ledger.note(e)).collect();
            ledger.append(&lines)?;
            number += notes.entries.len();
            notes = line.notes(last.saturating_add(1), &mut size)?;
        }
        kept = Some((number, work.target.folder.join(LEDGER_FILE)));
    }
    Ok(FetchError::OtherRules {
        notes: pack,
        rules: work.rules.built.bytes.open()?.id(),
        kept,
    })
}
