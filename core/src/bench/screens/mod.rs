//! The screens, one file each, and what they share: the head, and the names of
//! the keys in the foot.

mod answers;
mod begin;
mod cable;
mod caution;
mod clash;
mod dial;
mod finish;
mod home;
mod jobs;
mod looks;
mod other;
mod parts;
mod question;
mod reader;
mod remarks;
mod suspect;
mod suspects;
mod values;

use core::fmt::{self, Write};

use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::pixelcolor::BinaryColor;
use heapless::String;

use super::canvas::{BODY, Canvas, FOOT, Mark, Setting, Type, WIDTH};
use super::keys::Event;
use super::list::{self, List};
use super::page::{Page, Text};
use super::{Bench, Note, Said, TURN, wrap};
use crate::number::Number;
use crate::words;
use crate::work::Refused;

/// A key on the page that is open.
pub(super) fn press<N: Number>(bench: &mut Bench<'_, '_, N>, event: Event, note: Note<'_>) {
    match bench.page() {
        Page::Question => question::press(bench, event, note),
        Page::Dial(value) => dial::press(bench, value, event, note),
        Page::Count { .. } => begin::press_count(bench, event, note),
        Page::Caution => caution::press(bench, event, note),
        Page::Read(text) => reader::press(bench, text, event),
        page => {
            as_list(page, |list| list::press(bench, list, event, note));
        }
    }
}

/// Draws the page that is open.
pub(super) fn draw<N: Number, D: DrawTarget<Color = BinaryColor>>(
    bench: &Bench<'_, '_, N>,
    canvas: &mut Canvas<'_, D>,
) {
    match bench.page() {
        Page::Question => question::draw(bench, canvas),
        Page::Dial(value) => dial::draw(bench, value, canvas),
        Page::Count { .. } => begin::draw_count(bench, canvas),
        Page::Caution => caution::draw(bench, canvas),
        Page::Read(text) => reader::draw(bench, text, canvas),
        page => {
            let open = bench.top();
            as_list(page, |list| {
                head(bench, canvas, |out| list.title(bench, out));
                list::draw(bench, list, open, canvas);
                foot(canvas, list_keys(bench, list));
            });
        }
    }
}

/// Pages that are lists.
fn as_list<N: Number, T>(page: Page, with: impl FnOnce(&dyn List<N>) -> T) -> Option<T> {
    Some(match page {
        Page::Pieces => with(&begin::Pieces),
        Page::Counts => with(&begin::Counts),
        Page::Home => with(&home::Home),
        Page::Other => with(&other::Other),
        Page::Values => with(&values::Values),
        Page::Cautions => with(&caution::Cautions),
        Page::Suspects => with(&suspects::Suspects),
        Page::Suspect(at) => with(&suspect::About(at)),
        Page::Weights => with(&suspect::Weights),
        Page::Sentences => with(&suspect::Sentences),
        Page::Looks => with(&looks::Looks),
        Page::Jobs => with(&jobs::Jobs),
        Page::Answers => with(&answers::Answers),
        Page::Clash => with(&clash::Clash),
        Page::Parts => with(&parts::Parts),
        Page::Part(part) => with(&parts::OnePart(part)),
        Page::Remarks(part) => with(&remarks::Remarks(part)),
        Page::Finish => with(&finish::Finish),
        Page::Cable => with(&cable::Cable),
        Page::Question | Page::Dial(_) | Page::Count { .. } | Page::Caution | Page::Read(_) => {
            return None;
        }
    })
}

/// The row of a list that is chosen when it is opened.
fn open_list<N: Number>(bench: &mut Bench<'_, '_, N>, page: Page, row: usize) {
    bench.open(page);
    as_list(page, |list| list::choose(bench, list, row));
}

fn list_keys<N: Number>(bench: &Bench<'_, '_, N>, list: &dyn List<N>) -> [Label; 4] {
    let back = if bench.is_home() {
        Label::None
    } else {
        Label::Word("Back")
    };
    match list.rows(bench) {
        0 => [Label::None, Label::None, Label::None, back],
        1 => [Label::None, Label::None, Label::Word(list.verb()), back],
        _ => [Label::Up, Label::Down, Label::Word(list.verb()), back],
    }
}

/// What a key is called.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Label {
    None,
    Up,
    Down,
    Word(&'static str),
}

/// Dots across one key's name.
const SLOT: i32 = WIDTH / 4;

/// The names of the keys.
fn foot<D: DrawTarget<Color = BinaryColor>>(canvas: &mut Canvas<'_, D>, labels: [Label; 4]) {
    canvas.fill((0, FOOT), (WIDTH, 1), true);
    for (slot, label) in (0..).zip(labels) {
        let left = slot * SLOT;
        if slot > 0 {
            canvas.fill((left, FOOT + 1), (1, 9), true);
        }
        let middle = left + SLOT / 2;
        match label {
            Label::None => {}
            Label::Up => canvas.mark((middle - 3, FOOT + 4), Mark::Up),
            Label::Down => canvas.mark((middle - 3, FOOT + 4), Mark::Down),
            Label::Word(word) => {
                let length = i32::try_from(word.len()).unwrap_or(0) * Type::Small.width();
                canvas.text(
                    (middle - length / 2 + 1, FOOT + 2),
                    Type::Small,
                    false,
                    word,
                );
            }
        }
    }
}

/// The head: what was just noted, for a moment, or else a title.
fn head<N: Number, D: DrawTarget<Color = BinaryColor>>(
    bench: &Bench<'_, '_, N>,
    canvas: &mut Canvas<'_, D>,
    title: impl FnOnce(&mut dyn Write) -> fmt::Result,
) {
    canvas.fill((0, 0), (WIDTH, BODY - 1), true);
    let lines = match bench.said {
        Some(_) => 1,
        None => title_lines(bench),
    };
    // A title of several lines shows one after the other.
    let turn = usize::try_from(bench.now / TURN).unwrap_or(0);
    let setting = Setting {
        columns: Type::Small.columns(),
        skip: turn % lines.max(1),
        lines: 1,
        dark: true,
    };
    canvas.wrapped((1, 1), Type::Small, setting, |out| match bench.said {
        Some((said, _)) => say(bench, said, out),
        None => title(out),
    });
}

/// How many lines of the head the title of a list takes. Other pages have short
/// ones.
pub(super) fn title_lines<N: Number>(bench: &Bench<'_, '_, N>) -> usize {
    let columns = Type::Small.columns();
    as_list(bench.page(), |list| {
        wrap::lines(columns, |out| list.title(bench, out))
    })
    .unwrap_or(1)
}

fn say<N: Number>(bench: &Bench<'_, '_, N>, said: Said, out: &mut dyn Write) -> fmt::Result {
    match said {
        Said::Answered(ask, answer) => {
            out.write_str("Noted: ")?;
            let pack = bench.pack();
            words::answer(out, pack, &pack.ask(usize::from(ask)), answer)
        }
        Said::Refused(Refused::TooLarge) => out.write_str("Too many parts for this"),
        Said::Refused(Refused::NoSuch) => out.write_str("There is none of it here"),
        Said::Refused(Refused::OtherPack) => out.write_str("Noted under other rules"),
        Said::Refused(Refused::OutOfTurn) => out.write_str("No piece is begun"),
        Said::Heeded => out.write_str("Noted: heeded"),
        Said::Hidden(true) => out.write_str("Noted: part hidden"),
        Said::Hidden(false) => out.write_str("Noted: in sight"),
        Said::Finished => out.write_str("Noted: finished"),
        Said::Remarked(remark) => {
            let pack = bench.pack();
            let text = pack.text(pack.remark(usize::from(remark)).text);
            write!(out, "Noted: {text}")
        }
    }
}

/// The name of a part, with its first letter in capitals.
fn part<N: Number>(bench: &Bench<'_, '_, N>, part: usize, out: &mut dyn Write) -> fmt::Result {
    let mut out = words::Capitalising::new(out);
    words::part(&mut out, bench.pack(), bench.work.parts(), part)
}

/// A short text in memory of its own, cut if there is too little.
fn written<const SIZE: usize>(write: impl FnOnce(&mut dyn Write) -> fmt::Result) -> String<SIZE> {
    let mut text = String::new();
    // What does not fit is left out.
    let _ = write(&mut text);
    text
}

/// A text in the middle of a line.
fn centred<D: DrawTarget<Color = BinaryColor>>(
    canvas: &mut Canvas<'_, D>,
    y: i32,
    size: Type,
    dark: bool,
    text: &str,
) {
    let length = i32::try_from(text.chars().count()).unwrap_or(0) * size.width();
    canvas.text(((WIDTH - length) / 2, y), size, dark, text);
}

/// Opens something to read.
fn read<N: Number>(bench: &mut Bench<'_, '_, N>, text: Text) {
    bench.open(Page::Read(text));
}
