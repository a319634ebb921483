//! A day as somebody writes it.

use jiff::civil::Date;
use jiff::{Span, ToSpan as _};

/// "2027-03-01", "1 March 2027", "March 1, 2027", "1st of March", "3 weeks". A day without its
/// year is the next one from when it was noted. "1/3" is one day here and another elsewhere, and
/// is not read.
#[must_use]
pub fn read(words: &str, noted: Option<Date>) -> Option<Date> {
    let plain: Vec<String> = words
        .to_lowercase()
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
    let is_of_our_time = |day: &Date| (1900..=3000).contains(&day.year());
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
        for (text, meant) in [
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
            let day = read(text, noted()).map(|day| day.to_string());
            assert_eq!(day.as_deref(), meant, "{text}");
        }
        assert_eq!(read("3 weeks", None), None);
    }
}
