//! A limit of the owner, and what it is a limit of: hours at the bench, a sum, a day.

use crate::amount::amount;
use jiff::civil::Date;
use jiff::{Span, ToSpan as _};
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
/// Words that are no money, so that a number before them is not a sum.
const NO_MONEY: [&str; 34] = [
    "second",
    "seconds",
    "minute",
    "minutes",
    "hour",
    "hours",
    "h",
    "min",
    "day",
    "days",
    "week",
    "weeks",
    "month",
    "months",
    "year",
    "years",
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
    "kg",
    "g",
    "mm",
    "cm",
    "m",
    "in",
];

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
        let on = day(plain, noted)
            .map(On::Day)
            .or_else(hours)
            .or_else(|| sum(plain))
            .unwrap_or(On::Unread);
        Limit {
            words: words.to_owned(),
            on,
        }
    }
}

/// "1,000 hours" without its comma.
fn without_thousands(plain: &str) -> String {
    let (figures, rest) = plain.split_once(char::is_whitespace).unwrap_or((plain, ""));
    match (figures.contains(','), amount(figures)) {
        (true, Some(number)) => format!("{number} {rest}"),
        _ => plain.to_owned(),
    }
}

/// "900", "1,200 marks", "£900", "900£", "EUR 900".
fn sum(plain: &str) -> Option<On> {
    let figures = plain.find(|c: char| c.is_ascii_digit())?;
    let (before, rest) = plain.split_at(figures);
    let is_figure = |c: char| c.is_ascii_digit() || c == ',' || c == '.';
    let (figures, after) = rest.split_at(rest.find(|c| !is_figure(c)).unwrap_or(rest.len()));
    let currency = match (before.trim(), after.trim()) {
        ("", after) => after,
        (before, "") => before,
        _ => return None,
    };
    // "900 or so, as we said" is a sum with something to it that nobody reads.
    let is_currency =
        |c: char| c.is_alphabetic() || !(c.is_ascii() || c.is_whitespace()) || c == '$';
    let is_money = currency.chars().all(is_currency) && !NO_MONEY.contains(&currency);
    is_money.then_some(())?;
    Some(On::Sum {
        amount: amount(figures)?,
        currency: currency.to_owned(),
    })
}

/// "2027-03-01", "1 March 2027", "March 1, 2027", "1st of March", "3 weeks". A day without its
/// year is the next one from when it was noted. "1/3" is one day here and another elsewhere, and
/// is not read.
fn day(plain: &str, noted: Option<Date>) -> Option<Date> {
    let plain: Vec<String> = plain
        .split_whitespace()
        .filter(|word| {
            *word != "of" && *word != "the" && !DAYS.contains(&word.trim_end_matches(','))
        })
        .map(without_ending)
        .collect();
    let plain = plain.join(" ");
    if let Some(span) = calendar_span(&plain) {
        return noted?.checked_add(span).ok();
    }
    const WHOLE: [&str; 7] = [
        "%Y-%m-%d",
        "%d %B %Y",
        "%d %b %Y",
        "%B %d %Y",
        "%b %d %Y",
        "%d.%m.%Y",
        "%d. %B %Y",
    ];
    // "March 27" is no day of the year 27.
    let is_of_our_time = |day: &Date| (1900..=2200).contains(&day.year());
    let whole = WHOLE
        .iter()
        .find_map(|form| Date::strptime(form, &plain).ok().filter(is_of_our_time));
    whole.or_else(|| {
        let noted = noted?;
        let of_year = |year: i16| {
            let dated = format!("{plain} {year}");
            let forms = ["%d %B %Y", "%d %b %Y", "%B %d %Y", "%b %d %Y"];
            let words = plain.split_whitespace().count();
            forms
                .iter()
                .filter(|_| words == 2)
                .find_map(|form| Date::strptime(form, &dated).ok())
        };
        of_year(noted.year())
            .filter(|day| *day >= noted)
            .or_else(|| of_year(noted.year().checked_add(1)?))
    })
}

/// Days of the week say nothing more beside a date.
const DAYS: [&str; 14] = [
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
    "mon",
    "tue",
    "wed",
    "thu",
    "fri",
    "sat",
    "sun",
];

/// "1st" as "1", "1," as "1".
fn without_ending(word: &str) -> String {
    let word = word.trim_end_matches(',');
    let figures = word.trim_end_matches(|c: char| c.is_ascii_alphabetic());
    match word.get(figures.len()..) {
        Some("st" | "nd" | "rd" | "th") if !figures.is_empty() => figures.to_owned(),
        _ => word.to_owned(),
    }
}

/// "3 weeks", "10 days", "2 months": time on the calendar, not at the bench.
fn calendar_span(plain: &str) -> Option<Span> {
    if matches!(plain, "fortnight" | "a fortnight") {
        return Some(2.weeks());
    }
    let (number, unit) = plain.split_once(' ')?;
    let number = match number {
        "a" | "one" => 1,
        "two" => 2,
        "three" => 3,
        "four" => 4,
        "six" => 6,
        figures => figures
            .parse::<i32>()
            .ok()
            .filter(|n| (0..1000).contains(n))?,
    };
    match unit {
        "day" | "days" => Some(number.days()),
        "week" | "weeks" => Some(number.weeks()),
        "month" | "months" => Some(number.months()),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn noted() -> Option<Date> {
        Date::new(2026, 11, 30).ok()
    }

    #[test]
    fn a_day_is_read_one_way_or_not_at_all() {
        for (text, read) in [
            ("2027-03-01", Some("2027-03-01")),
            ("1 march 2027", Some("2027-03-01")),
            ("1st of march 2027", Some("2027-03-01")),
            ("march 1, 2027", Some("2027-03-01")),
            ("1 mar 2027", Some("2027-03-01")),
            ("1.3.2027", Some("2027-03-01")),
            ("24 december", Some("2026-12-24")),
            ("1 march", Some("2027-03-01")),
            ("3 weeks", Some("2026-12-21")),
            ("two months", Some("2027-01-30")),
            ("friday 4 december", Some("2026-12-04")),
            ("a fortnight", Some("2026-12-14")),
            ("march", None),
            ("may", None),
            ("june 2027", None),
            ("march 27", Some("2027-03-27")),
            ("1 march 27", None),
            ("1/3/2027", None),
            ("christmas", None),
            ("20 hours", None),
            ("31 february 2027", None),
        ] {
            let day = day(text, noted()).map(|day| day.to_string());
            assert_eq!(day.as_deref(), read, "{text}");
        }
        assert_eq!(day("3 weeks", None), None);
    }

    #[test]
    fn a_sum_may_have_its_currency_on_either_side() {
        for (text, read) in [
            ("900", Some(("900", ""))),
            ("1,200 marks", Some(("1200", "marks"))),
            ("£900", Some(("900", "£"))),
            ("eur 900", Some(("900", "eur"))),
            ("900£", Some(("900", "£"))),
            ("about 900 marks", None),
            ("31 november", None),
            ("1 year", None),
            ("20 kg", None),
            ("900 marks or so", None),
            ("whatever it takes", None),
        ] {
            let sum = sum(text);
            let sum = sum.as_ref().map(|on| match on {
                On::Sum { amount, currency } => (amount.to_string(), currency.as_str()),
                _ => (String::new(), ""),
            });
            let sum = sum
                .as_ref()
                .map(|(amount, currency)| (amount.as_str(), *currency));
            assert_eq!(sum, read, "{text}");
        }
    }
}
