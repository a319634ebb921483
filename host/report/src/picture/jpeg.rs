//! Unfolding a JPEG.

use super::shrink::{Shrink, fitted};
use super::{PictureError, Unfolded, jpeg_parts, may_be_unfolded};
use jpeg_decoder::{Decoder, Error, PixelFormat};
use std::io::ErrorKind;

/// The most memory that the file, and what must be kept of it at once, may take, in bytes.
const MOST_MEMORY: u64 = 128 * 1024 * 1024;

/// A frame whose dots come row by row (ITU-T T.81, B.2.2): baseline and extended.
const ROW_BY_ROW: [u8; 2] = [0xC0, 0xC1];
/// A frame whose dots grow sharper from scan to scan.
const PROGRESSIVE: u8 = 0xC2;

/// Unfolds a JPEG so that the longer side has at most so many dots.
pub(super) fn unfold(bytes: &[u8], longest: u32) -> Result<Unfolded, PictureError> {
    may_be_held(bytes)?;
    let mut decoder = Decoder::new(bytes);
    decoder.read_info()?;
    let size = decoder.info().ok_or(PictureError::Damaged)?;
    let size = (u32::from(size.width), u32::from(size.height));
    may_be_unfolded(size.0, size.1)?;
    let to = fitted(size, longest);
    let [across, down] = [to.0, to.1].map(|side| u16::try_from(side).unwrap_or(u16::MAX));
    // Not smaller than wanted: an eighth, a quarter, a half, or all of it.
    let (width, height) = decoder.scale(across, down)?;
    let rows = decoder.decode()?;
    let format = decoder.info().ok_or(PictureError::Damaged)?.pixel_format;
    let mut shrink = Shrink::new((width.into(), height.into()), to);
    let length = usize::from(width) * format.pixel_bytes();
    for (y, row) in (0..).zip(rows.chunks_exact(length.max(1))) {
        let dots = row.chunks_exact(format.pixel_bytes());
        match format {
            PixelFormat::L8 => shrink.row(y, 0, 1, row.iter().map(|&grey| [grey; 3])),
            PixelFormat::RGB24 => shrink.row(y, 0, 1, dots.filter_map(|d| d.try_into().ok())),
            PixelFormat::CMYK32 => shrink.row(y, 0, 1, dots.filter_map(printed)),
            PixelFormat::L16 => return Err(PictureError::Rare),
        }
    }
    Ok(Unfolded {
        size,
        dots: shrink.finish(),
    })
}

/// What cyan, magenta, yellow and black let through of red, green and blue.
fn printed(inks: &[u8]) -> Option<[u8; 3]> {
    let [inks @ .., black] = <[u8; 4]>::try_from(inks).ok()?;
    let clear = |ink: u8| u32::from(u8::MAX - ink);
    Some(inks.map(|ink| {
        let through = (clear(ink) * clear(black) + 127) / 255;
        u8::try_from(through).unwrap_or(u8::MAX)
    }))
}

/// Refuses a kind that cannot be shown, or not within the memory there is. Of a frame
/// that grows sharper, every number is kept until the last scan: two bytes for each.
fn may_be_held(bytes: &[u8]) -> Result<(), PictureError> {
    let Some(frame) = jpeg_parts::frame(bytes) else {
        // The decoder says better what is wrong.
        return Ok(());
    };
    if ROW_BY_ROW.contains(&frame.mark) {
        return Ok(());
    }
    if frame.mark != PROGRESSIVE {
        return Err(PictureError::Rare);
    }
    let most = |of: fn(&(u8, u8)) -> u8| frame.samples.iter().map(of).max().unwrap_or(1).max(1);
    let (most_across, most_down) = (u64::from(most(|s| s.0)), u64::from(most(|s| s.1)));
    let units = |side: u16, most: u64| u64::from(side).div_ceil(8 * most);
    let units = units(frame.size.0, most_across) * units(frame.size.1, most_down);
    let blocks = frame
        .samples
        .iter()
        .map(|s| u64::from(s.0) * u64::from(s.1));
    let kept = units * blocks.sum::<u64>() * 64 * 2;
    if kept + u64::try_from(bytes.len()).unwrap_or(u64::MAX) > MOST_MEMORY {
        Err(PictureError::TooMuchMemory)
    } else {
        Ok(())
    }
}

impl From<Error> for PictureError {
    fn from(error: Error) -> PictureError {
        match error {
            Error::Io(why) if why.kind() == ErrorKind::UnexpectedEof => PictureError::CutShort,
            Error::Unsupported(_) => PictureError::Rare,
            _ => PictureError::Damaged,
        }
    }
}
