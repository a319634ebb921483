//! Dialling a reading or a number of parts.

use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::pixelcolor::BinaryColor;

use super::question::{asked, so_far};
use super::{Label, centred, foot, head, part, written};
use crate::asking;
use crate::bench::canvas::{BODY, Canvas, Setting, Type};
use crate::bench::keys::{Event, Key};
use crate::bench::page::Page;
use crate::bench::{Bench, Note};
use crate::number::Number;
use crate::pack::{Ask, Form};
use crate::piece::Answer;
use crate::words;
use crate::words::{Reading, Unit};

/// The least and most that can be dialled.
fn bounds<N: Number>(bench: &Bench<'_, '_, N>, part: usize, ask: &Ask) -> (i32, i32) {
    let place = bench.work.parts().get(part).map_or(0, |p| p.place);
    asking::bounds(bench.pack(), usize::from(place), ask)
}

fn within(reading: i32, (least, most): (i32, i32)) -> i32 {
    reading.min(most).max(least)
}

/// Opens the dial at what was answered, or where it begins.
pub(super) fn open<N: Number>(bench: &mut Bench<'_, '_, N>) {
    let Some((part, ask)) = asked(bench) else {
        return;
    };
    let start = match (so_far(bench), ask.form) {
        (Answer::Reading(reading), _) => reading,
        (_, Form::HowMany { part: kind }) => usual(bench, part, kind),
        _ => 0,
    };
    bench.open(Page::Dial(within(start, bounds(bench, part, &ask))));
}

/// How many parts of a kind a part is taken to have.
fn usual<N: Number>(bench: &Bench<'_, '_, N>, part: usize, kind: u16) -> i32 {
    let (pack, parts) = (bench.pack(), bench.work.parts());
    let owner = parts.get(part).map_or(0, |p| usize::from(p.place));
    let place = asking::place_of_parts(pack, owner, kind);
    i32::from(place.map_or(0, |place| asking::number(parts, part, place)))
}

pub(super) fn press<N: Number>(
    bench: &mut Bench<'_, '_, N>,
    value: i32,
    event: Event,
    note: Note<'_>,
) {
    let Some((part, ask)) = asked(bench) else {
        return;
    };
    let (up, times) = match event {
        Event::Press(Key::First) => (true, 0),
        Event::Press(Key::Second) => (false, 0),
        Event::Again(Key::First, times) => (true, times),
        Event::Again(Key::Second, times) => (false, times),
        Event::Press(Key::Third) => return bench.answer(Answer::Reading(value), note),
        _ => return,
    };
    let next = match ask.form {
        Form::HowMuch { gauge, unit, .. } => Unit::numbered(unit).dialled(value, up, gauge, times),
        _ if up => value.saturating_add(1),
        _ => value.saturating_sub(1),
    };
    let next = within(next, bounds(bench, part, &ask));
    bench.replace(Page::Dial(next));
}

pub(super) fn draw<N: Number, D: DrawTarget<Color = BinaryColor>>(
    bench: &Bench<'_, '_, N>,
    value: i32,
    canvas: &mut Canvas<'_, D>,
) {
    let Some((index, ask)) = asked(bench) else {
        return;
    };
    let pack = bench.pack();
    head(bench, canvas, |out| words::question(out, pack, &ask));
    let setting = Setting::lines(Type::Plain, 2);
    canvas.wrapped((1, BODY), Type::Plain, setting, |out| {
        part(bench, index, out)
    });
    let figure = written::<24>(|out| words::answer(out, pack, &ask, Answer::Reading(value)));
    centred(canvas, 27, Type::Large, false, &figure);
    let below = written::<32>(|out| match ask.form {
        Form::HowMuch { unit, .. } => {
            let unit = Unit::numbered(unit);
            Reading { ticks: value, unit }.otherwise(out)
        }
        _ => {
            let (least, most) = bounds(bench, index, &ask);
            write!(out, "{least} to {most}")
        }
    });
    centred(canvas, 46, Type::Small, false, &below);
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
