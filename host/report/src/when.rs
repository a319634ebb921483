//! Days as they stand on the page.

use jiff::civil::Date;
use tellmark_job::record::When;

/// "25 November 2026".
pub(super) fn day(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}

/// "25 Nov 2026".
fn short(date: Date) -> String {
    date.strftime("%-d %b %Y").to_string()
}

/// The same for a line of the record; empty if it does not say.
pub(super) fn noted(when: When) -> String {
    date(when).map_or_else(String::new, short)
}

/// The day of a line of the record.
pub(super) fn date(when: When) -> Option<Date> {
    when.date()
}

/// "24 Nov 2026", or "24 Nov 2026 to 2 Dec 2026"; empty for no days.
pub(super) fn span(days: impl Iterator<Item = Date> + Clone) -> String {
    match (days.clone().min(), days.max()) {
        (Some(first), Some(last)) if first == last => short(first),
        (Some(first), Some(last)) => format!("{} to {}", short(first), short(last)),
        _ => String::new(),
    }
}
