//! How chances and lengths are shared out among marks.

use tellmark_language::model::Ticks;

/// The chance that something begins, where `higher` is the chance that something implies
/// it, so that it is so with chance `all`.
pub(super) fn beyond(all: f64, higher: f64) -> f64 {
    if higher < 1.0 {
        ((all - higher) / (1.0 - higher)).max(0.0)
    } else {
        0.0
    }
}

/// A part of a length; all of it, if it has none.
pub(super) fn part(part: Ticks, whole: Ticks) -> f64 {
    if part < whole {
        f64::from(part) / f64::from(whole)
    } else {
        1.0
    }
}
