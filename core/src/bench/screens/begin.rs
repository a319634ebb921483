//! Beginning a piece: which kind, and how many parts it has.

use core::fmt::{self, Write};

use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::pixelcolor::BinaryColor;

use super::{Label, centred, foot, head, open_list, written};
use crate::asking::{countable, pieces};
use crate::bench::canvas::{BODY, Canvas, Setting, Type};
use crate::bench::keys::{Event, Key};
use crate::bench::list::List;
use crate::bench::page::Page;
use crate::bench::{Bench, Note};
use crate::number::Number;
use crate::pack::NONE;
use crate::words::{self, Capital};
use crate::work::Count;

/// The kinds of piece the house knows.
pub(super) struct Pieces;

impl<N: Number> List<N> for Pieces {
    fn title(&self, _: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        out.write_str("Which piece is it?")
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        pieces(bench.pack()).count()
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        let pack = bench.pack();
        let place = pieces(pack)
            .nth(row)
            .map_or(0, |place| pack.place(place).kind);
        let name = pack.text(pack.kind(usize::from(place)).name);
        write!(out, "{}", Capital(name))
    }

    fn verb(&self) -> &'static str {
        "Take"
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, note: Note<'_>) {
        let Some(root) = pieces(bench.pack()).nth(row) else {
            return;
        };
        let done = bench.work.note_begun(root, note);
        if bench.was_noted(done) {
            bench.refresh();
            bench.go_home();
            bench.open(Page::Counts);
        }
    }
}

/// How many parts each owner has, as far as that is not fixed.
pub(super) struct Counts;

impl<N: Number> List<N> for Counts {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        write!(out, "{} parts in all", bench.work.parts().len())
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        countable(bench.pack(), bench.work.parts()).count() + 1
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        let Some(row) = row.checked_sub(1) else {
            return out.write_str("Begin the round");
        };
        let (pack, parts) = (bench.pack(), bench.work.parts());
        let Some(count) = countable(pack, parts).nth(row) else {
            return Ok(());
        };
        if count.owner != 0 {
            super::part(bench, count.owner, out)?;
            out.write_str(": ")?;
        }
        let kind = pack.kind(usize::from(pack.place(count.place).kind));
        let name = match count.number {
            1 => kind.name,
            _ => kind.plural,
        };
        write!(out, "{} {}", count.number, pack.text(name))
    }

    fn verb(&self) -> &'static str {
        "Take"
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, note: Note<'_>) {
        let Some(row) = row.checked_sub(1) else {
            set_up(bench, note);
            return;
        };
        let count = countable(bench.pack(), bench.work.parts()).nth(row);
        if let Some(count) = count {
            let short = |n: usize| u16::try_from(n).unwrap_or(NONE);
            bench.open(Page::Count {
                owner: short(count.owner),
                place: short(count.place),
                number: count.number,
            });
        }
    }
}

/// "Handles of drawer 2".
fn what_of<N: Number>(
    bench: &Bench<'_, '_, N>,
    owner: usize,
    place: usize,
    out: &mut dyn Write,
) -> fmt::Result {
    let pack = bench.pack();
    let kind = pack.kind(usize::from(pack.place(place).kind));
    write!(out, "{}", Capital(pack.text(kind.plural)))?;
    if owner != 0 {
        out.write_str(" of ")?;
        words::part(out, pack, bench.work.parts(), owner)?;
    }
    Ok(())
}

/// Sets the piece up as counted, and begins its round.
fn set_up<N: Number>(bench: &mut Bench<'_, '_, N>, note: Note<'_>) {
    let done = bench.work.note_set_up(note);
    if bench.was_noted(done) {
        bench.refresh();
        bench.go_home();
        bench.go_round();
    }
}

/// A key while a number of parts is dialled.
pub(super) fn press_count<N: Number>(bench: &mut Bench<'_, '_, N>, event: Event, note: Note<'_>) {
    let Page::Count {
        owner,
        place,
        number,
    } = bench.page()
    else {
        return;
    };
    let record = bench.pack().place(usize::from(place));
    let number = match event {
        Event::Press(Key::First) | Event::Again(Key::First, _) => number.saturating_add(1),
        Event::Press(Key::Second) | Event::Again(Key::Second, _) => number.saturating_sub(1),
        Event::Press(Key::Third) => {
            let counted = Count {
                owner,
                place,
                number,
            };
            let done = bench.work.note_count(counted, note);
            if bench.was_noted(done) {
                let row = usize::from(bench.pages.iter().rev().nth(1).map_or(0, |o| o.row));
                bench.go_home();
                open_list(bench, Page::Counts, row);
            }
            return;
        }
        _ => number,
    };
    bench.replace(Page::Count {
        owner,
        place,
        number: number.clamp(record.least, record.most.max(record.least)),
    });
}

/// Draws it.
pub(super) fn draw_count<N: Number, D: DrawTarget<Color = BinaryColor>>(
    bench: &Bench<'_, '_, N>,
    canvas: &mut Canvas<'_, D>,
) {
    let Page::Count {
        owner,
        place,
        number,
    } = bench.page()
    else {
        return;
    };
    let place = usize::from(place);
    head(bench, canvas, |out| out.write_str("How many?"));
    let setting = Setting::lines(Type::Plain, 2);
    canvas.wrapped((1, BODY), Type::Plain, setting, |out| {
        what_of(bench, usize::from(owner), place, out)
    });
    let figure = written::<12>(|out| write!(out, "{number}"));
    centred(canvas, 27, Type::Large, false, &figure);
    let record = bench.pack().place(place);
    let from_to = written::<24>(|out| write!(out, "{} to {}", record.least, record.most));
    centred(canvas, 46, Type::Small, false, &from_to);
    foot(
        canvas,
        [
            Label::Up,
            Label::Down,
            Label::Word("Note"),
            Label::Word("Back"),
        ],
    );
}
