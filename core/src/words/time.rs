//! Working time.

use core::fmt::{self, Write};

/// Time: "45 min", "2 h", "2 h 30".
///
/// # Errors
/// Those of `out`.
pub fn time(out: &mut dyn Write, minutes: u16) -> fmt::Result {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => write!(out, "{minutes} min"),
        (hours, 0) => write!(out, "{hours} h"),
        (hours, minutes) => write!(out, "{hours} h {minutes:02}"),
    }
}
