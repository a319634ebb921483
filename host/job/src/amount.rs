//! An amount of money as somebody writes it.

use rust_decimal::Decimal;

/// An amount as somebody writes it, with or without the currency behind it: "1,200",
/// "900.00 marks". Not less than nothing.
#[must_use]
pub fn amount(text: &str) -> Option<Decimal> {
    let figures = text.split_whitespace().next()?;
    let is_figure = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
    if !figures.chars().all(is_figure) || !figures.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let (whole, rest) = figures.split_once('.').unwrap_or((figures, ""));
    // A comma stands between thousands, and nowhere else: "12,50" could be either.
    let mut groups = whole.split(',');
    let first = groups.next()?;
    let rest_of_whole: Vec<&str> = groups.collect();
    let is_grouped = rest_of_whole.iter().all(|group| group.len() == 3);
    let fits = rest_of_whole.is_empty() || (first.len() <= 3 && is_grouped);
    if !fits || rest.contains(',') || whole.len() > 15 || rest.len() > 4 {
        return None;
    }
    figures.replace(',', "").parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_amount_is_read_one_way_or_not_at_all() {
        for (text, read) in [
            ("900", Some("900")),
            ("900.00 marks", Some("900.00")),
            ("1,200", Some("1200")),
            ("1,200,000.5", Some("1200000.5")),
            ("12,50", None),
            ("1200,000", None),
            ("-5", None),
            ("marks 5", None),
            ("", None),
            ("5.5.5", None),
            ("9999999999999999", None),
        ] {
            assert_eq!(
                amount(text).map(|a| a.to_string()).as_deref(),
                read,
                "{text}"
            );
        }
    }
}
