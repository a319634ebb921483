//! Fittings that fit no trace and traces that no fitting fits, with the lines of
//! the record behind them.

use super::at_hand::AtHand;
use super::exit::Stopped;
use super::frame::Frame;
use serde_json::{Value, json};
use tellmark_job::advice::{Dated, Unpaired};
use tellmark_language::ink::Ink;
use tellmark_language::model::{DateBound, Dating, Model};
use tellmark_language::words::{self, figure};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// Prints the fittings, if there are any.
pub(super) fn print_fittings(
    frame: &mut Frame,
    at_hand: &AtHand,
    dated: &Dated,
) -> Result<(), Stopped> {
    if dated.fittings.is_empty() {
        return Ok(());
    }
    writeln!(frame.out, "\n{STRONG}Fittings that fit no trace{STRONG:#}")?;
    for fitting in &dated.fittings {
        let Unpaired { part, original, .. } = fitting;
        writeln!(
            frame.out,
            "  {part}: {} original ({})",
            words::sureness_word(*original),
            figure(*original)
        )?;
        print_behind(frame, at_hand, fitting)?;
    }
    Ok(())
}

/// Prints the traces, if there are any.
pub(super) fn print_traces(
    frame: &mut Frame,
    at_hand: &AtHand,
    dated: &Dated,
) -> Result<(), Stopped> {
    if dated.traces.is_empty() {
        return Ok(());
    }
    writeln!(frame.out, "\n{STRONG}Traces that no fitting fits{STRONG:#}")?;
    for trace in &dated.traces {
        let lost = lost(at_hand.model(), trace).unwrap_or_default();
        writeln!(frame.out, "  {}: has lost {}", trace.part, words::a(lost))?;
        print_behind(frame, at_hand, trace)?;
    }
    Ok(())
}

/// The lines of the record behind it, and the house's sentence.
fn print_behind(frame: &mut Frame, at_hand: &AtHand, unpaired: &Unpaired) -> Result<(), Stopped> {
    for &fact in &unpaired.facts {
        let (number, text) = at_hand.line(fact);
        writeln!(frame.out, "    line {number}: {text}")?;
    }
    let model = at_hand.model();
    if let Some(dating) = model.datings.get(unpaired.dating) {
        writeln!(
            frame.out,
            "    {FAINT}{}{FAINT:#}",
            words::dating(model, dating)
        )?;
    }
    Ok(())
}

/// What a trace says is gone: "handle".
fn lost<'m>(model: &'m Model, trace: &Unpaired) -> Option<&'m str> {
    match model.datings.get(trace.dating)? {
        Dating {
            bound: DateBound::Lost(what),
            ..
        } => Some(what),
        _ => None,
    }
}

/// The fittings for programs.
pub(super) fn fittings_as_json(at_hand: &AtHand, dated: &Dated) -> Vec<Value> {
    let fitting = |fitting: &Unpaired| {
        json!({
            "part": fitting.part,
            "original": fitting.original,
            "record": lines(at_hand, fitting),
            "dating": sentence(at_hand, fitting),
        })
    };
    dated.fittings.iter().map(fitting).collect()
}

/// The traces for programs.
pub(super) fn traces_as_json(at_hand: &AtHand, dated: &Dated) -> Vec<Value> {
    let trace = |trace: &Unpaired| {
        json!({
            "part": trace.part,
            "lost": lost(at_hand.model(), trace),
            "record": lines(at_hand, trace),
            "dating": sentence(at_hand, trace),
        })
    };
    dated.traces.iter().map(trace).collect()
}

fn lines(at_hand: &AtHand, unpaired: &Unpaired) -> Vec<Value> {
    let lines = unpaired.facts.iter().map(|&fact| at_hand.line(fact));
    lines
        .map(|(number, text)| json!({ "line": number, "text": text }))
        .collect()
}

fn sentence(at_hand: &AtHand, unpaired: &Unpaired) -> Option<String> {
    let model = at_hand.model();
    let dating = model.datings.get(unpaired.dating)?;
    Some(words::dating(model, dating))
}
