//! Frames: a payload and its check sum, without a zero byte, between zeros.

/// Longest payload.
pub const MAX_PAYLOAD: usize = 300;
const SUM_BYTES: usize = 2;
/// COBS adds a byte at the beginning and one for every 254.
const OVERHEAD: usize = 3;
const MAX_BETWEEN: usize = MAX_PAYLOAD + SUM_BYTES + OVERHEAD;
/// Longest frame, with the zeros at both ends.
pub const MAX_FRAME: usize = MAX_BETWEEN + 2;

const SUM: crc::Crc<u16> = crc::Crc::<u16>::new(&crc::CRC_16_IBM_SDLC);

/// Collects the bytes of a frame until it is whole.
#[derive(Clone, Debug)]
pub struct Receiver {
    buffer: [u8; MAX_BETWEEN],
    length: usize,
    overlong: bool,
}

/// What stood between two zeros.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Received<'a> {
    /// A payload whose check sum is right.
    Payload(&'a [u8]),
    /// Something that is not a frame, or was damaged.
    Garbled,
}

impl Default for Receiver {
    fn default() -> Self {
        Self {
            buffer: [0; MAX_BETWEEN],
            length: 0,
            overlong: false,
        }
    }
}

impl Receiver {
    /// Takes one byte. Gives something only when the byte ends a frame; nothing
    /// between two zeros is nothing.
    pub fn push(&mut self, byte: u8) -> Option<Received<'_>> {
        if byte != 0 {
            match self.buffer.get_mut(self.length) {
                Some(slot) => {
                    *slot = byte;
                    self.length += 1;
                }
                None => self.overlong = true,
            }
            return None;
        }
        let (length, overlong) = (self.length, self.overlong);
        self.length = 0;
        self.overlong = false;
        if length == 0 {
            return None;
        }
        let payload = if overlong {
            None
        } else {
            self.buffer.get_mut(..length).and_then(open)
        };
        Some(payload.map_or(Received::Garbled, Received::Payload))
    }
}

/// Takes the stuffing out, in place, and checks the sum.
fn open(bytes: &mut [u8]) -> Option<&[u8]> {
    let (mut from, mut to) = (0, 0);
    while let Some(&code) = bytes.get(from) {
        let start = from + 1;
        let end = start + usize::from(code.checked_sub(1)?);
        for at in start..end {
            let byte = *bytes.get(at)?;
            *bytes.get_mut(to)? = byte;
            to += 1;
        }
        from = end;
        if code != 0xFF && from < bytes.len() {
            *bytes.get_mut(to)? = 0;
            to += 1;
        }
    }
    let all = bytes.get(..to)?;
    let (payload, sum) = all.split_last_chunk::<SUM_BYTES>()?;
    (!payload.is_empty() && SUM.checksum(payload) == u16::from_le_bytes(*sum)).then_some(payload)
}

/// A frame that is ready to be sent.
#[derive(Clone, Debug)]
pub struct Frame {
    buffer: [u8; MAX_FRAME],
    length: usize,
}

impl Default for Frame {
    fn default() -> Self {
        Self {
            buffer: [0; MAX_FRAME],
            length: 0,
        }
    }
}

impl Frame {
    /// The bytes to send.
    #[must_use]
    pub fn bytes(&self) -> &[u8] {
        self.buffer.get(..self.length).unwrap_or(&[])
    }

    /// Makes a frame of a payload; of one that is too long, an empty frame.
    pub fn fill(&mut self, payload: &[u8]) {
        self.length = 0;
        if payload.len() <= MAX_PAYLOAD && self.stuff(payload).is_none() {
            self.length = 0;
        }
    }

    fn stuff(&mut self, payload: &[u8]) -> Option<()> {
        let sum = SUM.checksum(payload).to_le_bytes();
        *self.buffer.first_mut()? = 0;
        let (mut code_at, mut at, mut code) = (1, 2, 1_u8);
        for &byte in payload.iter().chain(&sum) {
            if code == 0xFF {
                *self.buffer.get_mut(code_at)? = code;
                (code_at, at, code) = (at, at + 1, 1);
            }
            if byte == 0 {
                *self.buffer.get_mut(code_at)? = code;
                (code_at, at, code) = (at, at + 1, 1);
            } else {
                *self.buffer.get_mut(at)? = byte;
                at += 1;
                code += 1;
            }
        }
        *self.buffer.get_mut(code_at)? = code;
        *self.buffer.get_mut(at)? = 0;
        self.length = at + 1;
        Some(())
    }
}
