//! An amount of money as somebody writes it.

use rust_decimal::Decimal;

/// An amount, and the currency if it was said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Money {
    /// How much; not less than nothing.
    pub amount: Decimal,
    /// The currency as it was said; empty where it was not.
    pub currency: String,
}

impl Money {
    /// Reads "900", "1,200 marks", "£900", "900£", "EUR 900". With any other word, or with
    /// one that is no money ("3 weeks"), it is not read.
    #[must_use]
    pub fn read(words: &str) -> Option<Money> {
        let start = words.find(|c: char| c.is_ascii_digit())?;
        let (before, rest) = words.split_at(start);
        let is_figure = |c: char| c.is_ascii_digit() || c == ',' || c == '.';
        let (amount, after) = rest.split_at(rest.find(|c| !is_figure(c)).unwrap_or(rest.len()));
        let currency = match (before.trim(), after.trim()) {
            ("", after) => after,
            (before, "") => before,
            _ => return None,
        };
        // "900 or so, as we said" is a sum with something to it that nobody reads.
        let is_sign =
            |c: char| c.is_alphabetic() || !(c.is_ascii() || c.is_whitespace()) || c == '$';
        let is_money =
            currency.chars().all(is_sign) && !NO_MONEY.contains(&currency.to_lowercase().as_str());
        is_money.then_some(())?;
        Some(Money {
            amount: figures(amount)?,
            currency: currency.to_owned(),
        })
    }

    /// Whether it may be an amount of this currency: it is the one that was said, or none was.
    #[must_use]
    pub fn may_be_in(&self, currency: &str) -> bool {
        let is_it = |one: &str, other: &str| one.eq_ignore_ascii_case(other);
        let same = SAME_MONEY.iter().find(|names| {
            let mut names = names.iter();
            names.any(|name| is_it(name, &self.currency))
        });
        self.currency.is_empty()
            || is_it(&self.currency, currency)
            || same.is_some_and(|names| names.iter().any(|name| is_it(name, currency)))
    }
}

/// An amount in figures alone, "1,200" or "900.00"; not less than nothing.
#[must_use]
pub fn figures(figures: &str) -> Option<Decimal> {
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

/// Names of one currency, as people write them: its sign, its code (ISO 4217) and its word. Where
/// a sign or a word is that of several currencies, the one that the price list has is meant.
const SAME_MONEY: [&[&str]; 3] = [
    &["£", "GBP", "pound", "pounds", "quid"],
    &["€", "EUR", "euro", "euros"],
    &["$", "USD", "dollar", "dollars"],
];

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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_currency_may_stand_on_either_side() {
        let currency = |text| Money::read(text).map(|money| money.currency);
        for (text, said) in [
            ("900", ""),
            ("1,200 marks", "marks"),
            ("£900", "£"),
            ("EUR 9", "EUR"),
        ] {
            assert_eq!(currency(text).as_deref(), Some(said), "{text}");
        }
        let marks = Money::read("5 Marks").expect("a sum");
        assert!(marks.may_be_in("marks") && !marks.may_be_in("crowns"));
        let pounds = Money::read("1800 pounds").expect("a sum");
        assert!(pounds.may_be_in("£") && pounds.may_be_in("GBP") && !pounds.may_be_in("€"));
        let euros = Money::read("€ 20").expect("a sum");
        assert!(euros.may_be_in("euro") && !euros.may_be_in("marks"));
    }

    #[test]
    fn an_amount_is_read_one_way_or_not_at_all() {
        for (text, read) in [
            ("900", Some("900")),
            ("900.00 marks", Some("900.00")),
            ("£900", Some("900")),
            ("900 £", Some("900")),
            ("EUR 900", Some("900")),
            ("marks 5", Some("5")),
            ("900 marks or so", None),
            ("about 900 marks", None),
            ("31 November", None),
            ("1 year", None),
            ("20 kg", None),
            ("whatever it takes", None),
            ("1,200", Some("1200")),
            ("1,200,000.5", Some("1200000.5")),
            ("12,50", None),
            ("1200,000", None),
            ("-5", None),
            ("", None),
            ("5.5.5", None),
            ("9999999999999999", None),
        ] {
            assert_eq!(
                Money::read(text).map(|m| m.amount.to_string()).as_deref(),
                read,
                "{text}"
            );
        }
    }
}
