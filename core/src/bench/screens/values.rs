//! The values of a choice, or the degrees of a judgement.

use core::fmt::{self, Write};

use super::question::asked;
use crate::bench::list::List;
use crate::bench::{Bench, Note};
use crate::number::Number;
use crate::piece::Answer;
use crate::words::{self, Capital};

pub(super) struct Values;

impl<N: Number> List<N> for Values {
    fn title(&self, bench: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        match asked(bench) {
            Some((_, ask)) => words::question(out, bench.pack(), &ask),
            None => Ok(()),
        }
    }

    fn rows(&self, bench: &Bench<'_, '_, N>) -> usize {
        let choices = asked(bench).and_then(|(_, ask)| ask.form.choices());
        choices.map_or(0, |(_, values)| usize::from(values))
    }

    fn row(&self, bench: &Bench<'_, '_, N>, row: usize, out: &mut dyn Write) -> fmt::Result {
        let Some((_, ask)) = asked(bench) else {
            return Ok(());
        };
        let Some((first, _)) = ask.form.choices() else {
            return Ok(());
        };
        let text = first.saturating_add(u16::try_from(row).unwrap_or(0));
        write!(out, "{}", Capital(bench.pack().text(text)))
    }

    fn verb(&self) -> &'static str {
        "Note"
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, row: usize, note: Note<'_>) {
        if let Ok(value) = u8::try_from(row) {
            bench.answer(Answer::Value(value), note);
        }
    }
}
