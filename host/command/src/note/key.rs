//! One key chooses.

use super::super::exit::Stopped;
use super::super::frame::Frame;
use crossterm::event::{Event, KeyCode, KeyEventKind, read};
use crossterm::terminal::{disable_raw_mode, enable_raw_mode};
use tellmark_language::ink::Ink;
use tellmark_language::model::Model;
use tellmark_language::words::{fact_sentence, list};
use tellmark_notes::Reading;

const STRONG: Ink = Ink::STRONG;

/// Whether somebody is there to press one.
pub(in super::super) fn is_there() -> bool {
    super::is_terminal()
}

/// Shows readings with their numbers, and waits for one of them; any other key leaves the
/// words a remark. Of several things that were typed, it says which it asks about.
pub(super) fn choose(
    frame: &mut Frame,
    model: &Model,
    (typed, words): (&str, &str),
    readings: &[Reading],
) -> Result<Option<usize>, Stopped> {
    if typed.trim() != words.trim() {
        writeln!(frame.out, "\"{words}\":")?;
    }
    for (number, reading) in (1..).zip(readings) {
        writeln!(
            frame.out,
            "  {STRONG}{number}{STRONG:#}  {}",
            said(model, reading)
        )?;
    }
    writeln!(
        frame.out,
        "A number takes it; any other key keeps a remark."
    )?;
    frame.out.flush()?;
    Ok(pressed()?
        .filter(|&number| (1..=readings.len()).contains(&number))
        .map(|n| n - 1))
}

/// The figure of the key that is pressed.
pub(in super::super) fn pressed() -> Result<Option<usize>, Stopped> {
    enable_raw_mode()?;
    let key = loop {
        match read() {
            Ok(Event::Key(key)) if key.kind != KeyEventKind::Release => break Ok(key.code),
            Ok(_) => {}
            Err(why) => break Err(why),
        }
    };
    disable_raw_mode()?;
    Ok(match key? {
        KeyCode::Char(sign) => sign
            .to_digit(10)
            .and_then(|digit| usize::try_from(digit).ok()),
        _ => None,
    })
}

/// A reading in one line.
pub(super) fn said(model: &Model, reading: &Reading) -> String {
    let facts: Vec<String> = reading
        .facts
        .iter()
        .map(|f| fact_sentence(model, f))
        .collect();
    list(&facts)
}
