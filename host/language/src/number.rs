//! Numbers, quantities and times.

use nom::combinator::opt;
use nom::{Input, Parser};

use crate::input::{Read, Tokens, word};
use crate::model::{Ticks, Unit};
use crate::span::Span;
use crate::token::{Number, Sort};

/// What a unit word measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UnitWord {
    /// A length or share.
    Measure(Unit),
    /// A time, in minutes.
    Time(i64),
    /// A weight in a unit that measures do not have, as ounces.
    Weight,
}

/// The unit a word stands for.
#[must_use]
pub fn unit_of(word: &str) -> Option<UnitWord> {
    Some(match word {
        "mm" | "millimetre" | "millimetres" => UnitWord::Measure(Unit::Mm),
        "cm" | "centimetre" | "centimetres" => UnitWord::Measure(Unit::Cm),
        "m" | "metre" | "metres" => UnitWord::Measure(Unit::M),
        "in" | "inch" | "inches" => UnitWord::Measure(Unit::In),
        "ft" => UnitWord::Measure(Unit::Ft),
        "%" | "percent" => UnitWord::Measure(Unit::Percent),
        "minute" | "minutes" | "min" => UnitWord::Time(1),
        "hour" | "hours" => UnitWord::Time(60),
        "day" | "days" => UnitWord::Time(24 * 60),
        "week" | "weeks" => UnitWord::Time(7 * 24 * 60),
        "month" | "months" => UnitWord::Measure(Unit::Month),
        "year" | "years" => UnitWord::Measure(Unit::Year),
        "kg" | "kilogram" | "kilograms" => UnitWord::Measure(Unit::Kg),
        "lb" | "lbs" | "pound" | "pounds" => UnitWord::Measure(Unit::Lb),
        "g" | "oz" => UnitWord::Weight,
        _ => return None,
    })
}

impl UnitWord {
    /// The unit of a measure that it is: days and weeks are among the times of jobs as
    /// well.
    #[must_use]
    pub fn of_measure(self) -> Option<Unit> {
        match self {
            Self::Measure(unit) => Some(unit),
            Self::Time(each) if each == 24 * 60 => Some(Unit::Day),
            Self::Time(each) if each == 7 * 24 * 60 => Some(Unit::Week),
            Self::Time(_) | Self::Weight => None,
        }
    }
}

/// The short form of a unit.
#[must_use]
pub fn unit_name(unit: Unit) -> &'static str {
    match unit {
        Unit::Mm => "mm",
        Unit::Cm => "cm",
        Unit::M => "m",
        Unit::In => "in",
        Unit::Ft => "ft",
        Unit::Percent => "%",
        Unit::Day => "days",
        Unit::Week => "weeks",
        Unit::Month => "months",
        Unit::Year => "years",
        Unit::Kg => "kg",
        Unit::Lb => "lb",
    }
}

/// A quantity in ticks; nothing if it is too large to be kept.
#[must_use]
pub fn to_ticks(number: Number, unit: Unit) -> Option<Ticks> {
    Ticks::try_from(number.times(unit.ticks())).ok()
}

/// Whether it is a whole number of ticks, or one of length or share, whose ticks are finer
/// than anybody measures.
#[must_use]
pub fn is_kept(number: Number, unit: Unit) -> bool {
    let ticks = i128::from(number.over) * i128::from(unit.ticks());
    !unit.is_time() || ticks % i128::from(number.under) == 0
}

/// Ticks as a number of a unit, at most three places: "50.8".
#[must_use]
pub fn in_unit(ticks: Ticks, unit: Unit) -> String {
    let each = unit.ticks();
    let thousandths = (i64::from(ticks) * 1000 + each / 2) / each;
    let whole = thousandths / 1000;
    let part = format!("{:03}", thousandths % 1000);
    let part = part.trim_end_matches('0');
    if part.is_empty() {
        whole.to_string()
    } else {
        format!("{whole}.{part}")
    }
}

/// A number with the unit after it, if there is one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// The number.
    pub number: Number,
    /// The unit.
    pub unit: Option<UnitWord>,
    /// Both.
    pub at: Span,
    /// The unit alone.
    pub unit_at: Option<Span>,
}

/// Any number.
pub fn number(input: Tokens<'_>) -> Read<'_, (Number, Span)> {
    match input.first() {
        Some(token) => match token.sort {
            Sort::Number(number) => Ok((input.take_from(1), (number, token.at))),
            _ => input.fail("a number"),
        },
        None => input.fail("a number"),
    }
}

const COUNTS: [&str; 12] = [
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
];

/// A whole number, in figures or as a word from one to twelve.
pub fn whole(input: Tokens<'_>) -> Read<'_, u32> {
    let Some(token) = input.first() else {
        return input.fail("a whole number");
    };
    let found = match token.sort {
        Sort::Number(number) => number.as_whole().and_then(|n| u32::try_from(n).ok()),
        Sort::Word => COUNTS
            .iter()
            .position(|w| token.is(w))
            .and_then(|n| u32::try_from(n + 1).ok()),
        _ => None,
    };
    match found {
        Some(number) => Ok((input.take_from(1), number)),
        None => input.fail("a whole number"),
    }
}

/// A unit of length, share or time.
pub fn unit(input: Tokens<'_>) -> Read<'_, UnitWord> {
    if let Ok((rest, _)) = (word("per"), word("cent")).parse(input) {
        return Ok((rest, UnitWord::Measure(Unit::Percent)));
    }
    match input.first().and_then(|t| unit_of(&t.text)) {
        Some(unit) => Ok((input.take_from(1), unit)),
        None => input.fail("a unit such as mm"),
    }
}

/// A number and its unit.
pub fn quantity(input: Tokens<'_>) -> Read<'_, Quantity> {
    let (after, (number, _)) = number(input)?;
    let (rest, unit) = opt(unit).parse(after)?;
    Ok((
        rest,
        Quantity {
            number,
            unit,
            at: input.span_to(&rest),
            unit_at: unit.map(|_| after.span_to(&rest)),
        },
    ))
}

/// A span of time: "2 hours", "1 hour 30 minutes", "2 to 4 hours", "mostly"
/// left to the caller. Gives least and most, in minutes.
pub fn times(input: Tokens<'_>) -> Read<'_, (u32, u32)> {
    let (rest, (low, low_unit)) = (number, opt(time_unit)).parse(input)?;
    let (rest, high) = opt((word("to"), number)).parse(rest)?;
    if let Some((_, high)) = high {
        let (rest, high_unit) = time_unit(rest)?;
        let low = minutes(low.0, low_unit.unwrap_or(high_unit));
        return Ok((rest, (low, minutes(high.0, high_unit))));
    }
    let Some(unit) = low_unit else {
        return rest.fail("minutes or hours");
    };
    let mut total = minutes(low.0, unit);
    let (rest, more) = opt((opt(word("and")), number, time_unit)).parse(rest)?;
    if let Some((_, number, unit)) = more {
        total = total.saturating_add(minutes(number.0, unit));
    }
    Ok((rest, (total, total)))
}

/// Minutes, hours, days or weeks.
pub fn time_unit(input: Tokens<'_>) -> Read<'_, i64> {
    match input.first().and_then(|t| unit_of(&t.text)) {
        Some(UnitWord::Time(each)) => Ok((input.take_from(1), each)),
        _ => input.fail("minutes or hours"),
    }
}

/// So many of a unit, in whole minutes.
#[must_use]
pub fn minutes(number: Number, each: i64) -> u32 {
    u32::try_from(number.times(each)).unwrap_or(u32::MAX)
}

/// A year: any whole number here; the caller judges it.
pub fn year(input: Tokens<'_>) -> Read<'_, (i64, Span)> {
    let (rest, (number, at)) = number(input)?;
    match number.as_whole() {
        Some(year) => Ok((rest, (year, at))),
        None => input.fail("a year"),
    }
}

#[cfg(test)]
mod tests {
    use super::{in_unit, quantity, times, to_ticks, whole};
    use crate::input::{Tokens, Trail};
    use crate::model::Unit;
    use crate::span::FileId;
    use crate::token::tokens;
    use crate::vocab::Vocab;

    /// What a reader makes of some words.
    macro_rules! read {
        ($parser:ident, $text:expr) => {{
            let (all, vocab, trail) = (
                tokens(FileId(0), $text, 0, $text.len()),
                Vocab::default(),
                Trail::default(),
            );
            $parser(Tokens::new(&all, &vocab, &trail))
                .ok()
                .map(|(_, found)| found)
        }};
    }

    fn ticks(text: &str) -> Option<i32> {
        let found = read!(quantity, text)?;
        match found.unit {
            Some(super::UnitWord::Measure(unit)) => to_ticks(found.number, unit),
            _ => None,
        }
    }

    #[test]
    fn lengths_are_exact_in_both_systems() {
        assert_eq!(ticks("1 mm"), Some(40_000));
        assert_eq!(ticks("1/64 in"), Some(15_875));
        assert_eq!(ticks("1 1/2 inches"), Some(1_524_000));
        assert_eq!(ticks("1½ in"), Some(1_524_000));
        assert_eq!(ticks("2.5 cm"), ticks("25 mm"));
    }

    #[test]
    fn a_share_is_in_hundredths_of_one_per_cent() {
        assert_eq!(ticks("12 %"), Some(1_200));
        assert_eq!(ticks("12 per cent"), Some(1_200));
    }

    #[test]
    fn a_length_too_long_to_be_kept_is_none() {
        assert_eq!(ticks("53 m"), Some(2_120_000_000));
        assert_eq!(ticks("54 m"), None);
    }

    #[test]
    fn ticks_are_said_with_at_most_three_places() {
        assert_eq!(in_unit(2_032_000, Unit::Mm), "50.8");
        assert_eq!(in_unit(40_000, Unit::Mm), "1");
        assert_eq!(in_unit(65_535, Unit::Mm), "1.638");
    }

    #[test]
    fn counts_are_figures_or_words_up_to_twelve() {
        assert_eq!(read!(whole, "7"), Some(7));
        assert_eq!(read!(whole, "twelve"), Some(12));
        assert_eq!(read!(whole, "thirteen"), None);
        assert_eq!(read!(whole, "1.5"), None);
    }

    #[test]
    fn times_are_minutes_from_least_to_most() {
        assert_eq!(read!(times, "25 minutes"), Some((25, 25)));
        assert_eq!(read!(times, "1 hour 30 minutes"), Some((90, 90)));
        assert_eq!(read!(times, "2 to 4 hours"), Some((120, 240)));
        assert_eq!(read!(times, "30 minutes to 2 hours"), Some((30, 120)));
        assert_eq!(read!(times, "1.5 days"), Some((2_160, 2_160)));
        assert_eq!(read!(times, "2 mm"), None);
    }
}
