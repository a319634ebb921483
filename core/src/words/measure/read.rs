//! Reads a measure: "3.5 mm", "1 3/32 in", "12 %", "3 weeks".

use super::{Reading, Unit};

impl Reading {
    /// Reads a measure as it is written: a whole number, a decimal or a fraction,
    /// and its unit. `None` for anything else, and for what is no whole number of
    /// ticks.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let text = text.trim();
        let from = text.rfind(|sign: char| sign.is_ascii_digit())?;
        let (figure, unit) = text.split_at_checked(from.checked_add(1)?)?;
        let unit = unit_called(unit.trim())?;
        let (negative, figure) = match figure.strip_prefix('-') {
            Some(figure) => (true, figure),
            None => (false, figure),
        };
        let (above, below) = number(figure)?;
        let ticks = above.checked_mul(i64::from(unit.ticks()))?;
        if ticks.checked_rem(below)? != 0 {
            return None;
        }
        let ticks = i32::try_from(ticks.checked_div(below)?).ok()?;
        let ticks = if negative {
            ticks.checked_neg()?
        } else {
            ticks
        };
        Some(Self { ticks, unit })
    }
}

fn unit_called(name: &str) -> Option<Unit> {
    Some(match name {
        "mm" => Unit::Mm,
        "cm" => Unit::Cm,
        "m" => Unit::M,
        "in" | "inch" | "inches" => Unit::In,
        "ft" | "foot" | "feet" => Unit::Ft,
        "%" | "per cent" => Unit::PerCent,
        "day" | "days" => Unit::Day,
        "week" | "weeks" => Unit::Week,
        "month" | "months" => Unit::Month,
        "year" | "years" => Unit::Year,
        "kg" => Unit::Kg,
        "lb" | "lbs" => Unit::Lb,
        _ => return None,
    })
}

/// A number as a fraction: "3", "3.5", "3/32", "1 3/32".
fn number(text: &str) -> Option<(i64, i64)> {
    if let Some((whole, part)) = text.split_once('.') {
        let below = 10_i64.checked_pow(u32::try_from(part.len()).ok()?)?;
        let above = figures(whole)?.checked_mul(below)?;
        return Some((above.checked_add(figures(part)?)?, below));
    }
    let Some((above, below)) = text.split_once('/') else {
        return Some((figures(text)?, 1));
    };
    let below = figures(below)?;
    let (whole, above) = match above.split_once(' ') {
        Some((whole, above)) => (figures(whole)?, figures(above)?),
        None => (0, figures(above)?),
    };
    Some((whole.checked_mul(below)?.checked_add(above)?, below))
}

/// A number in figures, with nothing else.
fn figures(text: &str) -> Option<i64> {
    let only = text.bytes().all(|sign| sign.is_ascii_digit());
    if only { text.parse().ok() } else { None }
}

#[cfg(test)]
mod tests {
    use core::fmt::Write;

    use super::*;

    fn ticks(text: &str) -> Option<i32> {
        Reading::read(text).map(|reading| reading.ticks)
    }

    #[test]
    fn measures_are_read_as_they_are_written() {
        assert_eq!(ticks("3 mm"), Some(120_000));
        assert_eq!(ticks(" 3.5mm "), Some(140_000));
        assert_eq!(ticks("1 3/32 in"), Some(70 * 15_875));
        assert_eq!(ticks("3/4 inches"), Some(48 * 15_875));
        assert_eq!(ticks("2 ft"), Some(1_536 * 15_875));
        assert_eq!(ticks("12.5 %"), Some(1_250));
        assert_eq!(ticks("-0.1 mm"), Some(-4_000));
        assert_eq!(ticks("6 weeks"), Some(672));
        assert_eq!(ticks("1 year"), Some(5_844));
        assert_eq!(ticks("12.5 kg"), Some(125_000));
        assert_eq!(ticks("10 lb"), Some(45_360));
    }

    #[test]
    fn anything_else_is_no_measure() {
        for text in [
            "",
            "mm",
            "3",
            "3 miles",
            "3..5 mm",
            "1/0 in",
            "+3 mm",
            "3 1/3 in",
            "--3 mm",
            "99999999999999999999 mm",
            "0.000000000000000000001 mm",
            "1 000 mm",
            "é3 mm",
            "3 mm é",
        ] {
            assert_eq!(Reading::read(text), None, "{text}");
        }
    }

    #[test]
    fn what_was_written_is_read_back() {
        for unit in [
            Unit::Mm,
            Unit::Cm,
            Unit::M,
            Unit::In,
            Unit::Ft,
            Unit::PerCent,
            Unit::Day,
            Unit::Week,
            Unit::Month,
            Unit::Year,
            Unit::Kg,
            Unit::Lb,
        ] {
            for ticks in [
                0,
                1,
                -1,
                4_000,
                15_875,
                35_000,
                1_016,
                12_192_000,
                i32::MAX,
                -i32::MAX,
            ] {
                let mut text: heapless::String<40> = heapless::String::new();
                assert!(write!(text, "{}", Reading { ticks, unit }).is_ok());
                let read = Reading::read(&text).map(|reading| reading.ticks);
                assert_eq!(read, Some(ticks), "{text}");
            }
        }
    }
}
