//! A copy of a photograph without what the camera noted: place, time, owner, and words.
//!
//! Nothing is unfolded, so every dot stays as it is. What a picture needs to be shown is
//! kept (also its colours, and how it was held); anything else is left out, known or not.

use super::camera::{EXIF, exif_of};
use super::{Format, PictureError, camera_of, jpeg_parts, png_parts};

/// A copy with the same dots, and without what the camera noted.
///
/// # Errors
/// If it is no photograph, or not all of it is there.
pub fn without_place(bytes: &[u8]) -> Result<Vec<u8>, PictureError> {
    let format = Format::of(bytes)?;
    let orientation = camera_of(bytes, format).orientation;
    match format {
        Format::Jpeg => jpeg(bytes, orientation),
        Format::Png => png(bytes, orientation),
    }
}

/// Keeps the parts that dots are made from, and of the blocks for programs (APP0 to
/// APP15) those that say how colours are meant.
fn jpeg(bytes: &[u8], orientation: u8) -> Result<Vec<u8>, PictureError> {
    const APP0: u8 = 0xE0;
    const COMMENT: u8 = 0xFE;
    if !jpeg_parts::has_its_end(bytes) {
        return Err(PictureError::CutShort);
    }
    let mut copy = vec![0xFF, 0xD8];
    let mut parts = jpeg_parts::parts(bytes)
        .filter(|part| match (part.mark, part.body) {
            (APP0, body) => body.starts_with(b"JFIF\0"),
            (0xE2, body) => body.starts_with(b"ICC_PROFILE\0"),
            (0xEE, body) => body.starts_with(b"Adobe"),
            (0xE1..=0xEF | COMMENT, _) => false,
            _ => true,
        })
        .peekable();
    // The block JFIF has to come first.
    if let Some(first) = parts.next_if(|part| part.mark == APP0) {
        copy.extend(first.bytes);
    }
    if orientation != 1 {
        let block = exif_of(orientation);
        let length = u16::try_from(2 + EXIF.len() + block.len()).unwrap_or(u16::MAX);
        copy.extend([0xFF, 0xE1]);
        copy.extend(length.to_be_bytes());
        copy.extend(EXIF);
        copy.extend(block);
    }
    for part in parts {
        copy.extend(part.bytes);
    }
    Ok(copy)
}

/// Keeps the chunks that dots are made from and those that say how colours are meant.
fn png(bytes: &[u8], orientation: u8) -> Result<Vec<u8>, PictureError> {
    const KEPT: [&[u8]; 14] = [
        b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"cHRM", b"gAMA", b"iCCP", b"sBIT", b"sRGB",
        b"cICP", b"bKGD", b"pHYs", b"mDCV",
    ];
    let mut copy = png_parts::SIGNATURE.to_vec();
    let mut last: &[u8] = &[];
    for chunk in png_parts::chunks(bytes).filter(|chunk| KEPT.contains(&chunk.name)) {
        copy.extend(chunk.bytes);
        if chunk.name == b"IHDR" && orientation != 1 {
            copy.extend(png_parts::written(*b"eXIf", &exif_of(orientation)));
        }
        last = chunk.name;
    }
    if last == b"IEND" {
        Ok(copy)
    } else {
        Err(PictureError::CutShort)
    }
}
