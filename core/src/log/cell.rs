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

/// Makes a cell invalid before its sector is erased, so that a sector half
/// erased is never taken for a good one.
pub(super) fn void<F: Flash>(flash: &mut F, at: usize) -> Result<(), F::Error> {
    flash.program(at, &[0; CELL])
}
