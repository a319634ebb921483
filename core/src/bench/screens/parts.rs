//! The piece part by part, for whoever stands before one and wants to note
//! something about it now.

use core::fmt::{self, Write};

use super::part;
use crate::asking;
use crate::bench::list::List;
use crate::bench::page::Page;
use crate::bench::{Bench, Note, Said};
use crate::logic::can_be;
use crate::number::Number;
use crate::piece::Answer;
use crate::record::Noted;
use crate::round::Visit;
use crate::words;

/// All of them.
pub(super) struct Parts;

impl<N: Number> List<N> for Parts {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        write!(out, "{} parts", bench.work.parts().len())
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        bench.work.parts().len()
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        part(bench, row, out)?;
        out.write_str(hidden(bench, row))
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, _: Note<'_>) {
        bench.open(Page::Part(u16::try_from(row).unwrap_or(0)));
    }
}

fn hidden<N: Number>(bench: &Bench<'_, '_, N>, part: usize) -> &'static str {
    match bench.work.parts().get(part) {
        Some(part) if part.out_of_sight => " (hidden)",
        _ => "",
    }
}

/// What can be asked of one of them.
pub(super) struct OnePart(pub u16);

impl OnePart {
    fn index(&self) -> usize {
        usize::from(self.0)
    }

    /// What the house has a question for, or counts.
    fn asks<'b, N: Number>(
        &self,
        bench: &'b Bench<'_, '_, N>,
    ) -> impl Iterator<Item = u16> + use<'b, N> {
        let part = self.index();
        let place = bench.work.parts().get(part).map_or(0, |p| p.place);
        let makes_sense = move |&ask: &u16| {
            bench.work.inspection().is_none_or(|inspection| {
                let (pack, piece) = (inspection.pack(), inspection.piece());
                let answer = piece.answer(pack, part, ask);
                answer != Some(Answer::NotLooked) || can_be(pack, piece, part, ask)
            })
        };
        asking::asks_at(bench.pack(), usize::from(place)).filter(makes_sense)
    }

    /// The whole piece can always be seen. A hidden part is in sight again as
    /// soon as something is answered about it.
    fn can_hide<N: Number>(&self, bench: &Bench<'_, '_, N>) -> bool {
        self.0 != 0 && hidden(bench, self.index()).is_empty()
    }

    /// The last row leads to the remarks, where the house has any.
    fn is_remark<N: Number>(&self, bench: &Bench<'_, '_, N>, row: usize) -> bool {
        let asks = self.asks(bench).count();
        bench.pack().remarks() > 0 && row >= asks + usize::from(self.can_hide(bench))
    }
}

impl<N: Number> List<N> for OnePart {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        part(bench, self.index(), out)?;
        out.write_str(hidden(bench, self.index()))
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        let remark = usize::from(bench.pack().remarks() > 0);
        self.asks(bench).count() + usize::from(self.can_hide(bench)) + remark
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        let pack = bench.pack();
        let Some(number) = self.asks(bench).nth(row) else {
            if self.is_remark(bench, row) {
                return out.write_str("Make a remark");
            }
            let is_hidden = bench
                .work
                .parts()
                .get(self.index())
                .is_some_and(|p| p.out_of_sight);
            return out.write_str(if is_hidden {
                "Whole part in sight"
            } else {
                "Whole part hidden"
            });
        };
        let ask = pack.ask(usize::from(number));
        words::question(out, pack, &ask)?;
        match bench.work.answer(self.index(), number) {
            Answer::NotLooked => Ok(()),
            answer => {
                out.write_char('\n')?;
                words::answer(out, pack, &ask, answer)
            }
        }
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, note: Note<'_>) {
        let ask = self.asks(bench).nth(row);
        if let Some(ask) = ask {
            let part = self.index();
            return bench.ask_once(Visit { part, ask });
        }
        if self.is_remark(bench, row) {
            return bench.open(Page::Remarks(self.0));
        }
        let is_hidden = bench
            .work
            .parts()
            .get(self.index())
            .is_some_and(|p| p.out_of_sight);
        let sight = Noted::OutOfSight {
            part: self.0,
            out_of_sight: !is_hidden,
        };
        if bench.note(sight, note) {
            bench.refresh();
            bench.say(Said::Hidden(!is_hidden));
            bench.back();
        }
    }
}
