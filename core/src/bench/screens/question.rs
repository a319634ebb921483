//! One thing to look at: the part, the question, and how it stands.

use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::pixelcolor::BinaryColor;

use super::{Label, foot, head, open_list, part};
use crate::asking;
use crate::bench::canvas::{Canvas, Setting, Type};
use crate::bench::keys::{Event, Key};
use crate::bench::page::{Origin, Page};
use crate::bench::wrap;
use crate::bench::{Bench, Note};
use crate::number::Number;
use crate::pack::{Ask, Form};
use crate::piece::{Answer, Judged};
use crate::words;

/// What is asked, with its row in the pack.
pub(super) fn asked<N: Number>(bench: &Bench<'_, '_, N>) -> Option<(usize, Ask)> {
    let visit = bench.asked?.visit;
    Some((visit.part, bench.pack().ask(usize::from(visit.ask))))
}

pub(super) fn press<N: Number>(bench: &mut Bench<'_, '_, N>, event: Event, note: Note<'_>) {
    let Event::Press(key) = event else { return };
    let Some((_, ask)) = asked(bench) else {
        if key == Key::Third {
            bench.go_home();
            bench.open(Page::Finish);
        }
        return;
    };
    match (key, ask.form) {
        (Key::First | Key::Second, Form::Whether) => {
            bench.answer(asking::yes_or_no(&ask, key == Key::First), note);
        }
        (Key::First, Form::Which { .. } | Form::Degrees { .. }) => {
            let row = match (so_far(bench), ask.form) {
                (Answer::Value(value), Form::Degrees { .. }) => {
                    Judged::of(value).map_or(0, |judged| usize::from(judged.degree))
                }
                (Answer::Value(value), _) => usize::from(value),
                _ => 0,
            };
            open_list(bench, Page::Values, row);
        }
        (Key::First, Form::HowMuch { .. } | Form::HowMany { .. }) => super::dial::open(bench),
        (Key::Second, _) => skip(bench),
        (Key::Third, _) => bench.open(Page::Other),
        (Key::Fourth, _) => {}
    }
}

/// What was answered already.
pub(super) fn so_far<N: Number>(bench: &Bench<'_, '_, N>) -> Answer {
    bench.asked.map_or(Answer::NotLooked, |asked| {
        bench.work.answer(asked.visit.part, asked.visit.ask)
    })
}

/// Leaves it for later.
pub(super) fn skip<N: Number>(bench: &mut Bench<'_, '_, N>) {
    bench.close_to(Page::Question);
    match bench.asked.map(|asked| asked.origin) {
        Some(Origin::Round) => bench.pass(),
        _ => bench.back(),
    }
}

pub(super) fn draw<N: Number, D: DrawTarget<Color = BinaryColor>>(
    bench: &Bench<'_, '_, N>,
    canvas: &mut Canvas<'_, D>,
) {
    let once = bench
        .asked
        .is_some_and(|asked| asked.origin == Origin::Once);
    head(bench, canvas, |out| {
        if once {
            out.write_str(match so_far(bench) {
                Answer::NotLooked => "This one by itself",
                _ => "To be put right",
            })
        } else {
            let progress = bench.progress;
            write!(out, "{} of {} done", progress.done, progress.all)
        }
    });
    match asked(bench) {
        Some(asked) => draw_question(bench, asked, canvas),
        None => draw_end(bench, canvas),
    }
}

/// Nothing is left to ask, or there is no round.
fn draw_end<N: Number, D: DrawTarget<Color = BinaryColor>>(
    bench: &Bench<'_, '_, N>,
    canvas: &mut Canvas<'_, D>,
) {
    let setting = Setting::lines(Type::Plain, 4);
    canvas.wrapped((1, 14), Type::Plain, setting, |out| {
        out.write_str(if bench.progress.all == 0 {
            "The rules have no round for this piece. Go part by part."
        } else {
            "All that can be looked at has been looked at."
        })
    });
    let keys = [
        Label::None,
        Label::None,
        Label::Word("Done"),
        Label::Word("Back"),
    ];
    foot(canvas, keys);
}

/// The part, the question, and how it is found out or what was answered.
fn draw_question<N: Number, D: DrawTarget<Color = BinaryColor>>(
    bench: &Bench<'_, '_, N>,
    (index, ask): (usize, Ask),
    canvas: &mut Canvas<'_, D>,
) {
    let pack = bench.pack();
    canvas.wrapped(
        (1, 11),
        Type::Plain,
        Setting::lines(Type::Plain, 2),
        |out| part(bench, index, out),
    );
    // The house's questions have one line; those made of the words of an ask may
    // have two.
    let columns = Type::Bold.columns();
    let lines = wrap::lines(columns, |out| words::question(out, pack, &ask));
    let (size, y) = if lines == 1 {
        (Type::Bold, 30)
    } else {
        (Type::Plain, 28)
    };
    canvas.wrapped((1, y), size, Setting::lines(size, 2), |out| {
        words::question(out, pack, &ask)
    });
    canvas.wrapped(
        (1, 45),
        Type::Small,
        Setting::lines(Type::Small, 1),
        |out| match so_far(bench) {
            Answer::NotLooked => words::effort(out, &ask),
            answer => {
                out.write_str("so far: ")?;
                words::answer(out, pack, &ask, answer)
            }
        },
    );
    let [first, second] = match ask.form {
        Form::Whether => ["Yes", "No"],
        Form::Which { .. } | Form::Degrees { .. } => ["Pick", "Pass"],
        Form::HowMuch { .. } => ["Dial", "Pass"],
        Form::HowMany { .. } => ["Count", "Pass"],
    };
    let [first, second, third, fourth] = [first, second, "Other", "Back"].map(Label::Word);
    foot(canvas, [first, second, third, fourth]);
}
