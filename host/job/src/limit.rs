//! A limit of the owner, and what it is a limit of: hours at the bench, a sum, a day.

use crate::amount::{Money, figures};
use crate::day;
use jiff::civil::Date;
use rust_decimal::Decimal;
use tellmark_language::AnswerReader;
use tellmark_language::model::Minutes;

/// How far the work may go.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limit {
    /// As it was said.
    pub words: String,
    /// What of it can be compared.
    pub on: On,
}

/// What a limit is a limit of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum On {
    /// Time at the bench.
    Hours(Minutes),
    /// What the owner pays.
    Sum {
        /// How much.
        amount: Decimal,
        /// The currency as it was said; empty where it was not.
        currency: String,
    },
    /// The day on which the piece is to be back.
    Day(Date),
    /// Words that are none of these.
    Unread,
}

impl On {
    /// Whether a limit takes the place of another. Words that cannot be compared stand beside
    /// each other.
    #[must_use]
    pub fn is_of_one_sort(&self, other: &On) -> bool {
        match (self, other) {
            (On::Hours(_), On::Hours(_)) | (On::Day(_), On::Day(_)) => true,
            // Of two currencies each has its own: "3 chairs" takes the place of no "900 marks".
            (On::Sum { currency: one, .. }, On::Sum { currency: two, .. }) => {
                one.is_empty() || two.is_empty() || one.eq_ignore_ascii_case(two)
            }
            _ => false,
        }
    }
}

impl From<Money> for On {
    fn from(money: Money) -> On {
        On::Sum {
            amount: money.amount,
            currency: money.currency,
        }
    }
}

/// What may stand behind a limit.
const BEHIND: [&str; 6] = [
    " at most",
    " at the most",
    " max",
    " maximum",
    " or less",
    " in all",
];
/// More hours than a workshop has in years are a slip.
const MOST_HOURS: Minutes = 20_000 * 60;
/// What may stand before a limit without making it another one.
const BEFORE: [&str; 15] = [
    "no later than ",
    "not later than ",
    "no more than ",
    "not more than ",
    "back by ",
    "at most ",
    "at the most ",
    "up to ",
    "within ",
    "before ",
    "until ",
    "under ",
    "by ",
    "in ",
    "max ",
];

impl Limit {
    /// Reads a limit that was written down on a day. "Three weeks" are counted from there.
    #[must_use]
    pub fn read(words: &str, reader: &AnswerReader<'_>, noted: Option<Date>) -> Limit {
        let plain = words.to_lowercase();
        let mut plain = plain.trim().trim_end_matches('.');
        while let Some(rest) = BEFORE.iter().find_map(|word| plain.strip_prefix(word)) {
            plain = rest.trim();
        }
        while let Some(rest) = BEHIND.iter().find_map(|word| plain.strip_suffix(word)) {
            plain = rest.trim();
        }
        let hours = || {
            // "1,000 hours": a comma between thousands.
            let figures = without_thousands(plain);
            let read = reader
                .time(&figures)
                .filter(|minutes| *minutes <= MOST_HOURS);
            read.map(On::Hours)
        };
        let on = day::read(plain, noted)
            .map(On::Day)
            .or_else(hours)
            .or_else(|| Money::read(plain).map(On::from))
            .unwrap_or(On::Unread);
        Limit {
            words: words.to_owned(),
            on,
        }
    }
}

/// "1,000 hours" without its comma.
fn without_thousands(plain: &str) -> String {
    let (first, rest) = plain.split_once(char::is_whitespace).unwrap_or((plain, ""));
    match (first.contains(','), figures(first)) {
        (true, Some(number)) => format!("{number} {rest}"),
        _ => plain.to_owned(),
    }
}
