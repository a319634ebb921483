//! What is worth looking at next: what saves most bench time for each minute it
//! takes. It is worked out between key presses.

use core::fmt::{self, Write};

use super::part;
use crate::bench::list::List;
use crate::bench::{Bench, Note};
use crate::looking::{Candidate, Looking, Progress};
use crate::number::Number;
use crate::round::Visit;
use crate::words;

pub(super) struct Looks;

/// Checks listed.
const MOST: usize = 12;

fn best<'b, N: Number>(bench: &'b Bench<'_, '_, N>) -> &'b [Candidate] {
    if bench.looked != Some(Progress::Done) {
        return &[];
    }
    let all = bench.looking.as_ref().map_or(&[][..], Looking::best);
    all.get(..MOST).unwrap_or(all)
}

impl<N: Number> List<N> for Looks {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        out.write_str(match bench.looked {
            Some(Progress::Done) => "Worth looking at next",
            _ => "Working it out ...",
        })
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        best(bench).len()
    }

    fn is_long(&self) -> bool {
        true
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        let Some(check) = best(bench).get(row) else {
            return Ok(());
        };
        let pack = bench.pack();
        part(bench, usize::from(check.part), out)?;
        out.write_char('\n')?;
        words::question(out, pack, &pack.ask(usize::from(check.ask)))?;
        write!(out, "\n{} min, saves ", check.minutes)?;
        let minutes = (check.saves.tenths() + 5) / 10;
        words::time(out, u16::try_from(minutes).unwrap_or(u16::MAX))
    }

    fn none(&self, bench: &Bench<'_, '_, N>) -> &'static str {
        match bench.looked {
            Some(Progress::Done) => "No check that is left would change what to plan.",
            _ => "Each fault that may be there is weighed in turn.",
        }
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, _: Note<'_>) {
        let check = best(bench).get(row).copied();
        if let Some(check) = check {
            bench.ask_once(Visit {
                part: usize::from(check.part),
                ask: check.ask,
            });
        }
    }
}
