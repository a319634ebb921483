//! What a sentence is called that has no name of its own: by its own words.

/// An order of work: "treat for worm before you revive the polish".
#[must_use]
pub fn order(before: &str, after: &str) -> String {
    format!("{before} before you {after}")
}

/// Jobs that exclude each other: "wax the runner and fit a new runner together".
#[must_use]
pub fn exclusion(one: &str, other: &str) -> String {
    format!("{one} and {other} together")
}

/// The round of "a chest of drawers": "looking over a chest of drawers".
#[must_use]
pub fn round(a_piece: &str) -> String {
    format!("looking over {a_piece}")
}

/// An example: "example a waxed drawer does not stick".
#[must_use]
pub fn example(title: &str) -> String {
    format!("example {title}")
}
