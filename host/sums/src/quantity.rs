//! Quantities as people write them: "3/4 in", "18 mm", "70 F", "5 ft 3 1/2 in".

use crate::trouble::Trouble;
use crate::unit::{self, Dimension, Found, Unit};
use tellmark_core::handbook::{GRAVITY, shellac};

/// How air is written.
const AIR: &str = "\"20 C 60 %\" or \"68 F 60 %\"";
/// More than any quantity on a bench comes to, in its base unit.
const HUGE: f64 = 1e7;

/// A quantity of this dimension, in its base unit.
///
/// # Errors
///
/// What is no such quantity, is less than nothing or more than there is; only a temperature
/// may be below nought.
pub fn read(what: &'static str, text: &str, wanted: Dimension) -> Result<f32, Trouble> {
    let found = pairs(what, text, wanted.written())?;
    if let Some((_, other)) = found.iter().find(|(_, unit)| unit.dimension != wanted) {
        return Err(other_than(what, text, *other, wanted));
    }
    sum(what, text, wanted, &found)
}

/// A force: in newtons, or as the weight of a mass.
///
/// # Errors
///
/// As [`read`].
pub fn force(what: &'static str, text: &str) -> Result<f32, Trouble> {
    let found = pairs(what, text, Dimension::Force.written())?;
    if found
        .iter()
        .all(|(_, unit)| unit.dimension == Dimension::Mass)
    {
        return Ok(sum(what, text, Dimension::Force, &found)? * GRAVITY);
    }
    read(what, text, Dimension::Force)
}

/// A shellac cut in pounds: "2 lb", "240 g/l".
///
/// # Errors
///
/// As [`read`], and whatever is in other units.
pub fn cut(text: &str) -> Result<f32, Trouble> {
    let not_a_cut = || Trouble::NotACut {
        text: text.to_owned(),
    };
    let what = "the cut";
    let lower = text.trim().to_lowercase();
    let bare = lower.strip_suffix("cut").unwrap_or(&lower);
    let found = match pairs(what, bare, Dimension::Cut.written()) {
        Err(Trouble::UnknownUnit { .. } | Trouble::NotOneSize { .. }) => return Err(not_a_cut()),
        other => other?,
    };
    let [(number, unit)] = found[..] else {
        return Err(not_a_cut());
    };
    let value = sum(what, text, Dimension::Cut, &[(number, unit)])?;
    match unit.dimension {
        Dimension::Cut => Ok(shellac::cut_of(value)?),
        _ if unit.is_pound() => Ok(narrow(number)),
        _ => Err(not_a_cut()),
    }
}

/// Air: its temperature in °C and its relative humidity in %, as "20 C 60 %".
///
/// # Errors
///
/// As [`read`], and where one of the two is missing.
pub fn climate(text: &str) -> Result<(f32, f32), Trouble> {
    let what = "the air";
    let found = pairs(what, text, AIR)?;
    let of = |dimension| {
        let mut those = found.iter().filter(|(_, unit)| unit.dimension == dimension);
        match (those.next(), those.next()) {
            (Some(one), None) => Some([*one]),
            _ => None,
        }
    };
    let (Some(temperature), Some(humidity), 2) = (
        of(Dimension::Temperature),
        of(Dimension::Share),
        found.len(),
    ) else {
        return Err(Trouble::Wrong(format!(
            "\"{text}\" is no air: it takes a temperature and a relative humidity. Write them like \
             {AIR}."
        )));
    };
    Ok((
        sum(what, text, Dimension::Temperature, &temperature)?,
        sum(what, text, Dimension::Share, &humidity)?,
    ))
}

/// Two quantities in either order, as "6 mg/m3 2 h".
///
/// # Errors
///
/// As [`read`], and where one of the two is missing.
pub fn both(
    what: &'static str,
    text: &str,
    one: Dimension,
    other: Dimension,
) -> Result<(f32, f32), Trouble> {
    let found = pairs(what, text, one.written())?;
    let of = |dimension| found.iter().find(|(_, unit)| unit.dimension == dimension);
    let (Some(first), Some(second), 2) = (of(one), of(other), found.len()) else {
        return Err(Trouble::Wrong(format!(
            "\"{text}\" for {what} takes {} and {}, like {} and {}.",
            one.name(),
            other.name(),
            one.written(),
            other.written()
        )));
    };
    Ok((
        sum(what, text, one, &[*first])?,
        sum(what, text, other, &[*second])?,
    ))
}

/// A bare number: "80", "1.8", "1 1/2".
///
/// # Errors
///
/// What is no number, has a unit, is less than nothing or more than there is.
pub fn bare(what: &'static str, text: &str) -> Result<f32, Trouble> {
    let no_number = || Trouble::NoNumber {
        what,
        text: text.trim().to_owned(),
        written: "\"80\" or \"1.5\", without a unit",
    };
    let (number, rest) = number(text.trim())?.ok_or_else(no_number)?;
    if !rest.trim().is_empty() {
        return Err(no_number());
    }
    bounded(what, text, number, false)
}

fn other_than(what: &'static str, text: &str, other: Unit, wanted: Dimension) -> Trouble {
    Trouble::Other {
        what,
        text: text.trim().to_owned(),
        found: other.dimension,
        wanted: wanted.name(),
        written: wanted.written(),
    }
}

/// Numbers with their units, one after the other.
fn pairs(
    what: &'static str,
    text: &str,
    written: &'static str,
) -> Result<Vec<(f64, Unit)>, Trouble> {
    let whole = text.trim().to_owned();
    let lower = whole.to_lowercase();
    let mut rest = lower.as_str();
    let mut found = Vec::new();
    while !rest.is_empty() {
        let Some((number, after)) = number(rest)? else {
            return Err(Trouble::NoNumber {
                what,
                text: whole,
                written,
            });
        };
        // "2-lb cut".
        let after = after.trim_start_matches(['-', ' ']);
        match unit::at_beginning(after) {
            Some(Found::Unit(unit, length)) => {
                found.push((number, unit));
                rest = after[length..].trim_start_matches([' ', ',', ';', '/']);
            }
            Some(Found::NotOneSize(unit, instead)) => {
                return Err(Trouble::NotOneSize { unit, instead });
            }
            None => {
                let is_end = |c: char| c.is_whitespace() || matches!(c, ',' | ';');
                let unit: String = after.chars().take_while(|c| !is_end(*c)).collect();
                return Err(match unit.is_empty() {
                    true => Trouble::NoUnit {
                        what,
                        text: whole,
                        written,
                    },
                    false => Trouble::UnknownUnit {
                        what,
                        text: whole,
                        unit,
                        written,
                    },
                });
            }
        }
    }
    match found.is_empty() {
        true => Err(Trouble::NoNumber {
            what,
            text: whole,
            written,
        }),
        false => Ok(found),
    }
}

/// Parts of one quantity put together: "5 ft 3 in". Each is smaller than the one before, and of
/// the same system.
fn sum(
    what: &'static str,
    text: &str,
    wanted: Dimension,
    parts: &[(f64, Unit)],
) -> Result<f32, Trouble> {
    let mixed = || Trouble::Mixed {
        what,
        text: text.trim().to_owned(),
        written: wanted.written(),
    };
    if wanted == Dimension::Temperature && parts.len() > 1 {
        return Err(mixed());
    }
    for pair in parts.windows(2) {
        let [(_, larger), (number, smaller)] = pair else {
            continue;
        };
        let step = larger.in_base(1.0) / smaller.in_base(1.0);
        // Feet and inches, pounds and ounces; metres and centimetres, hours and minutes. Between
        // the systems no step is whole.
        let is_whole = step > 1.5 && (step - step.round()).abs() < 1e-9;
        if !is_whole || *number < 0.0 || *number >= step {
            return Err(mixed());
        }
    }
    let all = parts
        .iter()
        .map(|(number, unit)| unit.in_base(*number))
        .sum();
    bounded(what, text, all, wanted == Dimension::Temperature)
}

/// The value, if it is one that can be.
fn bounded(
    what: &'static str,
    text: &str,
    value: f64,
    may_be_negative: bool,
) -> Result<f32, Trouble> {
    let text = text.trim();
    if value < 0.0 && !may_be_negative {
        return Err(Trouble::Negative {
            what,
            text: text.to_owned(),
        });
    }
    if !value.is_finite() || value.abs() > HUGE {
        let shown: String = text.chars().take(40).collect();
        return Err(Trouble::Wrong(format!(
            "\"{shown}\" for {what} is more than anything on a bench. Look at the number and its \
             unit again."
        )));
    }
    Ok(narrow(value))
}

/// As the sums take it.
#[allow(clippy::cast_possible_truncation, reason = "checked against HUGE")]
fn narrow(value: f64) -> f32 {
    value as f32
}

/// The number that a text begins with, and what follows: "3", "1.8", "3/4", "3 1/2", "3-1/2",
/// "½", "-5".
fn number(text: &str) -> Result<Option<(f64, &str)>, Trouble> {
    let text = text.trim_start();
    let (sign, text) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (-1.0, rest),
        None => (1.0, text),
    };
    if let Some((value, rest)) = fraction(text) {
        return Ok(Some((sign * value, rest)));
    }
    let Some((whole, rest)) = decimal(text) else {
        return Ok(None);
    };
    let is_comma = rest
        .strip_prefix(',')
        .is_some_and(|after| after.starts_with(|c: char| c.is_ascii_digit()));
    if is_comma {
        return Err(Trouble::Comma {
            text: text.trim().to_owned(),
        });
    }
    // "3 1/2" and "3-1/2", but not "3 1/2" after a decimal point.
    let is_plain = !text[..text.len() - rest.len()].contains('.');
    let after = rest.trim_start_matches(' ');
    let after = after.strip_prefix('-').unwrap_or(after);
    match fraction(after) {
        Some((part, end)) if is_plain => Ok(Some((sign * (whole + part), end))),
        _ => Ok(Some((sign * whole, rest))),
    }
}

/// Digits, with a point or without.
fn decimal(text: &str) -> Option<(f64, &str)> {
    let is_of_it = |c: char| c.is_ascii_digit() || c == '.';
    let end = text.find(|c| !is_of_it(c)).unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    let value = digits.parse().ok()?;
    Some((value, rest))
}

/// "3/4", "¾".
fn fraction(text: &str) -> Option<(f64, &str)> {
    const SIGNS: [(char, f64); 7] = [
        ('¼', 0.25),
        ('½', 0.5),
        ('¾', 0.75),
        ('⅛', 0.125),
        ('⅜', 0.375),
        ('⅝', 0.625),
        ('⅞', 0.875),
    ];
    for (sign, value) in SIGNS {
        if let Some(rest) = text.strip_prefix(sign) {
            return Some((value, rest));
        }
    }
    let (over, rest) = whole(text)?;
    let (under, rest) = whole(rest.strip_prefix('/')?)?;
    (under > 0.0).then_some((over / under, rest))
}

/// Digits alone.
fn whole(text: &str) -> Option<(f64, &str)> {
    let end = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    let value = digits.parse().ok()?;
    Some((value, rest))
}
