//! Beginning a piece: which kind, and how many parts it has.

use core::fmt::{self, Write};

use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::pixelcolor::BinaryColor;

use super::{Label, centred, foot, head, open_list, written};
use crate::bench::canvas::{BODY, Canvas, Setting, Type};
use crate::bench::keys::{Event, Key};
use crate::bench::list::List;
use crate::bench::page::Page;
use crate::bench::{Bench, Note, Said};
use crate::limits::MAX_COUNTS;
use crate::number::Number;
use crate::pack::{NONE, Pack};
use crate::piece::{Answer, Part};
use crate::record::Noted;
use crate::words::{self, Capital};
use crate::work::{Count, Refused};

/// The kinds of piece the house knows.
pub(super) struct Pieces;

fn roots(pack: &Pack<'_>) -> impl Iterator<Item = usize> {
    let pack = *pack;
    (0..pack.places()).filter(move |&place| {
        let record = pack.place(place);
        record.owner == NONE && record.kind != 0
    })
}

impl<N: Number> List<N> for Pieces {
    fn title(&self, _: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        out.write_str("Which piece is it?")
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        roots(bench.pack()).count()
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        let pack = bench.pack();
        let place = roots(pack)
            .nth(row)
            .map_or(0, |place| pack.place(place).kind);
        let name = pack.text(pack.kind(usize::from(place)).name);
        write!(out, "{}", Capital(name))
    }

    fn verb(&self) -> &'static str {
        "Take"
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, note: Note<'_>) {
        let Some(root) = roots(bench.pack()).nth(row) else {
            return;
        };
        let begun = Noted::Begun {
            root: u16::try_from(root).unwrap_or(NONE),
            pack: bench.pack().id(),
        };
        if bench.note(begun, note) {
            bench.refresh();
            bench.go_home();
            bench.open(Page::Counts);
        }
    }
}

/// How many parts each owner has, as far as that is not fixed.
pub(super) struct Counts;

/// A row of that list.
struct Countable {
    owner: usize,
    place: usize,
    number: u8,
}

/// Every owner with each of its kinds of part whose number is not fixed.
fn countable<'p>(pack: &'p Pack<'_>, parts: &'p [Part]) -> impl Iterator<Item = Countable> + 'p {
    parts.iter().enumerate().flat_map(move |(owner, record)| {
        pack.children(usize::from(record.place))
            .filter(move |&place| {
                let record = pack.place(place);
                record.least < record.most
            })
            .map(move |place| Countable {
                owner,
                place,
                number: number(parts, owner, place),
            })
    })
}

fn number(parts: &[Part], owner: usize, place: usize) -> u8 {
    let of = |p: &&Part| usize::from(p.owner) == owner && usize::from(p.place) == place;
    u8::try_from(parts.iter().filter(of).count()).unwrap_or(u8::MAX)
}

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
    if !bench.work.has_room() {
        bench.say(Said::Refused(Refused::TooLarge));
        return;
    }
    let parts = u16::try_from(bench.work.parts().len()).unwrap_or(NONE);
    if !bench.note(Noted::SetUp { parts }, note) {
        return;
    }
    // What was counted now answers what the round would ask.
    for at in 0..bench.work.counts().len() {
        let Some(&count) = bench.work.counts().get(at) else {
            break;
        };
        let ask = bench.pack().place(usize::from(count.place)).counted_by;
        if ask != NONE {
            let answer = Answer::Reading(i32::from(count.number));
            let part = count.owner;
            bench.note(Noted::Answered { part, ask, answer }, note);
        }
    }
    bench.refresh();
    bench.go_home();
    bench.go_round();
}

/// Notes a number of parts. Where it moves later parts, whose numbers were
/// noted already, the piece is begun again with what still stands.
fn count<N: Number>(bench: &mut Bench<'_, '_, N>, count: Count, note: Note<'_>) -> bool {
    let parts = bench.work.parts();
    let key = (count.owner, count.place);
    let before = parts
        .iter()
        .take_while(|p| p.owner == NONE || (p.owner, p.place) < key)
        .count();
    // Those of the same kind that are there before and after stay where they are.
    let now = number(parts, usize::from(count.owner), usize::from(count.place));
    let first = before + usize::from(now.min(count.number));
    let mut kept: heapless::Vec<Count, MAX_COUNTS> = heapless::Vec::new();
    let known = bench.work.counts();
    for other in known.iter().filter(|c| usize::from(c.owner) < first) {
        let _ = kept.push(*other);
    }
    if kept.len() < known.len() {
        let begun = Noted::Begun {
            root: u16::try_from(bench.work.root().unwrap_or(0)).unwrap_or(NONE),
            pack: bench.pack().id(),
        };
        if !bench.note(begun, note) {
            return false;
        }
        for &Count {
            owner,
            place,
            number,
        } in &kept
        {
            bench.note(
                Noted::Parts {
                    owner,
                    place,
                    number,
                },
                note,
            );
        }
    }
    let Count {
        owner,
        place,
        number,
    } = count;
    bench.note(
        Noted::Parts {
            owner,
            place,
            number,
        },
        note,
    )
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
            if count(bench, counted, note) {
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
