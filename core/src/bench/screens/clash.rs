//! Answers that cannot all be true under the rules: the smallest group of them
//! that was found.

use core::fmt::{self, Write};

use super::answers::line;
use crate::bench::list::List;
use crate::bench::{Bench, Note};
use crate::inspection::Given;
use crate::number::Number;
use crate::round::Visit;

pub(super) struct Clash;

fn nth<N: Number>(bench: &Bench<'_, '_, N>, row: usize) -> Option<Given> {
    bench.clash.as_ref()?.get(row).copied()
}

impl<N: Number> List<N> for Clash {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        out.write_str(match &bench.clash {
            None => "Looking ...",
            Some(_) => "Not all can be true:",
        })
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        bench.clash.as_ref().map_or(0, |group| group.len())
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        match nth(bench, row) {
            Some(given) => line(bench, (given.part, given.ask, given.answer), out),
            None => Ok(()),
        }
    }

    fn verb(&self) -> &'static str {
        "Mend"
    }

    fn is_long(&self) -> bool {
        true
    }

    fn none(&self, _: &Bench<'_, '_, N>) -> &'static str {
        "The answers cannot all be true under the rules."
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, _: Note<'_>) {
        if let Some(given) = nth(bench, row) {
            bench.go_home();
            bench.ask_once(Visit {
                part: given.part,
                ask: given.ask,
            });
        }
    }
}
