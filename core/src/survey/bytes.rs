//! The bytes of a pack, where the library can read them.

use crate::pack::{OpenError, Pack};

/// A copy of the bytes of a pack, at most four times `WORDS`; as many as the
/// bench unit keeps for one, unless told otherwise.
///
/// A pack is read in place as numbers of 32 bits, which bytes from a file or a
/// network do not lie right for; a copy in here does.
#[derive(Clone, Debug)]
pub struct PackBytes<const WORDS: usize = 65_536> {
    words: [u32; WORDS],
    length: usize,
}

impl<const WORDS: usize> PackBytes<WORDS> {
    /// Copies the bytes of a pack.
    ///
    /// # Errors
    /// [`TooLong`] if there are more than it has room for.
    pub fn copy(bytes: &[u8]) -> Result<Self, TooLong> {
        let mut words = [0; WORDS];
        let room: &mut [u8] = bytemuck::cast_slice_mut(&mut words);
        let most = room.len();
        let length = bytes.len();
        let room = room.get_mut(..length).ok_or(TooLong { length, most })?;
        room.copy_from_slice(bytes);
        Ok(Self { words, length })
    }

    /// The pack.
    ///
    /// # Errors
    /// [`OpenError`] says what is wrong with the bytes.
    pub fn open(&self) -> Result<Pack<'_>, OpenError> {
        let bytes: &[u8] = bytemuck::cast_slice(&self.words);
        Pack::open(bytes.get(..self.length).unwrap_or(bytes))
    }
}

/// There are more bytes than there is room for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooLong {
    /// How many there are.
    pub length: usize,
    /// How many there is room for.
    pub most: usize,
}

impl core::fmt::Display for TooLong {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let Self { length, most } = self;
        write!(f, "the pack has {length} bytes, there is room for {most}")
    }
}

impl core::error::Error for TooLong {}
