//! Whether to finish. Nothing is lost by it: an answer opens the inspection
//! again.

use core::fmt::{self, Write};

use crate::bench::list::List;
use crate::bench::{Bench, Note, Said};
use crate::number::Number;
use crate::record::Noted;

pub(super) struct Finish;

impl<N: Number> List<N> for Finish {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        let progress = bench.progress;
        match progress.all.saturating_sub(progress.done) {
            0 => out.write_str("All is looked at"),
            left => write!(out, "{left} left to look at"),
        }
    }

    fn rows(&self, _: &Bench<'_, '_, N>) -> usize {
        2
    }

    fn row(&self, _: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        out.write_str(match row {
            0 => "Look on",
            _ => "Finish as it is",
        })
    }

    fn verb(&self) -> &'static str {
        "Take"
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, note: Note<'_>) {
        if row == 0 {
            bench.go_home();
            bench.go_round();
        } else if bench.note(Noted::Finished, note) {
            bench.say(Said::Finished);
            bench.go_home();
        }
    }
}
