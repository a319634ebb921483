//! What the log and the store of packs need of a flash chip.

/// Bytes that are erased together.
pub const SECTOR: usize = 4096;
/// Bytes that can be programmed together; no write crosses the end of one.
pub const PAGE: usize = 256;

/// A stretch of NOR flash that can be read in place.
///
/// Offsets count from the beginning of the stretch, which lies on a
/// [`SECTOR`] boundary of the chip. Whoever implements this need not guard
/// against power cuts: what was being changed when power failed may read as
/// anything between before and after.
pub trait Flash {
    /// What can go wrong with the chip.
    type Error: core::fmt::Debug;

    /// All of it, as it reads now; always as many bytes, a multiple of
    /// [`SECTOR`], on a four-byte boundary.
    fn bytes(&self) -> &[u8];

    /// Turns ones into zeros: afterwards each bit is one only if it was one
    /// before and is one in `bytes`.
    ///
    /// The bytes lie within one [`PAGE`]; a driver that can only program whole
    /// pages fills up with 0xFF on both sides.
    ///
    /// # Errors
    /// If the chip would not.
    fn program(&mut self, at: usize, bytes: &[u8]) -> Result<(), Self::Error>;

    /// Makes every byte of the [`SECTOR`] that begins at `at` 0xFF.
    ///
    /// # Errors
    /// If the chip would not.
    fn erase(&mut self, at: usize) -> Result<(), Self::Error>;
}

impl<F: Flash> Flash for &mut F {
    type Error = F::Error;

    fn bytes(&self) -> &[u8] {
        (**self).bytes()
    }

    fn program(&mut self, at: usize, bytes: &[u8]) -> Result<(), Self::Error> {
        (**self).program(at, bytes)
    }

    fn erase(&mut self, at: usize) -> Result<(), Self::Error> {
        (**self).erase(at)
    }
}

/// The bytes from `at`, if they are all there.
pub(super) fn array<const N: usize>(bytes: &[u8], at: usize) -> Option<[u8; N]> {
    bytes.get(at..at.checked_add(N)?)?.try_into().ok()
}
