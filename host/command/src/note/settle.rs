//! `tellmark note JOB --settle`: remarks that no rule reads, and what they could be.

use super::super::exit::{Exit, Stopped};
use super::super::frame::Frame;
use super::super::shape::Shape;
use super::told::{lines_in_words, put_right};
use super::{Note, arguments, key};
use serde_json::{Value, json};
use tellmark_compile::check::Checked;
use tellmark_job::noting::{Noting, Rest};
use tellmark_job::record::{Job, Remarked, Says};
use tellmark_language::ink::Ink;
use tellmark_language::words::{sentence, some_of};
use tellmark_notes::Reading;

const STRONG: Ink = Ink::STRONG;

/// Runs it.
pub(super) fn run(note: &Note, frame: &mut Frame) -> Result<Exit, Stopped> {
    let mut job = frame.job(&note.job)?;
    let rules = frame.ready_or_warn()?;
    let mut remarks = job.remarks();
    if let Some(line) = note.line {
        remarks.retain(|remark| remark.number == line);
        if remarks.is_empty() {
            return Err(Stopped::Misuse(format!(
                "There is no open remark on line {line} of the record. Nothing was noted."
            )));
        }
    }
    let mut noting = Noting::new(&rules.reading.model, &job);
    if let (Some(reading), Some(remark)) = (note.reading, remarks.first()) {
        return take(&mut noting, &rules, &mut job, remark, reading, frame);
    }
    if key::is_there() && !frame.global.json {
        return ask(&mut noting, &rules, &mut job, &remarks, frame);
    }
    list(&noting, &rules, &job, &remarks, note, frame)
}

/// What a remark may mean, in the order in which it is numbered.
pub(super) fn readings(
    noting: &Noting<'_>,
    rules: &Checked,
    job: &Job,
    remark: &Remarked,
) -> Vec<Reading> {
    let mut readings = noting.readings(job, remark);
    // As when it was noted, so that a number shown then means the same now.
    noting.rank(rules, job, remark.number, &mut readings);
    readings
}

/// Shows every remark with its readings, and the commands that take one.
fn list(
    noting: &Noting<'_>,
    rules: &Checked,
    job: &Job,
    remarks: &[Remarked],
    note: &Note,
    frame: &mut Frame,
) -> Result<Exit, Stopped> {
    let model = &rules.reading.model;
    if frame.global.json {
        let all = remarks.iter().map(|remark| {
            let readings = readings(noting, rules, job, remark);
            json!({
                "line": remark.number,
                "part": remark.remark.part,
                "words": remark.remark.words,
                "readings": readings.iter().map(|r| key::said(model, r)).collect::<Vec<_>>(),
            })
        });
        let all: Vec<Value> = all.collect();
        frame.print_json(Shape::REMARKS, json!({ "remarks": all }))?;
        return Ok(Exit::Fine);
    }
    let number = u32::try_from(remarks.len()).unwrap_or(u32::MAX);
    writeln!(frame.out, "{}.", some_of(number, "remark", "remarks"))?;
    let mut first = None;
    for remark in remarks {
        print_remark(frame, remark)?;
        let readings = readings(noting, rules, job, remark);
        if readings.is_empty() {
            writeln!(frame.out, "  No rule reads it.")?;
        } else {
            first = first.or(Some(remark.number));
        }
        for (number, reading) in (1..).zip(&readings) {
            writeln!(
                frame.out,
                "  {STRONG}{number}{STRONG:#}  {}",
                key::said(model, reading)
            )?;
        }
    }
    let (job, rules) = arguments(frame, &note.job);
    if let Some(line) = first {
        writeln!(
            frame.out,
            "\nTo take one: tellmark note {job} --settle --line {line} --as 1{rules}"
        )?;
    }
    if let Some(remark) = remarks.first() {
        let line = first.unwrap_or(remark.number);
        writeln!(
            frame.out,
            "Not to be asked about one again, and note nothing: tellmark note {job} --settle \
             --line {line} --as 0{rules}"
        )?;
    }
    Ok(Exit::Fine)
}

fn print_remark(frame: &mut Frame, remark: &Remarked) -> Result<(), Stopped> {
    let (line, part) = (remark.number, &remark.remark.part);
    writeln!(frame.out, "\nLine {line}, {part}: {}", remark.remark.words)?;
    Ok(())
}

/// Goes through the remarks with somebody who is there.
fn ask(
    noting: &mut Noting<'_>,
    rules: &Checked,
    job: &mut Job,
    remarks: &[Remarked],
    frame: &mut Frame,
) -> Result<Exit, Stopped> {
    let model = &rules.reading.model;
    for remark in remarks {
        let readings = readings(noting, rules, job, remark);
        print_remark(frame, remark)?;
        for (number, reading) in (1..).zip(&readings) {
            writeln!(
                frame.out,
                "  {STRONG}{number}{STRONG:#}  {}",
                key::said(model, reading)
            )?;
        }
        writeln!(
            frame.out,
            "A number takes it, 0 asks no more about it, any other key leaves it."
        )?;
        frame.out.flush()?;
        if let Some(number) = key::pressed()?.filter(|&number| number <= readings.len()) {
            take(noting, rules, job, remark, number, frame)?;
        }
    }
    Ok(Exit::Fine)
}

/// Takes a reading, or is done with a remark.
fn take(
    noting: &mut Noting<'_>,
    rules: &Checked,
    job: &mut Job,
    remark: &Remarked,
    number: usize,
    frame: &mut Frame,
) -> Result<Exit, Stopped> {
    let readings = readings(noting, rules, job, remark);
    let facts = match number.checked_sub(1) {
        None => Vec::new(),
        Some(index) => match readings.get(index) {
            Some(reading) => reading.facts.clone(),
            None => {
                let has = u32::try_from(readings.len()).unwrap_or(u32::MAX);
                return Err(Stopped::Misuse(format!(
                    "Line {} has {}, so there is no {number}. Nothing was noted.",
                    remark.number,
                    some_of(has, "reading", "readings")
                )));
            }
        },
    };
    let said = key::said(
        &rules.reading.model,
        &Reading {
            facts: facts.clone(),
            fits: 1.0,
        },
    );
    let words = &remark.remark.words;
    let rest = noting.rest(&remark.remark, &facts);
    let added = noting.write_chosen(job, words, &facts, Some(&remark.remark), frame.now)?;
    frame.tell(Exit::Fine, |frame| {
        if frame.global.json {
            return frame.print_json(
                Shape::SETTLED,
                json!({
                    "line": (!facts.is_empty()).then_some(added.number),
                    "understood": said,
                    "settled": remark.number,
                    "rest": rest.as_ref().map(|rest| match rest {
                        Rest::Clauses(rest) => rest.words.clone(),
                        Rest::Words(words) => words.join(", "),
                    }),
                }),
            );
        }
        if facts.is_empty() {
            writeln!(
                frame.out,
                "The remark on line {} is not asked about any more. The report keeps it.",
                remark.number
            )?;
        } else {
            writeln!(frame.out, "Line {}: {}", added.number, sentence(&said))?;
            writeln!(
                frame.out,
                "  This settles the remark on line {}.",
                remark.number
            )?;
            // After work, the moments of the piece tell what is put right from what has changed.
            let is_worked_on = job
                .entries()
                .iter()
                .any(|entry| matches!(entry.says, Says::Done { .. }));
            let lines = added.number..added.number + facts.len();
            let (_, right) = put_right(&rules.reading.model, job, &lines);
            if !is_worked_on && !right.is_empty() {
                let lines = lines_in_words(&right);
                writeln!(frame.out, "  This puts right {lines}.")?;
            }
            match &rest {
                Some(Rest::Clauses(rest)) => writeln!(
                    frame.out,
                    "  What it says besides stays a remark: \"{}\".",
                    rest.words
                )?,
                Some(Rest::Words(words)) => writeln!(
                    frame.out,
                    "  \"{}\" stands in no finding; the report keeps the note as it was typed.",
                    words.join(", ")
                )?,
                None => {}
            }
        }
        Ok(())
    })
}
