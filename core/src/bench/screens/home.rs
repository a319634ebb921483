//! Home: what there is to do.

use core::fmt::{self, Write};

use crate::bench::list::List;
use crate::bench::page::Page;
use crate::bench::{Bench, Note};
use crate::number::Number;
use crate::shortlist;

pub(super) struct Home;

#[derive(Clone, Copy, PartialEq, Eq)]
enum Row {
    Clash,
    Round,
    Suspects,
    Looks,
    Jobs,
    Cautions,
    Parts,
    Answers,
    Cable,
    Finish,
    Another,
}

fn rows<N: Number>(bench: &Bench<'_, '_, N>) -> impl Iterator<Item = Row> + use<N> {
    let (clashes, finished) = (bench.clashes, bench.work.is_finished());
    let looks = bench.looking.is_some();
    let (has_cable, kept) = (bench.cable.is_some(), bench.kept_to_piece);
    [
        Row::Clash,
        Row::Round,
        Row::Suspects,
        Row::Looks,
        Row::Jobs,
        Row::Cautions,
        Row::Parts,
        Row::Answers,
        Row::Cable,
        Row::Finish,
        Row::Another,
    ]
    .into_iter()
    .filter(move |row| match row {
        Row::Clash => clashes,
        Row::Finish => !finished,
        Row::Another => finished && !kept,
        Row::Cable => has_cable,
        Row::Looks => looks,
        _ => true,
    })
}

impl<N: Number> List<N> for Home {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        super::part(bench, 0, out)
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        rows(bench).count()
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        match rows(bench).nth(row) {
            Some(Row::Clash) => out.write_str("Answers clash!"),
            Some(Row::Round) => {
                let progress = bench.progress;
                write!(out, "Round: {} of {}", progress.done, progress.all)
            }
            Some(Row::Suspects) => out.write_str("Likely faults"),
            Some(Row::Looks) => out.write_str("What to look at next"),
            Some(Row::Jobs) => out.write_str("Jobs"),
            Some(Row::Cautions) => match bench.pending.len() {
                0 => out.write_str("Cautions"),
                waiting => write!(out, "Cautions: {waiting} new"),
            },
            Some(Row::Parts) => out.write_str("Part by part"),
            Some(Row::Answers) => out.write_str("Put an answer right"),
            Some(Row::Cable) => match bench.cable.unwrap_or_default().waiting {
                0 => out.write_str("Cable: all is sent"),
                waiting => write!(out, "Cable: {waiting} to send"),
            },
            Some(Row::Finish) => out.write_str("Finish"),
            Some(Row::Another) => out.write_str("Begin another piece"),
            None => Ok(()),
        }
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, _: Note<'_>) {
        match rows(bench).nth(row) {
            Some(Row::Clash) => bench.open(Page::Clash),
            Some(Row::Round) => bench.go_round(),
            Some(Row::Suspects) => {
                if let Some(inspection) = bench.work.inspection_mut() {
                    bench.suspects = shortlist::suspects(inspection);
                }
                bench.open(Page::Suspects);
            }
            Some(Row::Looks) => bench.open(Page::Looks),
            Some(Row::Jobs) => {
                if let Some(inspection) = bench.work.inspection_mut() {
                    bench.jobs = shortlist::jobs(inspection);
                }
                bench.open(Page::Jobs);
            }
            Some(Row::Cautions) if !bench.pending.is_empty() => bench.open(Page::Caution),
            Some(Row::Cautions) => {
                if let Some(inspection) = bench.work.inspection_mut() {
                    bench.cautions = shortlist::cautions(inspection);
                }
                bench.open(Page::Cautions);
            }
            Some(Row::Parts) => bench.open(Page::Parts),
            Some(Row::Answers) => bench.open(Page::Answers),
            Some(Row::Cable) => bench.open(Page::Cable),
            Some(Row::Finish) => bench.open(Page::Finish),
            Some(Row::Another) => bench.open(Page::Pieces),
            None => {}
        }
    }
}
