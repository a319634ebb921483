//! Thirty-two bytes that are valid whole or not at all, wherever power fails.
//!
//! The first 28 bytes are programmed first, then the seal, a CRC-32 over them,
//! in a second step. A seal is never all ones or all zeros. So a cell whose
//! first step was cut has no seal, one whose second step was cut has a wrong
//! one, and one that was [voided](void) has none again.

use super::flash::{Flash, array};
use crate::pack::CHECKSUM;

/// Bytes of a cell.
pub(super) const CELL: usize = 32;
/// Bytes of it that say something.
pub(super) const BODY: usize = 28;

fn seal(body: &[u8; BODY]) -> [u8; 4] {
    match CHECKSUM.checksum(body) {
        0 | u32::MAX => 1_u32,
        sum => sum,
    }
    .to_le_bytes()
}

/// Writes a cell; whether it reads back as written.
pub(super) fn write<F: Flash>(
    flash: &mut F,
    at: usize,
    body: &[u8; BODY],
) -> Result<bool, F::Error> {
    flash.program(at, body)?;
    flash.program(at.saturating_add(BODY), &seal(body))?;
    Ok(read(flash.bytes(), at).as_ref() == Some(body))
}

/// What a cell says, if it is whole.
pub(super) fn read(bytes: &[u8], at: usize) -> Option<[u8; BODY]> {
    let body = array(bytes, at)?;
    (array(bytes, at.checked_add(BODY)?)? == seal(&body)).then_some(body)
}

/// Whether nothing was ever written to a cell since its sector was erased.
pub(super) fn is_blank(bytes: &[u8], at: usize) -> bool {
    array(bytes, at) == Some([0xFF; CELL])
}

/// Makes a cell invalid before its sector is erased, so that a sector half
/// erased is never taken for a good one.
pub(super) fn void<F: Flash>(flash: &mut F, at: usize) -> Result<(), F::Error> {
    flash.program(at, &[0; CELL])
}

#[cfg(test)]
mod tests {
    use super::super::flash::SECTOR;
    use super::*;

    /// A sector of memory that loses power after so many bytes.
    struct Chip {
        bytes: [u8; SECTOR],
        left: usize,
    }

    impl Chip {
        fn erased(left: usize) -> Self {
            Self {
                bytes: [0xff; SECTOR],
                left,
            }
        }
    }

    impl Flash for Chip {
        type Error = ();

        fn bytes(&self) -> &[u8] {
            &self.bytes
        }

        fn program(&mut self, at: usize, bytes: &[u8]) -> Result<(), ()> {
            for (slot, byte) in self.bytes.iter_mut().skip(at).zip(bytes) {
                self.left = self.left.checked_sub(1).ok_or(())?;
                *slot &= byte;
            }
            Ok(())
        }

        fn erase(&mut self, _: usize) -> Result<(), ()> {
            self.bytes.fill(0xff);
            Ok(())
        }
    }

    fn body() -> [u8; BODY] {
        core::array::from_fn(|i| u8::try_from(i).unwrap_or(0))
    }

    #[test]
    fn a_cell_says_what_was_written() {
        let mut chip = Chip::erased(CELL);
        assert_eq!(write(&mut chip, 64, &body()), Ok(true));
        assert_eq!(read(chip.bytes(), 64), Some(body()));
    }

    #[test]
    fn a_cell_cut_off_at_any_byte_says_nothing() {
        for left in 0..CELL {
            let mut chip = Chip::erased(left);
            assert_eq!(write(&mut chip, 0, &body()), Err(()));
            assert_eq!(read(chip.bytes(), 0), None, "{left} bytes");
        }
    }

    #[test]
    fn a_blank_and_a_voided_cell_say_nothing() {
        let mut chip = Chip::erased(2 * CELL);
        assert_eq!(read(chip.bytes(), 0), None);
        assert_eq!(write(&mut chip, 0, &body()), Ok(true));
        assert_eq!(void(&mut chip, 0), Ok(()));
        assert_eq!(read(chip.bytes(), 0), None);
    }

    #[test]
    fn a_cell_beyond_the_end_of_the_flash_says_nothing() {
        let chip = Chip::erased(0);
        for at in [SECTOR - CELL + 1, SECTOR, usize::MAX] {
            assert_eq!(read(chip.bytes(), at), None);
        }
    }

    #[test]
    fn what_was_written_over_something_else_is_found_out() {
        let mut chip = Chip::erased(2 * CELL);
        assert_eq!(write(&mut chip, 0, &[0; BODY]), Ok(true));
        assert_eq!(write(&mut chip, 0, &body()), Ok(false));
    }
}
