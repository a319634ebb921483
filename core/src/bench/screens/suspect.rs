//! One likely fault: what it costs found late, what speaks for and against it,
//! the sentences that give reasons for it, and what it turned out to be.

use core::fmt::{self, Write};

use super::{part, read};
use crate::bench::list::List;
use crate::bench::page::{Asked, Origin, Page, Text};
use crate::bench::{Bench, Note};
use crate::number::Number;
use crate::pack::Sentence;
use crate::piece::Answer;
use crate::round::Visit;
use crate::shortlist::{Suspect, sentences};
use crate::weighing::Weighing;
use crate::words;
use crate::words::Hundredths;

/// What can be done about one.
pub(super) struct About(pub u16);

impl About {
    fn suspect<N: Number>(&self, bench: &Bench<'_, '_, N>) -> Option<Suspect> {
        bench.suspects.get(usize::from(self.0)).copied()
    }
}

impl<N: Number> List<N> for About {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        match self.suspect(bench) {
            Some(suspect) => {
                let state = bench.pack().state(usize::from(suspect.state));
                write!(out, "{}", words::Capital(bench.pack().text(state.phrase)))
            }
            None => Ok(()),
        }
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        if self.suspect(bench).is_some() { 5 } else { 0 }
    }

    fn row(&self, _: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        out.write_str(match row {
            0 => "In full",
            1 => "For and against",
            2 => "What the rules say",
            3 => "Opened: it is so",
            _ => "Opened: it is not",
        })
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, note: Note<'_>) {
        let Some(suspect) = self.suspect(bench) else {
            return;
        };
        match row {
            0 => read(bench, Text::Suspect(self.0)),
            1 => {
                let weighed = bench.weighing.as_ref().map(Weighing::suspect);
                if weighed != Some(suspect) {
                    bench.weighing = Some(Weighing::of(suspect));
                }
                bench.open(Page::Weights);
            }
            2 => {
                bench.weighing = Some(Weighing::of(suspect));
                bench.open(Page::Sentences);
            }
            _ => opened(bench, suspect, row == 3, note),
        }
    }
}

/// Notes what was found when it was opened up; the list is out of date then.
fn opened<N: Number>(bench: &mut Bench<'_, '_, N>, suspect: Suspect, so: bool, note: Note<'_>) {
    let ask = bench.pack().state(usize::from(suspect.state)).ask;
    bench.asked = Some(Asked {
        visit: Visit {
            part: usize::from(suspect.part),
            ask,
        },
        origin: Origin::Once,
    });
    bench.go_home();
    bench.answer(Answer::Certain(so), note);
}

/// The fault in one sentence, and what it costs if it is found late.
pub(super) fn in_full<N: Number>(
    bench: &Bench<'_, '_, N>,
    row: usize,
    out: &mut dyn Write,
) -> fmt::Result {
    match bench.suspects.get(row) {
        Some(suspect) => suspect.in_full(out, bench.pack(), bench.work.parts()),
        None => Ok(()),
    }
}

/// What speaks for and against it.
pub(super) struct Weights;

impl<N: Number> List<N> for Weights {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        match &bench.weighing {
            Some(weighing) if weighing.is_done() => {
                out.write_str("Now")?;
                Hundredths(weighing.suspect().chance).short(out)?;
                out.write_str(" in 100, without:")
            }
            _ => out.write_str("Weighing ..."),
        }
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        let done = bench.weighing.as_ref().filter(|w| w.is_done());
        done.map_or(0, |weighing| weighing.weights().len())
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        let weighing = bench.weighing.as_ref();
        let Some(weight) = weighing.and_then(|w| w.weights().get(row)) else {
            return Ok(());
        };
        out.write_str(if weight.speaks_for {
            "For: "
        } else {
            "Against: "
        })?;
        let (pack, given) = (bench.pack(), weight.given);
        let ask = pack.ask(usize::from(given.ask));
        part(bench, given.part, out)?;
        out.write_str(", ")?;
        words::question(out, pack, &ask)?;
        out.write_char(' ')?;
        words::answer(out, pack, &ask, given.answer)
    }

    fn has_figures(&self) -> bool {
        true
    }

    /// The chance without it.
    fn figure(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        let weighing = bench.weighing.as_ref();
        match weighing.and_then(|w| w.weights().get(row)) {
            Some(weight) => Hundredths(weight.without).short(out),
            None => Ok(()),
        }
    }

    fn none(&self, bench: &Bench<'_, '_, N>) -> &'static str {
        if bench.weighing.as_ref().is_some_and(Weighing::is_done) {
            return "No answer moves it.";
        }
        "Each answer is taken back in turn, to see what it weighs."
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, _: Note<'_>) {
        let weighing = bench.weighing.as_ref();
        let given = weighing.and_then(|w| w.weights().get(row)).map(|w| w.given);
        if let Some(given) = given {
            bench.go_home();
            bench.ask_once(Visit {
                part: given.part,
                ask: given.ask,
            });
        }
    }
}

/// The sentences that give reasons for it.
pub(super) struct Sentences;

fn nth<N: Number>(bench: &Bench<'_, '_, N>, row: usize) -> Option<Sentence> {
    let state = bench.weighing.as_ref()?.suspect().state;
    sentences(bench.pack(), state).nth(row)
}

impl<N: Number> List<N> for Sentences {
    fn title(&self, _: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        out.write_str("What the rules say")
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        let state = bench.weighing.as_ref().map(|w| w.suspect().state);
        state.map_or(0, |state| sentences(bench.pack(), state).count())
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        let text = nth(bench, row).map_or(0, |sentence| sentence.text);
        out.write_str(bench.pack().text(text))
    }

    fn none(&self, _: &Bench<'_, '_, N>) -> &'static str {
        "No rule gives a reason. It is there on its own, now and then."
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, _: Note<'_>) {
        read(bench, Text::Sentence(u16::try_from(row).unwrap_or(0)));
    }
}

/// A sentence in full.
pub(super) fn sentence_in_full<N: Number>(
    bench: &Bench<'_, '_, N>,
    row: usize,
    out: &mut dyn Write,
) -> fmt::Result {
    let Some(sentence) = nth(bench, row) else {
        return Ok(());
    };
    // As the house wrote it, source and all.
    out.write_str(bench.pack().text(sentence.text))
}
