//! The other ways to answer what is asked, and how to check.

use core::fmt::{self, Write};

use super::question::{asked, skip, so_far};
use super::read;
use crate::asking::OtherAnswers;
use crate::bench::list::List;
use crate::bench::page::{Asked, Origin, Page, Text};
use crate::bench::{Bench, Note, Said};
use crate::number::Number;
use crate::pack::NONE;
use crate::piece::Answer;
use crate::record::Noted;
use crate::round::Round;
use crate::words;

pub(super) struct Other;

#[derive(Clone, Copy, PartialEq, Eq)]
enum Row {
    How,
    LooksLikeIt,
    LooksUnlikely,
    CannotBeSeen,
    Pass,
    Before,
    TakeBack,
    OutOfSight,
    ThisPart,
    Remark,
}

fn rows<N: Number>(bench: &Bench<'_, '_, N>) -> impl Iterator<Item = Row> + use<N> {
    let ask = asked(bench).map(|(_, ask)| ask);
    let has_how = ask.is_some_and(|ask| !bench.pack().text(ask.how).is_empty());
    let in_round = bench.asked.is_some_and(|a| a.origin == Origin::Round);
    let is_part = bench.asked.is_some_and(|a| a.visit.part != 0);
    let has_remarks = bench.pack().remarks() > 0;
    let others = ask.map_or(OtherAnswers::default(), |ask| {
        OtherAnswers::to(&ask, so_far(bench))
    });
    [
        Row::How,
        Row::LooksLikeIt,
        Row::LooksUnlikely,
        Row::CannotBeSeen,
        Row::Pass,
        Row::Before,
        Row::TakeBack,
        Row::OutOfSight,
        Row::ThisPart,
        Row::Remark,
    ]
    .into_iter()
    .filter(move |row| match row {
        Row::How => has_how,
        Row::LooksLikeIt | Row::LooksUnlikely => others.looks,
        Row::CannotBeSeen => others.cannot_be_seen,
        // A measure or a choice is passed with the second key.
        Row::Pass => others.looks && in_round,
        Row::Before => in_round,
        Row::TakeBack => others.take_back,
        Row::OutOfSight => is_part,
        // Whoever came from the part's own list goes back to it.
        Row::ThisPart => in_round,
        Row::Remark => has_remarks,
    })
}

impl<N: Number> List<N> for Other {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        match asked(bench) {
            Some((_, ask)) => words::question(out, bench.pack(), &ask),
            None => Ok(()),
        }
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        rows(bench).count()
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        out.write_str(match rows(bench).nth(row) {
            Some(Row::How) => "How to check",
            Some(Row::LooksLikeIt) => "Looks like it",
            Some(Row::LooksUnlikely) => "Looks unlikely",
            Some(Row::CannotBeSeen) => "Cannot be seen",
            Some(Row::Pass) => "Later",
            Some(Row::Before) => "The one before",
            Some(Row::TakeBack) => "Take answer back",
            Some(Row::OutOfSight) => "Whole part hidden",
            Some(Row::ThisPart) => "All of this part",
            Some(Row::Remark) => "Make a remark",
            None => "",
        })
    }

    fn verb(&self) -> &'static str {
        "Take"
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, note: Note<'_>) {
        match rows(bench).nth(row) {
            Some(Row::How) => read(bench, Text::How),
            Some(Row::LooksLikeIt) => bench.answer(Answer::Looks(true), note),
            Some(Row::LooksUnlikely) => bench.answer(Answer::Looks(false), note),
            Some(Row::CannotBeSeen) => bench.answer(Answer::CannotSee, note),
            Some(Row::TakeBack) => bench.answer(Answer::NotLooked, note),
            Some(Row::Pass) => skip(bench),
            Some(Row::Before) => before(bench),
            Some(Row::OutOfSight) => hide(bench, note),
            Some(Row::ThisPart) => all_of_it(bench),
            Some(Row::Remark) => remark(bench),
            None => {}
        }
    }
}

/// Goes to what the round asked before.
fn before<N: Number>(bench: &mut Bench<'_, '_, N>) {
    let (Some(asked), Some(inspection)) = (bench.asked, bench.work.inspection()) else {
        return;
    };
    let (pack, piece) = (inspection.pack(), inspection.piece());
    let before = Round::of(pack, piece).before(pack, piece, &bench.wanted, asked.visit);
    if let Some(visit) = before {
        bench.asked = Some(Asked { visit, ..asked });
    }
    bench.close_to(Page::Question);
}

fn part_asked<N: Number>(bench: &Bench<'_, '_, N>) -> Option<u16> {
    u16::try_from(bench.asked?.visit.part).ok()
}

/// Leaves the round for everything that can be asked of the part; the round goes on from there
/// once it is taken up again.
fn all_of_it<N: Number>(bench: &mut Bench<'_, '_, N>) {
    if let Some(part) = part_asked(bench) {
        bench.close_to(Page::Question);
        bench.replace(Page::Part(part));
    }
}

/// Opens what can be remarked of the part, in the place of this list.
fn remark<N: Number>(bench: &mut Bench<'_, '_, N>) {
    if let Some(part) = part_asked(bench) {
        bench.replace(Page::Remarks(part));
    }
}

/// Notes that nothing of the part can be seen.
fn hide<N: Number>(bench: &mut Bench<'_, '_, N>, note: Note<'_>) {
    let Some(asked) = bench.asked else { return };
    let hidden = Noted::OutOfSight {
        part: u16::try_from(asked.visit.part).unwrap_or(NONE),
        out_of_sight: true,
    };
    if bench.note(hidden, note) {
        bench.refresh();
        bench.say(Said::Hidden(true));
        skip(bench);
    }
}
