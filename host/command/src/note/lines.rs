//! `tellmark note JOB -`: a note a line, from standard input.

use super::super::exit::{Exit, Stopped};
use super::super::frame::Frame;
use super::super::shape::Shape;
use super::note;
use serde_json::{Value, json};
use std::io::BufRead as _;
use std::path::Path;
use tellmark_job::noting::Noting;

/// Runs it. What was spoken of in one line is spoken of in the next.
pub(super) fn run(folder: &Path, frame: &mut Frame) -> Result<Exit, Stopped> {
    let mut job = frame.job(folder)?;
    let rules = frame.ready_or_warn()?;
    let mut noting = Noting::new(&rules.reading.model, &job);
    let mut told_all: Vec<Value> = Vec::new();
    let mut written = 0;
    let mut exit = Exit::Fine;
    for line in std::io::stdin().lock().split(b'\n') {
        let line = line.map_err(|why| Stopped::Disk(format!("I could not read on: {why}.")))?;
        let line = line.strip_suffix(b"\r").unwrap_or(&line);
        let typed = String::from_utf8_lossy(line);
        if typed.trim().is_empty() {
            continue;
        }
        let told = super::is_a_note(&typed)
            .and_then(|()| note(&mut noting, &rules, &mut job, &typed, frame, false));
        let told = match told {
            Ok(told) => told,
            Err(Stopped::Misuse(why)) => {
                writeln!(frame.err, "{typed}: {why}")?;
                exit = Exit::No;
                continue;
            }
            // What was written down before is told, and from where to begin again.
            Err(Stopped::Disk(why)) => {
                print_json(frame, told_all)?;
                return Err(Stopped::Disk(format!(
                    "{why}\nBegin again with this note: \"{typed}\". {}",
                    before_it(written)
                )));
            }
            Err(other) => return Err(other),
        };
        written += 1;
        if told.exit() != Exit::Fine {
            exit = Exit::No;
        }
        if frame.global.json {
            told_all.push(told.as_json(None));
        } else {
            told.print(frame, folder, None)?;
        }
    }
    print_json(frame, told_all)?;
    Ok(exit)
}

fn print_json(frame: &mut Frame, told: Vec<Value>) -> Result<(), Stopped> {
    if frame.global.json {
        frame.print_json(Shape::NOTES, json!({ "notes": told }))?;
    }
    Ok(())
}

/// What became of the notes before one that could not be written.
fn before_it(written: u32) -> String {
    match written {
        0 => "Nothing was noted.".to_owned(),
        1 => "The one before it is noted.".to_owned(),
        some => format!("The {some} before it are noted."),
    }
}
