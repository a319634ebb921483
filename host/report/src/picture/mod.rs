//! Photographs as files: whether one is whole and can be shown, and a small copy of
//! it for a page.
//!
//! JPEG and PNG are taken, told by what is in the file and not by its name.

mod small;
mod trouble;
mod whole;

pub use small::{Small, small};
pub use trouble::Trouble;

use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};
use std::io::Cursor;

/// The largest file taken, in bytes.
pub const LARGEST_FILE: u64 = 40 * 1024 * 1024;
/// The most dots a photograph may have, width times height. A small file can unfold
/// into far more than any memory holds.
pub const MOST_DOTS: u64 = 100_000_000;
/// The most memory that unfolding one may take, in bytes.
const MOST_MEMORY: u64 = 900_000_000;

/// How a photograph is written down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// JPEG
    Jpeg,
    /// PNG
    Png,
}

impl Format {
    /// What the name of such a file ends with.
    #[must_use]
    pub fn ending(self) -> &'static str {
        match self {
            Format::Jpeg => "jpg",
            Format::Png => "png",
        }
    }

    fn of(bytes: &[u8]) -> Result<Format, Trouble> {
        match image::guess_format(bytes) {
            Ok(ImageFormat::Jpeg) => Ok(Format::Jpeg),
            Ok(ImageFormat::Png) => Ok(Format::Png),
            _ if bytes.is_empty() => Err(Trouble::Empty),
            _ => Err(Trouble::NotTaken(trouble::what_it_is(bytes))),
        }
    }
}

/// What is known of a photograph that is whole and can be shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Picture {
    /// How it is written down.
    pub format: Format,
    /// Dots across, as it is to be looked at.
    pub width: u32,
    /// Dots down.
    pub height: u32,
}

/// Looks a photograph through to its end.
///
/// # Errors
/// If it cannot be shown, or not all of it is there.
pub fn look_at(bytes: &[u8]) -> Result<Picture, Trouble> {
    let format = Format::of(bytes)?;
    let shown = unfold(bytes, format)?;
    if format == Format::Jpeg && !whole::jpeg_has_its_end(bytes) {
        return Err(Trouble::CutShort);
    }
    Ok(Picture {
        format,
        width: shown.width(),
        height: shown.height(),
    })
}

/// All dots of it, the right way up.
fn unfold(bytes: &[u8], format: Format) -> Result<DynamicImage, Trouble> {
    if u64::try_from(bytes.len()).unwrap_or(u64::MAX) > LARGEST_FILE {
        return Err(Trouble::TooLarge);
    }
    let mut reader = ImageReader::new(Cursor::new(bytes));
    reader.set_format(match format {
        Format::Jpeg => ImageFormat::Jpeg,
        Format::Png => ImageFormat::Png,
    });
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(Trouble::from)?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_DOTS {
        return Err(Trouble::TooManyDots { width, height });
    }
    // A camera that does not say how it was held was held upright.
    let orientation = decoder.orientation();
    let mut shown = DynamicImage::from_decoder(decoder)?;
    if let Ok(orientation) = orientation {
        shown.apply_orientation(orientation);
    }
    Ok(shown)
}
