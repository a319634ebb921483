//! How likely something must be before it is called possible, probable or sure, in
//! thousandths. The rule language, packs and every screen go by these marks.

/// "possibly": 15 in 100 or more.
pub const POSSIBLY: u16 = 150;
/// "probably": 60 in 100 or more.
pub const PROBABLY: u16 = 600;
/// "surely" of a rule; said as "almost certainly": 95 in 100 or more.
pub const SURELY: u16 = 950;
/// "probably not": 5 in 100 or more; below that, "almost certainly not".
pub const PROBABLY_NOT: u16 = 50;

/// A mark in hundredths, as it is said.
#[must_use]
#[allow(clippy::cast_possible_truncation)]
pub const fn percent(mark: u16) -> u8 {
    (mark / 10) as u8
}
