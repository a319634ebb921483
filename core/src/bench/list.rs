//! Lists: rows of one or more lines, one of them chosen.

use core::fmt::{self, Write};

use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::pixelcolor::BinaryColor;
use heapless::String;

use super::canvas::{BODY, Canvas, FOOT, Setting, Type, WIDTH};
use super::keys::{Event, Key};
use super::page::Open;
use super::wrap;
use super::{Bench, Note};

/// Lines of one row that are shown; the rest is on the page it opens.
const LINES: usize = 4;
/// Characters of the figure before a row, with the space after it.
const FIGURE: usize = 4;
/// Dots above and below the text of a row.
const MARGIN: i32 = 1;

/// A page that is a list.
pub(super) trait List<N> {
    /// The title, in the head.
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result;
    /// How many rows there are.
    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize;
    /// The text of a row.
    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result;
    /// The third key was pressed on a row.
    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, note: Note<'_>);
    /// What the third key does.
    fn verb(&self) -> &'static str {
        "Open"
    }
    /// What is said when there are no rows.
    fn none(&self, _: &Bench<'_, '_, N>) -> &'static str {
        "Nothing here."
    }
    /// Whether the rows are long, so that their text is smaller.
    fn is_long(&self) -> bool {
        self.has_figures()
    }
    /// Whether a figure stands before each row.
    fn has_figures(&self) -> bool {
        false
    }
    /// The figure before a row, three characters.
    fn figure(&self, _: &Bench<'_, '_, N>, _row: usize, _: &mut dyn Write) -> fmt::Result {
        Ok(())
    }
}

/// The size of the text and the characters on a line: one less than there is room
/// for, so that the scroll bar stands clear.
fn size<N>(list: &dyn List<N>) -> (Type, usize) {
    let size = if list.is_long() {
        Type::Small
    } else {
        Type::Plain
    };
    let before = if list.has_figures() { FIGURE } else { 0 };
    (size, size.columns() - 1 - before)
}

fn lines<N>(bench: &Bench<'_, '_, N>, list: &dyn List<N>, row: usize) -> usize {
    let (_, columns) = size(list);
    wrap::lines(columns, |out| list.row(bench, row, out)).min(LINES)
}

fn height<N>(bench: &Bench<'_, '_, N>, list: &dyn List<N>, row: usize) -> i32 {
    let lines = i32::try_from(lines(bench, list, row)).unwrap_or(1);
    lines * size(list).0.height() + 2 * MARGIN
}

/// Draws the rows; the head and the names of the keys are drawn by others.
pub(super) fn draw<N, D: DrawTarget<Color = BinaryColor>>(
    bench: &Bench<'_, '_, N>,
    list: &dyn List<N>,
    open: Open,
    canvas: &mut Canvas<'_, D>,
) {
    let rows = list.rows(bench);
    let (size, columns) = size(list);
    if rows == 0 {
        let setting = Setting::lines(Type::Plain, LINES);
        canvas.wrapped((2, BODY + MARGIN), Type::Plain, setting, |out| {
            out.write_str(list.none(bench))
        });
        return;
    }
    // The list may have become shorter since it was drawn.
    let chosen = usize::from(open.row).min(rows - 1);
    let top = usize::from(open.top).min(chosen);
    let mut y = BODY;
    let mut shown = 0;
    for row in top..rows {
        let tall = height(bench, list, row);
        if y + tall > FOOT {
            break;
        }
        let dark = row == chosen;
        if dark {
            canvas.fill((0, y), (WIDTH - 2, tall), true);
        }
        let mut x = 2;
        if list.has_figures() {
            let mut figure: String<FIGURE> = String::new();
            // It has three characters.
            let _ = list.figure(bench, row, &mut figure);
            canvas.text((x, y + MARGIN), size, dark, &figure);
            x += i32::try_from(FIGURE).unwrap_or(0) * size.width();
        }
        let setting = Setting {
            columns,
            skip: 0,
            lines: LINES,
            dark,
        };
        canvas.wrapped((x, y + MARGIN), size, setting, |out| {
            list.row(bench, row, out)
        });
        y += tall;
        shown += 1;
    }
    scroll_bar(canvas, (BODY, FOOT - 1), (top, shown, rows));
}

/// Shows where in the whole the visible part is: a line at the right edge, drawn
/// only if not everything is visible.
pub(super) fn scroll_bar<D: DrawTarget<Color = BinaryColor>>(
    canvas: &mut Canvas<'_, D>,
    (from, to): (i32, i32),
    (top, shown, all): (usize, usize, usize),
) {
    if shown >= all {
        return;
    }
    let number = |n: usize| i32::try_from(n).unwrap_or(i32::MAX / 128);
    let (top, shown, all) = (number(top), number(shown), number(all).max(1));
    let height = to - from;
    let length = (height * shown / all).max(4);
    let room = height - length;
    let start = from + room * top / (all - shown).max(1);
    canvas.fill((WIDTH - 1, start.min(to - length)), (1, length), true);
}

/// A key on a list.
pub(super) fn press<N>(
    bench: &mut Bench<'_, '_, N>,
    list: &dyn List<N>,
    event: Event,
    note: Note<'_>,
) {
    let rows = list.rows(bench);
    let Some(last) = rows.checked_sub(1) else {
        return;
    };
    let Some(open) = bench.pages.last().copied() else {
        return;
    };
    let row = usize::from(open.row).min(last);
    let again = matches!(event, Event::Again(..));
    let row = match event {
        Event::Press(Key::First) | Event::Again(Key::First, _) => match row.checked_sub(1) {
            Some(row) => row,
            None if again => 0,
            None => last,
        },
        Event::Press(Key::Second) | Event::Again(Key::Second, _) => match row {
            row if row < last => row + 1,
            _ if again => last,
            _ => 0,
        },
        Event::Press(Key::Third) => {
            list.take(bench, row, note);
            return;
        }
        _ => return,
    };
    choose(bench, list, row);
}

/// Chooses a row, and scrolls so that it is visible.
pub(super) fn choose<N>(bench: &mut Bench<'_, '_, N>, list: &dyn List<N>, row: usize) {
    let Some(open) = bench.pages.last().copied() else {
        return;
    };
    let mut top = usize::from(open.top).min(row);
    // Rows above the chosen one stay visible as far as there is room.
    let mut room = FOOT - BODY - height(bench, list, row);
    let mut first = row;
    while first > top {
        room -= height(bench, list, first - 1);
        if room < 0 {
            break;
        }
        first -= 1;
    }
    top = top.max(first);
    if let Some(open) = bench.pages.last_mut() {
        open.row = u16::try_from(row).unwrap_or(u16::MAX);
        open.top = u16::try_from(top).unwrap_or(u16::MAX);
    }
}
