//! Fittings that fit no trace and traces that no fitting fits, with the lines of
//! the record behind them.

use super::exit::Stopped;
use super::frame::Frame;
use serde_json::{Value, json};
use tellmark_job::advice::{Dated, Unpaired};
use tellmark_job::open_job::JobView;
use tellmark_language::ink::Ink;
use tellmark_language::model::{DateBound, Dating, Model};
use tellmark_language::words::{self, figure};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// Prints the fittings, if there are any.
pub(super) fn print_fittings(
    frame: &mut Frame,
    job: &JobView<'_>,
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
        print_behind(frame, job, fitting)?;
    }
    Ok(())
}

/// Prints the traces, if there are any.
pub(super) fn print_traces(
    frame: &mut Frame,
    job: &JobView<'_>,
    dated: &Dated,
) -> Result<(), Stopped> {
    if dated.traces.is_empty() {
        return Ok(());
    }
    writeln!(frame.out, "\n{STRONG}Traces that no fitting fits{STRONG:#}")?;
    for trace in &dated.traces {
        let lost = lost(job.model(), trace).unwrap_or_default();
        writeln!(frame.out, "  {}: has lost {}", trace.part, words::a(lost))?;
        print_behind(frame, job, trace)?;
    }
    Ok(())
}

/// The lines of the record behind it, and the house's sentence.
fn print_behind(frame: &mut Frame, job: &JobView<'_>, unpaired: &Unpaired) -> Result<(), Stopped> {
    for &from in &unpaired.from {
        let written = job.written(from);
        writeln!(frame.out, "    {}: {}", written.place(), written.text)?;
    }
    let model = job.model();
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
pub(super) fn fittings_as_json(job: &JobView<'_>, dated: &Dated) -> Vec<Value> {
    let fitting = |fitting: &Unpaired| {
        json!({
            "part": fitting.part,
            "original": fitting.original,
            "record": lines(job, fitting),
            "dating": sentence(job, fitting),
        })
    };
    dated.fittings.iter().map(fitting).collect()
}

/// The traces for programs.
pub(super) fn traces_as_json(job: &JobView<'_>, dated: &Dated) -> Vec<Value> {
    let trace = |trace: &Unpaired| {
        json!({
            "part": trace.part,
            "lost": lost(job.model(), trace),
            "record": lines(job, trace),
            "dating": sentence(job, trace),
        })
    };
    dated.traces.iter().map(trace).collect()
}

fn lines(job: &JobView<'_>, unpaired: &Unpaired) -> Vec<Value> {
    let lines = unpaired.from.iter().map(|&from| job.written(from));
    lines
        .map(|written| json!({ "line": written.line, "text": written.text }))
        .collect()
}

fn sentence(job: &JobView<'_>, unpaired: &Unpaired) -> Option<String> {
    let model = job.model();
    let dating = model.datings.get(unpaired.dating)?;
    Some(words::dating(model, dating))
}
