//! Something to read, over the whole screen.

use core::fmt::{self, Write};

use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::pixelcolor::BinaryColor;

use super::question::asked;
use super::{Label, caution, foot, jobs, suspect};
use crate::bench::Bench;
use crate::bench::canvas::{Canvas, FOOT, Setting, Type};
use crate::bench::keys::{Event, Key};
use crate::bench::list::scroll_bar;
use crate::bench::page::Text;
use crate::bench::wrap;
use crate::number::Number;

/// Lines on the screen.
const LINES: usize = 6;

fn write<N: Number>(bench: &Bench<'_, '_, N>, text: Text, out: &mut dyn Write) -> fmt::Result {
    match text {
        Text::How => {
            let how = asked(bench).map_or(0, |(_, ask)| ask.how);
            out.write_str(bench.pack().text(how))
        }
        Text::Caution(row) => caution::in_full(bench, usize::from(row), out),
        Text::Suspect(row) => suspect::in_full(bench, usize::from(row), out),
        Text::Sentence(row) => suspect::sentence_in_full(bench, usize::from(row), out),
        Text::Job(row) => jobs::in_full(bench, usize::from(row), out),
    }
}

/// Characters on a line, and how many lines that makes. A text that has to be
/// moved leaves room for the scroll bar.
fn set<N: Number>(bench: &Bench<'_, '_, N>, text: Text) -> (usize, usize) {
    let whole = Type::Plain.columns();
    let lines = |columns| wrap::lines(columns, |out| write(bench, text, out));
    match lines(whole) {
        few if few <= LINES => (whole, few),
        _ => (whole - 1, lines(whole - 1)),
    }
}

pub(super) fn press<N: Number>(bench: &mut Bench<'_, '_, N>, text: Text, event: Event) {
    let last = set(bench, text).1.saturating_sub(LINES);
    let Some(open) = bench.pages.last_mut() else {
        return;
    };
    let row = match event {
        Event::Press(Key::First) | Event::Again(Key::First, _) => open.row.saturating_sub(1),
        Event::Press(Key::Second) | Event::Again(Key::Second, _) => open.row.saturating_add(1),
        _ => return,
    };
    open.row = row.min(u16::try_from(last).unwrap_or(u16::MAX));
}

pub(super) fn draw<N: Number, D: DrawTarget<Color = BinaryColor>>(
    bench: &Bench<'_, '_, N>,
    text: Text,
    canvas: &mut Canvas<'_, D>,
) {
    let top = usize::from(bench.top().row);
    let (columns, all) = set(bench, text);
    let setting = Setting {
        columns,
        skip: top,
        lines: LINES,
        dark: false,
    };
    canvas.wrapped((1, 0), Type::Plain, setting, |out| write(bench, text, out));
    scroll_bar(canvas, (0, FOOT - 1), (top, LINES, all));
    let (up, down) = if all > LINES {
        (Label::Up, Label::Down)
    } else {
        (Label::None, Label::None)
    };
    foot(canvas, [up, down, Label::None, Label::Word("Back")]);
}
