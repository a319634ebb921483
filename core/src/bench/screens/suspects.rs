//! Likely hidden faults, the likeliest first.

use core::fmt::{self, Write};

use super::open_list;
use crate::bench::list::List;
use crate::bench::page::Page;
use crate::bench::{Bench, Note};
use crate::number::Number;
use crate::words;
use crate::words::{Hundredths, sureness};

pub(super) struct Suspects;

impl<N: Number> List<N> for Suspects {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        let row = usize::from(bench.top().row);
        match bench.suspects.get(row) {
            Some(suspect) => {
                let word = words::Capital(sureness(suspect.chance));
                write!(out, "{word} (in 100)")
            }
            None => out.write_str("Likely faults"),
        }
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        bench.suspects.len()
    }

    fn has_figures(&self) -> bool {
        true
    }

    fn figure(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        match bench.suspects.get(row) {
            Some(suspect) => Hundredths(suspect.chance).short(out),
            None => Ok(()),
        }
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        let Some(suspect) = bench.suspects.get(row) else {
            return Ok(());
        };
        let pack = bench.pack();
        let state = pack.state(usize::from(suspect.state));
        words::state(out, pack, &state)?;
        out.write_char('\n')?;
        words::part(out, pack, bench.work.parts(), usize::from(suspect.part))
    }

    fn none(&self, _: &Bench<'_, '_, N>) -> &'static str {
        "Nothing is likely as things are."
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, _: Note<'_>) {
        open_list(bench, Page::Suspect(u16::try_from(row).unwrap_or(0)), 0);
    }
}
