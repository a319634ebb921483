//! Jobs called for, and those that may yet be, in the order of work; which of
//! them wait for the owner's word.

use core::fmt::{self, Write};

use super::read;
use crate::bench::list::List;
use crate::bench::page::Text;
use crate::bench::{Bench, Note};
use crate::number::Number;
use crate::pack::Job;
use crate::shortlist::Called;
use crate::words::{self, Capital};

pub(super) struct Jobs;

/// Each job once, at the first part that calls for it; sure if any part does for
/// sure.
fn jobs<N: Number>(bench: &Bench<'_, '_, N>) -> impl Iterator<Item = Called> {
    let all = &bench.jobs;
    all.iter().enumerate().filter_map(|(i, called)| {
        let earlier = all.iter().take(i).any(|other| other.job == called.job);
        let sure = |other: &Called| other.job == called.job && other.sure;
        (!earlier).then_some(Called {
            sure: all.iter().any(sure),
            ..*called
        })
    })
}

fn job<N: Number>(bench: &Bench<'_, '_, N>, called: &Called) -> Job {
    bench.pack().job(usize::from(called.job))
}

impl<N: Number> List<N> for Jobs {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        let sure = jobs(bench).filter(|called| called.sure).count();
        write!(out, "Jobs: {sure}, may be {}", jobs(bench).count() - sure)
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        jobs(bench).count()
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        let Some(called) = jobs(bench).nth(row) else {
            return Ok(());
        };
        let job = job(bench, &called);
        out.write_str(if called.sure { "" } else { "May be: " })?;
        write!(out, "{}", Capital(bench.pack().text(job.name)))?;
        out.write_str(if job.ask_owner { " (ask owner)" } else { "" })
    }

    fn none(&self, _: &Bench<'_, '_, N>) -> &'static str {
        "Nothing that was seen calls for a job."
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, _: Note<'_>) {
        read(bench, Text::Job(u16::try_from(row).unwrap_or(0)));
    }
}

/// Whether one job stands before another in the order of work.
fn comes_before<N: Number>(bench: &Bench<'_, '_, N>, one: u16, other: u16) -> bool {
    let place = |job: u16| bench.jobs.iter().position(|called| called.job == job);
    matches!((place(one), place(other)), (Some(one), Some(other)) if one < other)
}

/// A job in full.
pub(super) fn in_full<N: Number>(
    bench: &Bench<'_, '_, N>,
    row: usize,
    out: &mut dyn Write,
) -> fmt::Result {
    let Some(called) = jobs(bench).nth(row) else {
        return Ok(());
    };
    let (pack, job) = (bench.pack(), job(bench, &called));
    write!(out, "{}", Capital(pack.text(job.name)))?;
    for (sure, before) in [(true, ": "), (false, ". May yet be: ")] {
        let at = |c: &&Called| c.job == called.job && c.sure == sure;
        for (i, other) in bench.jobs.iter().filter(at).enumerate() {
            out.write_str(if i == 0 { before } else { ", " })?;
            words::part(out, pack, bench.work.parts(), usize::from(other.part))?;
        }
    }
    out.write_char('.')?;
    if job.ask_owner {
        out.write_str("\nHold: ask the owner first.")?;
    }
    let [quickest, usual, slowest] = job.takes;
    if slowest > 0 {
        out.write_str("\nTakes ")?;
        words::time(out, quickest)?;
        if slowest > quickest {
            out.write_str(" to ")?;
            words::time(out, slowest)?;
            out.write_str(", mostly ")?;
            words::time(out, usual)?;
        }
        out.write_char('.')?;
    }
    let [least, most] = job.waits;
    if most > 0 {
        out.write_str("\nThen waits ")?;
        words::time(out, least)?;
        if most > least {
            out.write_str(" to ")?;
            words::time(out, most)?;
        }
        out.write_char('.')?;
    }
    for constraint in (0..pack.constraints()).map(|row| pack.constraint(row)) {
        if constraint.after == called.job && comes_before(bench, constraint.before, called.job) {
            write!(
                out,
                "\nAfter: {}",
                pack.text(pack.job(usize::from(constraint.before)).name)
            )?;
            match pack.text(constraint.because) {
                "" => {}
                because => write!(out, ", because {because}")?,
            }
            out.write_char('.')?;
        }
    }
    for (label, text) in [("\nNeeds: ", job.needs), ("\nFrom: ", job.source)] {
        let text = pack.text(text);
        if !text.is_empty() {
            write!(out, "{label}{text}.")?;
        }
    }
    Ok(())
}
