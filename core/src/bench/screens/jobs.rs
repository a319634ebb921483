//! Jobs called for, and those that may yet be, in the order of work; which of
//! them wait for the owner's word.

use core::fmt::{self, Write};

use super::read;
use crate::bench::list::List;
use crate::bench::page::Text;
use crate::bench::{Bench, Note};
use crate::number::Number;
use crate::shortlist::{Called, each_once};
use crate::words::Capital;

pub(super) struct Jobs;

fn jobs<N: Number>(bench: &Bench<'_, '_, N>) -> impl Iterator<Item = Called> {
    each_once(&bench.jobs)
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
        let job = bench.pack().job(usize::from(called.job));
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

/// A job in full.
pub(super) fn in_full<N: Number>(
    bench: &Bench<'_, '_, N>,
    row: usize,
    out: &mut dyn Write,
) -> fmt::Result {
    match jobs(bench).nth(row) {
        Some(called) => called.in_full(out, bench.pack(), bench.work.parts(), &bench.jobs),
        None => Ok(()),
    }
}
