//! What was answered, to put it right. The earlier answer stays in the record.

use core::fmt::{self, Write};

use super::part;
use crate::bench::list::List;
use crate::bench::{Bench, Note};
use crate::number::Number;
use crate::piece::Answer;
use crate::round::Visit;
use crate::words;

pub(super) struct Answers;

fn nth<N: Number>(bench: &Bench<'_, '_, N>, row: usize) -> Option<(usize, u16, Answer)> {
    let piece = bench.work.inspection()?.piece();
    piece.answered(bench.pack()).nth(row)
}

/// "Left runner of drawer 2, Worn? 3 mm".
pub(super) fn line<N: Number>(
    bench: &Bench<'_, '_, N>,
    (index, ask, answer): (usize, u16, Answer),
    out: &mut dyn Write,
) -> fmt::Result {
    let pack = bench.pack();
    let ask = pack.ask(usize::from(ask));
    part(bench, index, out)?;
    out.write_char('\n')?;
    words::question(out, pack, &ask)?;
    out.write_char(' ')?;
    words::answer(out, pack, &ask, answer)
}

impl<N: Number> List<N> for Answers {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        let some = <Self as List<N>>::rows(self, bench);
        write!(out, "Answered: {some}")
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        let inspection = bench.work.inspection();
        inspection.map_or(0, |i| i.piece().answered(bench.pack()).count())
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        match nth(bench, row) {
            Some(answered) => line(bench, answered, out),
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
        "Nothing is answered yet."
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, _: Note<'_>) {
        if let Some((part, ask, _)) = nth(bench, row) {
            bench.ask_once(Visit { part, ask });
        }
    }
}
