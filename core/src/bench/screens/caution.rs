//! Cautions: one that must be heeded before the round goes on, and the list of
//! all that hold.

use core::fmt::{self, Write};

use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::pixelcolor::BinaryColor;

use super::{Label, centred, foot, part, read};
use crate::bench::canvas::{Canvas, Setting, Type, WIDTH};
use crate::bench::keys::{Event, Key};
use crate::bench::list::List;
use crate::bench::page::Text;
use crate::bench::{Bench, Note, Said};
use crate::number::Number;
use crate::record::Noted;

pub(super) fn press<N: Number>(bench: &mut Bench<'_, '_, N>, event: Event, note: Note<'_>) {
    if event != Event::Press(Key::Third) {
        return;
    }
    let Some(first) = bench.pending.first().copied() else {
        return bench.back();
    };
    // Heeded once for all the parts it is about.
    while let Some(at) = bench
        .pending
        .iter()
        .position(|warned| warned.caution == first.caution)
    {
        let warned = bench.pending.remove(at);
        let heeded = Noted::Heeded {
            caution: warned.caution,
            part: warned.part,
        };
        bench.note(heeded, note);
    }
    bench.say(Said::Heeded);
    if bench.pending.is_empty() {
        bench.pages.pop();
    }
}

pub(super) fn draw<N: Number, D: DrawTarget<Color = BinaryColor>>(
    bench: &Bench<'_, '_, N>,
    canvas: &mut Canvas<'_, D>,
) {
    let Some(&first) = bench.pending.first() else {
        return;
    };
    let pack = bench.pack();
    let caution = pack.caution(usize::from(first.caution));
    canvas.fill((0, 0), (WIDTH, 13), true);
    let title = if caution.stop { "STOP" } else { "Take care" };
    centred(canvas, 0, Type::Bold, true, title);
    let lines = canvas.wrapped(
        (1, 14),
        Type::Plain,
        Setting::lines(Type::Plain, 4),
        |out| out.write_str(pack.text(caution.text)),
    );
    let below = 15 + Type::Plain.height() * i32::try_from(lines.min(4)).unwrap_or(4);
    let same = |w: &&crate::shortlist::Warned| w.caution == first.caution;
    let others = bench.pending.iter().filter(same).count() - 1;
    let room = (54 - below) / Type::Small.height();
    let setting = Setting::lines(Type::Small, usize::try_from(room).unwrap_or(0));
    canvas.wrapped((1, below), Type::Small, setting, |out| {
        part(bench, usize::from(first.part), out)?;
        match others {
            0 => Ok(()),
            others => write!(out, " and {others} more"),
        }
    });
    foot(
        canvas,
        [
            Label::None,
            Label::None,
            Label::Word("Heed"),
            Label::Word("Home"),
        ],
    );
}

/// All that hold.
pub(super) struct Cautions;

impl<N: Number> List<N> for Cautions {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        match bench.cautions.len() {
            0 => out.write_str("Cautions"),
            some => write!(out, "Cautions: {some}"),
        }
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        bench.cautions.len()
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        let Some(warned) = bench.cautions.get(row) else {
            return Ok(());
        };
        let pack = bench.pack();
        let caution = pack.caution(usize::from(warned.caution));
        out.write_str(if caution.stop { "STOP " } else { "" })?;
        part(bench, usize::from(warned.part), out)?;
        write!(out, ": {}", pack.text(caution.text))
    }

    fn is_long(&self) -> bool {
        true
    }

    fn none(&self, _: &Bench<'_, '_, N>) -> &'static str {
        "Nothing that was seen calls for one."
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, _: Note<'_>) {
        read(bench, Text::Caution(u16::try_from(row).unwrap_or(0)));
    }
}

/// A caution in full.
pub(super) fn in_full<N: Number>(
    bench: &Bench<'_, '_, N>,
    row: usize,
    out: &mut dyn Write,
) -> fmt::Result {
    match bench.cautions.get(row) {
        Some(warned) => warned.in_full(out, bench.pack(), bench.work.parts()),
        None => Ok(()),
    }
}
