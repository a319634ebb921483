//! Small fields inside 32-bit words.

/// "There is none", for an index.
pub const NONE: u16 = u16::MAX;

pub(super) fn word(words: &[u32], at: usize) -> u32 {
    words.get(at).copied().unwrap_or(0)
}

#[allow(clippy::cast_possible_truncation)]
pub(super) fn low(word: u32) -> u16 {
    word as u16
}

#[allow(clippy::cast_possible_truncation)]
pub(super) fn high(word: u32) -> u16 {
    (word >> 16) as u16
}

/// Byte 0 (lowest) to 3.
#[allow(clippy::cast_possible_truncation)]
pub(super) fn byte(word: u32, at: usize) -> u8 {
    (word >> (8 * (at % 4))) as u8
}

pub(super) fn halves(low: u16, high: u16) -> u32 {
    u32::from(low) | (u32::from(high) << 16)
}
