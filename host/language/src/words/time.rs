//! Times in words.

use crate::model::{Minutes, Takes};

/// "45 min", "1 h 30", "3 h", "2 days".
///
/// Days only for whole days from two up, as nobody works one at a bench.
#[must_use]
pub fn minutes(minutes: Minutes) -> String {
    const DAY: Minutes = 24 * 60;
    let (hours, rest) = (minutes / 60, minutes % 60);
    if minutes >= 2 * DAY && minutes.is_multiple_of(DAY) {
        format!("{} days", minutes / DAY)
    } else if hours == 0 {
        format!("{rest} min")
    } else if rest == 0 {
        format!("{hours} h")
    } else {
        format!("{hours} h {rest:02}")
    }
}

/// "12 to 24 h", "45 min to 1 h 30", or one time when both are the same.
#[must_use]
pub fn minutes_range(least: Minutes, most: Minutes) -> String {
    if least == most {
        return minutes(least);
    }
    let (from, to) = (minutes(least), minutes(most));
    // The unit is said once where both have the same and nothing follows it.
    match (from.rsplit_once(' '), to.rsplit_once(' ')) {
        (Some((figure, one)), Some((_, other)))
            if one == other && one.chars().all(char::is_alphabetic) =>
        {
            format!("{figure} to {to}")
        }
        _ => format!("{from} to {to}"),
    }
}

/// "2 to 4 h, mostly 3 h".
#[must_use]
pub fn takes(takes: &Takes) -> String {
    let range = minutes_range(takes.least, takes.most);
    if takes.least == takes.most {
        range
    } else {
        format!("{range}, mostly {}", minutes(takes.mostly))
    }
}

/// "6 h 15", "45 min": hours to the quarter.
#[must_use]
pub fn hours(hours: f64) -> String {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let quarters = (hours * 4.0).round().max(0.0) as u32;
    match (quarters / 4, quarters % 4) {
        (0, 0) => "0".to_owned(),
        // Days are of waiting, and nobody works one at a bench.
        (whole, 0) => format!("{whole} h"),
        _ => minutes(quarters * 15),
    }
}
