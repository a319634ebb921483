//! How findings sit together, in words: those that cannot all be true, and those that
//! sit oddly.

use super::exit::Stopped;
use super::frame::Frame;
use serde_json::{Value, json};
use tellmark_compile::set_up::{Clash, Origin};
use tellmark_job::advice::{Doubt, Found, Odd};
use tellmark_job::open_job::JobView;
use tellmark_language::ink::Ink;
use tellmark_language::words::{self, figure};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// Prints findings that cannot all be true.
pub fn print_clash(frame: &mut Frame, job: &JobView<'_>, clash: &Clash) -> Result<(), Stopped> {
    writeln!(
        frame.out,
        "\nBy these rules the findings cannot all be true, so I give no chances."
    )?;
    if !clash.from.is_empty() {
        writeln!(frame.out, "One of these must be wrong:")?;
    }
    for &from in &clash.from {
        let written = job.written(from);
        writeln!(frame.out, "  {}: {}", written.place(), written.text)?;
    }
    writeln!(
        frame.out,
        "Look again, and note what you find: the latest line counts."
    )?;
    Ok(())
}

/// The lines of findings that cannot all be true, for programs.
pub fn clash_json(job: &JobView<'_>, clash: &Clash) -> Vec<Value> {
    clash
        .from
        .iter()
        .map(|&from| line_json(job, from))
        .collect()
}

/// The line of a finding, for programs.
pub fn line_json(job: &JobView<'_>, from: Origin) -> Value {
    let written = job.written(from);
    json!({ "line": written.line, "text": written.text })
}

/// Prints each group that sits oddly under a heading, with what is to be looked at again.
pub fn print_odd(frame: &mut Frame, job: &JobView<'_>, groups: &[Odd]) -> Result<(), Stopped> {
    for group in groups {
        writeln!(
            frame.out,
            "\n{STRONG}These sit oddly together; look again{STRONG:#}"
        )?;
        for found in &group.found {
            let place = job.written(found.from).place();
            writeln!(
                frame.out,
                "  {} {FAINT}({place}){FAINT:#}",
                sentence(job, found)
            )?;
            if let Some(doubt) = found.doubt {
                writeln!(frame.out, "    {}", said(doubt))?;
            }
        }
        if group
            .found
            .iter()
            .filter_map(|f| f.doubt)
            .all(|d| d.slip < 0.5)
        {
            writeln!(
                frame.out,
                "  If all of it is so, the rules do not fit this piece."
            )?;
        }
    }
    Ok(())
}

/// The groups that sit oddly, for programs.
pub fn odd_json(job: &JobView<'_>, groups: &[Odd]) -> Vec<Value> {
    let found = |found: &Found| {
        json!({
            "line": job.written(found.from).line,
            "text": sentence(job, found),
            "times_as_frequent": found.doubt.map(|d| d.rarer),
            "slip": found.doubt.map(|d| d.slip),
        })
    };
    let all = |group: &Odd| Value::from(group.found.iter().map(found).collect::<Vec<_>>());
    groups.iter().map(all).collect()
}

fn sentence(job: &JobView<'_>, found: &Found) -> String {
    let fact = found.fact.as_ref();
    fact.map_or_else(
        || job.written(found.from).text,
        |fact| words::fact_sentence(job.model(), fact),
    )
}

/// "beside the rest, 90 times rarer than by itself; a slip of the eye: 71 in 100".
fn said(doubt: Doubt) -> String {
    let times = 1.0 / doubt.rarer;
    let rarer = if times >= 10_000.0 {
        "as good as impossible".to_owned()
    } else if times >= 100.0 {
        format!(
            "{:.0} times rarer than by itself",
            (times / 10.0).round() * 10.0
        )
    } else if times >= 10.0 {
        format!("{times:.0} times rarer than by itself")
    } else {
        format!("{times:.1} times rarer than by itself")
    };
    let slip = if doubt.slip >= 0.005 {
        format!("; a slip of the eye: {}", figure(doubt.slip))
    } else {
        String::new()
    };
    format!("beside the rest, {rarer}{slip}")
}
