//! Measures of time: how long ago something was, and how long it has lasted.

use crate::message::Problem;
use crate::model::{Asks, SignId, Tense, Unit};
use crate::number::{UnitWord, is_kept, unit_name};
use crate::resolve::Reader;
use crate::resolve::look::{Done, Look, refuse};
use crate::span::Span;
use crate::syntax::Name;
use crate::token::Number;
use crate::words::{capital, measured_words};

impl Reader<'_> {
    /// Refuses "how long ago" of what is no time, and "how long … is" of a time.
    pub(super) fn good_time(
        &self,
        (word, lasting): (&Name, bool),
        (unit, unit_at): (UnitWord, Span),
    ) -> Done<()> {
        let is_time = unit.of_measure().is_some_and(Unit::is_time);
        match word.text.as_str() {
            "long ago" if !is_time => {
                let how = "how long ago it was";
                refuse(unit_at, Problem::NotATime { how })
            }
            "long" if lasting && !is_time => {
                let how = "how long it has lasted";
                refuse(unit_at, Problem::NotATime { how })
            }
            "long" if !lasting && is_time => refuse(word.at, Problem::TimeLasts),
            _ => Ok(()),
        }
    }

    /// Refuses a time that is no whole number of ticks.
    pub(super) fn kept(&self, number: Number, unit: Unit, at: Span) -> Done<()> {
        kept(number, unit, at)
    }
}

/// Refuses a time that is no whole number of ticks.
pub(super) fn kept(number: Number, unit: Unit, at: Span) -> Done<()> {
    if is_kept(number, unit) {
        return Ok(());
    }
    let amount = format!("{number} {}", unit_name(unit));
    refuse(at, Problem::TimeTooFine { amount: &amount })
}

impl Look<'_> {
    /// Whether the words that a measure was said with go with its tense: "… ago", "… for".
    pub(super) fn is_said_so(&self, asks: &Asks, word: Option<&Name>) -> bool {
        let Asks::HowMuch { word: own, .. } = asks else {
            return false;
        };
        match (asks.tense(), word) {
            (Tense::Is, None) => true,
            (Tense::Is, Some(word)) => own.to_lowercase() == word.text,
            (Tense::Ago, word) => word.is_some_and(|word| word.text == "long ago"),
            (Tense::Lasting, word) => word.is_some_and(|word| word.text == "for"),
        }
    }

    /// A measure of time that was put in another tense.
    pub(super) fn said_in_another_tense<T>(&self, sign: SignId, at: Span) -> Done<T> {
        let asks = &self.sign(sign).asks;
        let right = measured_words(asks, "…", false);
        let sign = &capital(&self.sign_words(sign));
        let right = &right;
        refuse(at, Problem::TimeSaidSo { sign, right })
    }
}
