//! From an ELF file for the RP2040 to UF2, the format of the drive that the chip
//! shows when it is plugged in with its BOOTSEL button held.
//!
//! UF2 is described at <https://github.com/microsoft/uf2>: blocks of 512 bytes,
//! each with an address and up to 476 bytes for it. The RP2040's boot code takes
//! 256 in each and erases a sector of 4,096 when it meets the first block that
//! lies in it, so sectors that are touched at all are filled up with the value of
//! erased flash.

use std::collections::BTreeMap;
use std::fmt;

/// Bytes of a sector, which is erased whole.
const SECTOR: u32 = 4096;
/// Bytes for flash in a block.
const PAGE: usize = 256;
/// Flash, as the RP2040 sees it.
const FLASH: std::ops::Range<u32> = 0x1000_0000..0x1100_0000;
/// The number under which the RP2040 knows its files.
const FAMILY: u32 = 0xe48b_ff56;
/// The block says which family it is for.
const HAS_FAMILY: u32 = 0x2000;

/// Why a file cannot be made into UF2.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// It is not an ELF file for a 32-bit ARM processor, low byte first.
    NotElf,
    /// It ends before something that it says it has.
    CutShort,
    /// A part of it does not belong in flash.
    NotFlash(u32),
    /// There is nothing in it for flash.
    Empty,
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotElf => write!(f, "this is not a program for the unit's processor"),
            Self::CutShort => write!(f, "the file ends too early"),
            Self::NotFlash(at) => write!(f, "a part of it belongs at {at:#x}, outside flash"),
            Self::Empty => write!(f, "there is no program in it"),
        }
    }
}

/// Reads numbers out of bytes.
struct Reader<'a>(&'a [u8]);

impl<'a> Reader<'a> {
    fn bytes(&self, at: u32, length: u32) -> Result<&'a [u8], Trouble> {
        let range = usize::try_from(at).ok().zip(usize::try_from(length).ok());
        range
            .and_then(|(at, length)| self.0.get(at..at.checked_add(length)?))
            .ok_or(Trouble::CutShort)
    }

    fn u16(&self, at: u32) -> Result<u16, Trouble> {
        let bytes = self.bytes(at, 2)?;
        Ok(u16::from_le_bytes([bytes[0], bytes[1]]))
    }

    fn u32(&self, at: u32) -> Result<u32, Trouble> {
        Ok(u32::from(self.u16(at)?) | u32::from(self.u16(at.saturating_add(2))?) << 16)
    }
}

/// The sectors of flash that an ELF file fills, by address.
///
/// # Errors
/// See [`Trouble`].
pub fn sectors(elf: &[u8]) -> Result<BTreeMap<u32, Vec<u8>>, Trouble> {
    let file = Reader(elf);
    if !elf.starts_with(b"\x7fELF\x01\x01") || file.u16(18)? != 40 {
        return Err(Trouble::NotElf);
    }
    let (table, size, count) = (file.u32(28)?, file.u16(42)?, file.u16(44)?);
    let mut sectors: BTreeMap<u32, Vec<u8>> = BTreeMap::new();
    for i in 0..u32::from(count) {
        let at = table.saturating_add(i * u32::from(size));
        let [kind, offset, _, address, length] = [0, 4, 8, 12, 16].map(|k| file.u32(at + k));
        let (kind, offset, address, length) = (kind?, offset?, address?, length?);
        if kind != 1 || length == 0 {
            continue;
        }
        let bytes = file.bytes(offset, length)?;
        if !FLASH.contains(&address) || length > FLASH.end - address {
            return Err(Trouble::NotFlash(address));
        }
        for (at, &byte) in (address..).zip(bytes) {
            let erased = || vec![0xff; SECTOR as usize];
            let sector = sectors.entry(at - at % SECTOR).or_insert_with(erased);
            sector[(at % SECTOR) as usize] = byte;
        }
    }
    if sectors.is_empty() {
        return Err(Trouble::Empty);
    }
    Ok(sectors)
}

/// Makes a UF2 file of sectors.
#[must_use]
pub fn uf2(sectors: &BTreeMap<u32, Vec<u8>>) -> Vec<u8> {
    let pages = sectors
        .iter()
        .flat_map(|(&at, sector)| (at..).step_by(PAGE).zip(sector.chunks(PAGE)));
    let count = pages.clone().count();
    let mut file = Vec::with_capacity(count * 512);
    for (number, (at, page)) in (0_u32..).zip(pages) {
        let head = [
            0x0a32_4655,
            0x9e5d_5157,
            HAS_FAMILY,
            at,
            256,
            number,
            u32::try_from(count).unwrap_or(u32::MAX),
            FAMILY,
        ];
        let start = file.len();
        file.extend(head.iter().flat_map(|word| word.to_le_bytes()));
        file.extend(page);
        file.resize(start + 508, 0);
        file.extend(0x0ab1_6f30_u32.to_le_bytes());
    }
    file
}
