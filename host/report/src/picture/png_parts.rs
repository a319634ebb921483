//! A PNG file taken apart into its chunks (PNG, third edition, section 5), without
//! unfolding it.

use super::camera::{self, Camera};

/// How a PNG begins.
pub(super) const SIGNATURE: &[u8] = b"\x89PNG\r\n\x1a\n";

/// A chunk.
pub(super) struct Chunk<'b> {
    /// Its name.
    pub name: &'b [u8],
    /// All of it, length and checksum too.
    pub bytes: &'b [u8],
    /// What is in it.
    pub body: &'b [u8],
}

/// The chunks up to the last, as far as they are there. What stands after it is passed
/// over.
pub(super) fn chunks(bytes: &[u8]) -> impl Iterator<Item = Chunk<'_>> {
    let mut rest = bytes.get(SIGNATURE.len()..).unwrap_or_default();
    let mut ended = false;
    std::iter::from_fn(move || {
        if ended {
            return None;
        }
        let length: [u8; 4] = rest.get(..4)?.try_into().ok()?;
        let length = usize::try_from(u32::from_be_bytes(length)).ok()?;
        let (bytes, after) = rest.split_at_checked(length.checked_add(12)?)?;
        let name = bytes.get(4..8)?;
        ended = name == b"IEND";
        rest = after;
        Some(Chunk {
            name,
            bytes,
            body: bytes.get(8..8 + length)?,
        })
    })
}

/// What the camera noted.
pub(super) fn camera(bytes: &[u8]) -> Camera {
    let noted = chunks(bytes).map(|chunk| match chunk.name {
        b"eXIf" => camera::of_exif(chunk.body),
        b"iTXt" | b"tEXt" => camera::of_xmp(chunk.body),
        _ => Camera::SILENT,
    });
    noted.fold(Camera::SILENT, Camera::and)
}

/// A chunk as it is written, with its checksum.
pub(super) fn written(name: [u8; 4], body: &[u8]) -> Vec<u8> {
    let length = u32::try_from(body.len()).unwrap_or(u32::MAX);
    let mut chunk = length.to_be_bytes().to_vec();
    chunk.extend(name);
    chunk.extend(body);
    let summed = chunk.get(4..).unwrap_or_default();
    let checksum = crc::Crc::<u32>::new(&crc::CRC_32_ISO_HDLC).checksum(summed);
    chunk.extend(checksum.to_be_bytes());
    chunk
}
