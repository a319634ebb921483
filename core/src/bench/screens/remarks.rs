//! What the house lets one remark of a part, whatever is asked of it.

use core::fmt::{self, Write};

use super::part;
use crate::bench::list::List;
use crate::bench::{Bench, Note, Said};
use crate::number::Number;
use crate::record::Noted;
use crate::words::Capital;

pub(super) struct Remarks(pub u16);

impl<N: Number> List<N> for Remarks {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        part(bench, usize::from(self.0), out)
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        bench.pack().remarks()
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        let pack = bench.pack();
        write!(out, "{}", Capital(pack.text(pack.remark(row).text)))
    }

    fn verb(&self) -> &'static str {
        "Note"
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, note: Note<'_>) {
        let Ok(remark) = u16::try_from(row) else {
            return;
        };
        let remarked = Noted::Remarked {
            part: self.0,
            remark,
        };
        if bench.note(remarked, note) {
            bench.say(Said::Remarked(remark));
            bench.back();
        }
    }
}
