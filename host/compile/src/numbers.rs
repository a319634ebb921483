//! Numbers as a pack has them: bytes, halves of a word, words. What does not fit is
//! an error and never another number.

use tellmark_core::pack::NONE;

/// A number that is too large for its place in a pack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Overflow;

/// A number that is to go into a pack.
pub trait Number: TryInto<u8> + TryInto<u16> + TryInto<u32> + Copy {
    /// As a byte.
    ///
    /// # Errors
    /// [`Overflow`] over 255.
    fn byte(self) -> Result<u8, Overflow> {
        self.try_into().map_err(|_| Overflow)
    }

    /// As half a word, for an amount.
    ///
    /// # Errors
    /// [`Overflow`] over 65 535.
    fn amount(self) -> Result<u16, Overflow> {
        self.try_into().map_err(|_| Overflow)
    }

    /// As half a word, for a number that may also be "none", which is 65 535.
    ///
    /// # Errors
    /// [`Overflow`] over 65 534.
    fn half(self) -> Result<u16, Overflow> {
        let half = self.try_into().map_err(|_| Overflow)?;
        if half == NONE {
            Err(Overflow)
        } else {
            Ok(half)
        }
    }

    /// As a word.
    ///
    /// # Errors
    /// [`Overflow`] over four thousand million.
    fn word(self) -> Result<u32, Overflow> {
        self.try_into().map_err(|_| Overflow)
    }
}

impl Number for usize {}
impl Number for u32 {}
impl Number for i32 {}

/// The numbers of a list's entries. The language's own lists are never longer than
/// these numbers reach.
pub fn numbers() -> impl Iterator<Item = u16> {
    0..=u16::MAX
}

#[cfg(test)]
mod tests {
    use super::{Number, Overflow};

    #[test]
    fn what_does_not_fit_is_an_error() {
        assert_eq!(255_usize.byte(), Ok(255));
        assert_eq!(256_usize.byte(), Err(Overflow));
        assert_eq!(65_534_usize.half(), Ok(65_534));
        assert_eq!(65_535_u32.half(), Err(Overflow), "it means none");
        assert_eq!(65_535_u32.amount(), Ok(65_535));
        assert_eq!(65_536_u32.amount(), Err(Overflow));
        assert_eq!((-1_i32).half(), Err(Overflow));
    }
}
