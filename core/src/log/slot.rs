//! One thing noted, with its number, in sixteen bytes.

use crate::record::{self, Noted};

/// Bytes of a slot, on flash and on the link.
pub const SLOT: usize = 16;
/// Bytes of it that are programmed first; the seal follows.
pub(super) const BODY: usize = 14;

/// The first byte of what is noted, in a slot that only says how far the notes
/// were fetched.
const MARK: u8 = 0xF0;

/// The sum that seals a slot. The link's frames use another polynomial, so what
/// the one would miss the other does not.
const SUM: crc::Crc<u16> = crc::Crc::<u16>::new(&crc::CRC_16_DNP);

/// One thing noted, with its number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its number: the first ever noted is 1, and none is left out.
    pub sequence: u32,
    /// What was noted.
    pub noted: Noted,
}

impl Entry {
    /// As it is kept and sent: number, what was noted, seal; the low byte first.
    #[must_use]
    pub fn to_slot(self) -> [u8; SLOT] {
        sealed(self.sequence, self.noted.to_bytes())
    }

    /// From a slot; `None` if it is blank, was cut short, is damaged or says
    /// something else.
    #[must_use]
    pub fn from_slot(slot: [u8; SLOT]) -> Option<Self> {
        let (sequence, body) = unsealed(slot)?;
        let noted = Noted::from_bytes(body)?;
        Some(Self { sequence, noted })
    }
}

/// A slot that says that everything up to this number was fetched.
pub(super) fn mark(acknowledged: u32) -> [u8; SLOT] {
    let mut body = [0; record::BODY];
    if let Some(first) = body.first_mut() {
        *first = MARK;
    }
    sealed(acknowledged, body)
}

/// What such a slot says.
pub(super) fn marked(slot: [u8; SLOT]) -> Option<u32> {
    let (acknowledged, _) = unsealed(slot)?;
    (mark(acknowledged) == slot).then_some(acknowledged)
}

/// As a cell of the store: a seal is never all ones or all zeros.
fn seal(body: &[u8; BODY]) -> [u8; 2] {
    match SUM.checksum(body) {
        0 | u16::MAX => 1_u16,
        sum => sum,
    }
    .to_le_bytes()
}

fn sealed(sequence: u32, noted: [u8; record::BODY]) -> [u8; SLOT] {
    let [a, b, c, d] = sequence.to_le_bytes();
    let [e, f, g, h, i, j, k, l, m, n] = noted;
    let body = [a, b, c, d, e, f, g, h, i, j, k, l, m, n];
    let [o, p] = seal(&body);
    [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p]
}

fn unsealed(slot: [u8; SLOT]) -> Option<(u32, [u8; record::BODY])> {
    let [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p] = slot;
    let body = [a, b, c, d, e, f, g, h, i, j, k, l, m, n];
    (seal(&body) == [o, p]).then(|| {
        let sequence = u32::from_le_bytes([a, b, c, d]);
        (sequence, [e, f, g, h, i, j, k, l, m, n])
    })
}
