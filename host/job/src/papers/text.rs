//! Texts of "label: text" lines: what stands in a paper.

use crate::record::{IN_SHORT, PaperName};
use jiff::civil::DateTime;
use rust_decimal::Decimal;
use serde::Serializer;
use std::fmt;
use std::str::FromStr;
use tellmark_language::words;

/// The layout that this program writes and reads.
pub(super) const LAYOUT: &str = "1";

/// The largest amount of a paper, as of a price list, and its decimals.
const LARGEST: u64 = 1_000_000_000_000;
const MOST_DECIMALS: u32 = 4;
/// The most hours of a paper.
const MOST_HOURS: f64 = 100_000.0;

/// "2026-11-29 10:14".
pub(super) fn minute(when: DateTime) -> String {
    when.strftime("%Y-%m-%d %H:%M").to_string()
}

/// The same in data.
pub(super) fn as_minute<S: Serializer>(when: &DateTime, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(&minute(*when))
}

/// A value in data, as it is written.
pub(super) fn as_said<T: fmt::Display, S: Serializer>(value: &T, to: S) -> Result<S::Ok, S::Error> {
    to.collect_str(value)
}

/// Lines with a label, in order. Those that begin with # are for people only.
#[derive(Clone, Debug, Default)]
pub(super) struct Labelled {
    text: String,
    lines: Vec<(String, String)>,
}

/// What cannot be read of a paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum TextError {
    /// There is no line with this label.
    Missing(String),
    /// What stands after this label is not what should.
    Wrong(String),
    /// It has another layout.
    Layout(String),
}

impl fmt::Display for TextError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            TextError::Missing(label) => write!(f, "it has no line \"{label}: …\"."),
            TextError::Wrong(label) => {
                write!(
                    f,
                    "what stands after \"{label}:\" is not what I expect there."
                )
            }
            TextError::Layout(layout) => {
                write!(
                    f,
                    "a later Tellmark wrote it (layout {layout}). Use that one."
                )
            }
        }
    }
}

impl Labelled {
    /// A paper as each of them begins.
    pub fn paper(name: PaperName, piece: &str, never: &str, in_short: &str) -> Self {
        let mut text = Self::default();
        let kind = words::capital(&name.to_string());
        text.heading(&format!("{kind} for {}", words::a(piece)));
        text.heading(never);
        text.line("paper", &name.to_string());
        text.line("layout", LAYOUT);
        text.line(IN_SHORT, in_short);
        text
    }

    /// A line for people only.
    pub(super) fn heading(&mut self, words: &str) {
        self.text.push_str(&format!("# {words}\n"));
    }

    /// One line.
    pub(super) fn line(&mut self, label: &str, said: &str) {
        self.text.push_str(&format!("{label}: {said}\n"));
    }

    /// Lines under a heading; nothing if there are no lines.
    pub(super) fn section<L: AsRef<str>>(
        &mut self,
        heading: &str,
        lines: impl IntoIterator<Item = (L, String)>,
    ) {
        for (n, (label, said)) in lines.into_iter().enumerate() {
            if n == 0 {
                self.text.push('\n');
                self.heading(heading);
            }
            self.line(label.as_ref(), &said);
        }
    }

    /// The whole text.
    pub(super) fn finish(self) -> String {
        self.text
    }

    /// Reads such a text.
    pub(super) fn read(text: &str) -> Result<Labelled, TextError> {
        let lines = text.lines().map(str::trim);
        let lines = lines.filter(|line| !line.is_empty() && !line.starts_with('#'));
        let lines = lines.map(|line| {
            let (label, said) = line
                .split_once(':')
                .ok_or_else(|| TextError::Wrong(line.to_owned()))?;
            Ok((label.trim().to_owned(), said.trim().to_owned()))
        });
        Ok(Labelled {
            text: String::new(),
            lines: lines.collect::<Result<_, _>>()?,
        })
    }

    /// What stands after a label, each time.
    pub(super) fn all<'t>(&'t self, label: &'t str) -> impl Iterator<Item = &'t str> {
        let lines = self.lines.iter().filter(move |(l, _)| l == label);
        lines.map(|(_, said)| said.as_str())
    }

    /// Labels that begin so, and what stands after them.
    pub(super) fn beginning<'t>(
        &'t self,
        label: &'t str,
    ) -> impl Iterator<Item = (&'t str, &'t str)> {
        let lines = self.lines.iter().filter(move |(l, _)| l.starts_with(label));
        lines.map(|(label, said)| (label.as_str(), said.as_str()))
    }

    /// What stands after a label, if it is there.
    pub(super) fn one_if_there(&self, label: &str) -> Option<&str> {
        let mut lines = self.lines.iter();
        let line = lines.find(|(l, _)| l == label)?;
        Some(line.1.as_str())
    }

    /// What stands after a label that must be there.
    pub(super) fn one(&self, label: &str) -> Result<&str, TextError> {
        let said = self.one_if_there(label);
        said.ok_or_else(|| TextError::Missing(label.to_owned()))
    }

    /// Refuses another layout.
    pub(super) fn must_be(&self, label: &str, wanted: &str) -> Result<(), TextError> {
        match self.one(label)? {
            said if said == wanted => Ok(()),
            other => Err(TextError::Layout(other.to_owned())),
        }
    }

    /// What is said of a line that cannot be read.
    pub(super) fn wrong(&self, label: &str) -> TextError {
        TextError::Wrong(label.to_owned())
    }

    /// A value of any sort that stands after a label.
    pub(super) fn parsed<T: FromStr>(&self, label: &str, said: &str) -> Result<T, TextError> {
        said.trim().parse().map_err(|_| self.wrong(label))
    }

    /// Numbers, with commas between.
    pub(super) fn numbers<T: FromStr>(&self, label: &str, said: &str) -> Result<Vec<T>, TextError> {
        let numbers = said.split(',');
        numbers.map(|number| self.parsed(label, number)).collect()
    }

    /// An amount: "1,240.50". What no price list can have asked for is none.
    pub(super) fn amount(&self, label: &str, said: &str) -> Result<Decimal, TextError> {
        let amount: Decimal = self.parsed(label, &said.replace(',', ""))?;
        let fits = !amount.is_sign_negative() && amount <= Decimal::from(LARGEST);
        match fits && amount.scale() <= MOST_DECIMALS {
            true => Ok(amount),
            false => Err(self.wrong(label)),
        }
    }

    /// Hours, with commas between: so many, each a number that a piece can take.
    pub(super) fn hours(
        &self,
        label: &str,
        said: &str,
        many: usize,
    ) -> Result<Vec<f64>, TextError> {
        let hours: Vec<f64> = self.numbers(label, said)?;
        let fits = hours.iter().all(|hours| (0.0..=MOST_HOURS).contains(hours));
        match fits && hours.len() == many {
            true => Ok(hours),
            false => Err(self.wrong(label)),
        }
    }

    /// Minutes, with commas between.
    pub(super) fn minutes(&self, label: &str, said: &str) -> Result<[u32; 3], TextError> {
        let minutes: Vec<u32> = self.numbers(label, said)?;
        let fits = minutes
            .iter()
            .all(|minutes| f64::from(*minutes) <= MOST_HOURS * 60.0);
        let minutes = minutes.try_into().ok().filter(|_| fits);
        minutes.ok_or_else(|| self.wrong(label))
    }

    /// A day and minute.
    pub(super) fn minute(&self, label: &str) -> Result<DateTime, TextError> {
        let said = self.one(label)?;
        DateTime::strptime("%Y-%m-%d %H:%M", said).map_err(|_| self.wrong(label))
    }

    /// The name of a paper.
    pub(super) fn name(&self, label: &str, said: &str) -> Result<PaperName, TextError> {
        PaperName::read(said).ok_or_else(|| self.wrong(label))
    }
}
