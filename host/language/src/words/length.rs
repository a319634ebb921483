//! Lengths, weights and shares in words, metric and inch side by side.

use crate::model::{Mark, Ticks, Unit};

const TICKS_PER_MM: i64 = 40_000;
const TICKS_PER_64TH: i64 = 15_875;

/// "2 mm (about 5/64 in)", "3/32 in (about 2.4 mm)", "12.5 %".
///
/// The house's unit first. "about" stands only where the figure in brackets is rounded:
/// 25.4 mm is "25.4 mm (1 in)", and 1/8 in "3.2 mm (1/8 in)".
#[must_use]
pub fn quantity(ticks: Ticks, unit: Unit) -> String {
    let short = match unit {
        Unit::Mm if is_rounded_by_inches(ticks) => {
            let tenths = round_div(i64::from(ticks), TICKS_PER_MM / 10);
            format!("{} mm", decimal(tenths, 10))
        }
        _ => quantity_short(ticks, unit),
    };
    match unit {
        Unit::Percent | Unit::Day | Unit::Week | Unit::Month | Unit::Year => short,
        _ if ticks == 0 => short,
        Unit::Mm | Unit::Cm | Unit::M => format!("{short} ({})", in_inches(ticks)),
        Unit::In | Unit::Ft => format!("{short} ({})", in_mm(ticks)),
        Unit::Kg => format!("{short} ({})", in_other(ticks, Unit::Lb, "lb")),
        Unit::Lb => format!("{short} ({})", in_other(ticks, Unit::Kg, "kg")),
    }
}

/// Whether it was measured in inches, whole 64ths, and is no whole tenth of a millimetre:
/// then the inches are exact, and "3.2 mm (1/8 in)" says more than 3.175 mm.
fn is_rounded_by_inches(ticks: Ticks) -> bool {
    let ticks = i64::from(ticks);
    ticks % TICKS_PER_64TH == 0 && ticks % (TICKS_PER_MM / 10) != 0
}

/// "2 mm": in the house's unit only, exact, and read the same by the language.
#[must_use]
pub fn quantity_short(ticks: Ticks, unit: Unit) -> String {
    let ticks = i64::from(ticks);
    match unit {
        Unit::Mm => format!("{} mm", decimal(ticks, TICKS_PER_MM)),
        Unit::Cm => format!("{} cm", decimal(ticks, TICKS_PER_MM * 10)),
        Unit::M => format!("{} m", decimal(ticks, TICKS_PER_MM * 1000)),
        Unit::Percent => format!("{} %", decimal(ticks, 100)),
        Unit::Day | Unit::Week | Unit::Month | Unit::Year => time(ticks, unit),
        Unit::Lb if ticks * 1000 % Unit::Lb.ticks() == 0 => {
            format!("{} lb", decimal(ticks, Unit::Lb.ticks()))
        }
        Unit::Kg | Unit::Lb => format!("{} kg", decimal(ticks, Unit::Kg.ticks())),
        Unit::In => inches(ticks),
        Unit::Ft => {
            let foot = TICKS_PER_64TH * 64 * 12;
            if ticks % foot == 0 {
                format!("{} ft", ticks / foot)
            } else {
                inches(ticks)
            }
        }
    }
}

/// "about 26.5 lb": a weight in the other unit, to the nearest tenth.
fn in_other(ticks: Ticks, unit: Unit, name: &str) -> String {
    let (ticks, each) = (i64::from(ticks), unit.ticks());
    let tenths = round_div(ticks * 10, each);
    let about = if tenths * each == ticks * 10 {
        ""
    } else {
        "about "
    };
    format!("{about}{} {name}", decimal(tenths, 10))
}

/// "3 weeks", "1.5 years": in the house's unit or else the largest of which there is a whole
/// number, else in the house's if it has three places at most there, else in days.
fn time(ticks: i64, unit: Unit) -> String {
    let is_short = |unit: &Unit| ticks * 1000 % unit.ticks() == 0;
    let is_whole = |unit: &Unit| ticks % unit.ticks() == 0;
    let mut whole = [unit, Unit::Year, Unit::Month, Unit::Week].into_iter();
    let unit = whole
        .find(is_whole)
        .or(Some(unit).filter(is_short))
        .unwrap_or(Unit::Day);
    let each = unit.ticks();
    let name = match unit {
        Unit::Week => "week",
        Unit::Month => "month",
        Unit::Year => "year",
        _ => "day",
    };
    let plural = if ticks == each { "" } else { "s" };
    format!("{} {name}{plural}", decimal(ticks, each))
}

/// An exact decimal, as short as it can be.
fn decimal(ticks: i64, per_unit: i64) -> String {
    let sign = if ticks < 0 { "-" } else { "" };
    let ticks = ticks.unsigned_abs();
    let per_unit = per_unit.unsigned_abs();
    let whole = ticks / per_unit;
    let mut rest = ticks % per_unit;
    let mut text = format!("{sign}{whole}");
    if rest != 0 {
        text.push('.');
    }
    // Every unit here is 2s and 5s times a tick, so this ends.
    while rest != 0 {
        rest *= 10;
        text.push_str(&(rest / per_unit).to_string());
        rest %= per_unit;
    }
    text
}

/// Inches as a fraction when they are whole 64ths, else in thousandths or, when
/// even those do not fit, exactly in mm.
fn inches(ticks: i64) -> String {
    const TICKS_PER_THOU: i64 = 1_016;
    if ticks % TICKS_PER_64TH == 0 {
        format!("{} in", fraction(ticks / TICKS_PER_64TH))
    } else if ticks % TICKS_PER_THOU == 0 {
        let thou = ticks / TICKS_PER_THOU;
        format!("{} in", decimal(thou, 1000))
    } else {
        format!("{} mm", decimal(ticks, TICKS_PER_MM))
    }
}

/// "1 3/32" from a number of 64ths.
fn fraction(sixty_fourths: i64) -> String {
    let sign = if sixty_fourths < 0 { "-" } else { "" };
    let all = sixty_fourths.unsigned_abs();
    let (whole, mut over, mut under) = (all / 64, all % 64, 64);
    while over != 0 && over.is_multiple_of(2) {
        over /= 2;
        under /= 2;
    }
    match (whole, over) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, over) => format!("{sign}{over}/{under}"),
        (whole, over) => format!("{sign}{whole} {over}/{under}"),
    }
}

/// "about 5/64 in", for the brackets.
fn in_inches(ticks: Ticks) -> String {
    let ticks = i64::from(ticks);
    let sixty_fourths = round_div(ticks, TICKS_PER_64TH);
    if sixty_fourths == 0 {
        return "under 1/64 in".to_owned();
    }
    let about = if sixty_fourths * TICKS_PER_64TH == ticks {
        ""
    } else {
        "about "
    };
    format!("{about}{} in", fraction(sixty_fourths))
}

/// "about 2.4 mm", for the brackets.
fn in_mm(ticks: Ticks) -> String {
    let ticks = i64::from(ticks);
    let tenth = TICKS_PER_MM / 10;
    let tenths = round_div(ticks, tenth);
    if tenths == 0 {
        return "under 0.1 mm".to_owned();
    }
    let about = if tenths * tenth == ticks {
        ""
    } else {
        "about "
    };
    format!("{about}{} mm", decimal(tenths, 10))
}

fn round_div(n: i64, by: i64) -> i64 {
    (2 * n + by * n.signum()) / (2 * by)
}

/// "more than 2 mm (about 5/64 in)" for a mark that holds (`yes`) or does not.
///
/// A mark is kept as the smallest tick for which it holds, so "more than 2 mm"
/// is at least 2 mm and one tick; the rounder of the two ways to say it is
/// what the house wrote. `least` is the smallest reading the measure can give.
#[must_use]
pub fn comparison(mark: Mark, yes: bool, least: Ticks, unit: Unit) -> String {
    let from = mark.at_least;
    let open_below = from <= least;
    match (mark.at_most, yes) {
        (None, true) => at_least(from, unit),
        (None, false) => less_than(from, unit),
        (Some(to), true) if open_below => at_most(to, unit),
        (Some(to), false) if open_below => at_least(to.saturating_add(1), unit),
        (Some(to), yes) => {
            let not = if yes { "" } else { "not " };
            if from == to {
                format!("{not}exactly {}", quantity(from, unit))
            } else {
                format!(
                    "{not}between {} and {}",
                    quantity(from, unit),
                    quantity(to, unit)
                )
            }
        }
    }
}

fn at_least(from: Ticks, unit: Unit) -> String {
    let below = from.saturating_sub(1);
    if roughness(below, unit) < roughness(from, unit) {
        format!("more than {}", quantity(below, unit))
    } else {
        format!("at least {}", quantity(from, unit))
    }
}

fn less_than(from: Ticks, unit: Unit) -> String {
    let below = from.saturating_sub(1);
    if roughness(below, unit) < roughness(from, unit) {
        format!("at most {}", quantity(below, unit))
    } else {
        format!("less than {}", quantity(from, unit))
    }
}

fn at_most(to: Ticks, unit: Unit) -> String {
    let above = to.saturating_add(1);
    if roughness(above, unit) < roughness(to, unit) {
        format!("less than {}", quantity(above, unit))
    } else {
        format!("at most {}", quantity(to, unit))
    }
}

/// How many characters it takes to write it, in mm or in inches, whichever is
/// shorter: nobody writes 2.000025 mm.
fn roughness(ticks: Ticks, unit: Unit) -> usize {
    let ticks = i64::from(ticks);
    match unit {
        Unit::Percent => decimal(ticks, 100).len(),
        Unit::Day | Unit::Week | Unit::Month | Unit::Year => time(ticks, unit).len(),
        Unit::Kg | Unit::Lb => decimal(ticks, Unit::Kg.ticks()).len(),
        _ => {
            let metric = decimal(ticks, TICKS_PER_MM).len();
            if ticks % TICKS_PER_64TH == 0 {
                metric.min(fraction(ticks / TICKS_PER_64TH).len())
            } else {
                metric
            }
        }
    }
}
