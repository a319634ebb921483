//! Photographs as files: whether one is whole and can be shown, a small copy of it for a
//! page, and a copy without what the camera noted.
//!
//! JPEG and PNG are taken, told by what is in the file and not by its name. No photograph
//! is ever in memory with all its dots: a JPEG is unfolded at a half, a quarter or an
//! eighth of its size, a PNG row by row, and every row goes into the small copy at once.

mod apart;
mod camera;
mod error;
mod jpeg;
mod jpeg_parts;
mod png;
mod png_parts;
mod shrink;
mod small;
mod turn;
mod without_place;

pub use apart::THREAD;
pub use error::PictureError;
pub use small::{Small, small};
pub use without_place::without_place;

use camera::Camera;
use shrink::Dots;

/// The largest file taken, in bytes.
pub const LARGEST_FILE: u64 = 40 * 1024 * 1024;
/// The most dots a photograph may have, width times height. A small file can unfold
/// into far more than anybody has patience for.
pub const MOST_DOTS: u64 = 100_000_000;
/// The most dots across or down: what a JPEG can have (ITU-T T.81, B.2.2).
pub const LONGEST_SIDE: u32 = 65_535;

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

    fn of(bytes: &[u8]) -> Result<Format, PictureError> {
        if u64::try_from(bytes.len()).unwrap_or(u64::MAX) > LARGEST_FILE {
            Err(PictureError::TooLarge)
        } else if bytes.starts_with(jpeg_parts::SIGNATURE) {
            Ok(Format::Jpeg)
        } else if bytes.starts_with(png_parts::SIGNATURE) {
            Ok(Format::Png)
        } else if bytes.is_empty() {
            Err(PictureError::Empty)
        } else {
            Err(PictureError::NotTaken(error::what_it_is(bytes)))
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
pub fn look_at(bytes: &[u8]) -> Result<Picture, PictureError> {
    let format = Format::of(bytes)?;
    let (width, height) = unfold(bytes, format, 1)?.size;
    if format == Format::Jpeg && !jpeg_parts::has_its_end(bytes) {
        return Err(PictureError::CutShort);
    }
    let turned = camera_of(bytes, format).is_on_its_side();
    let (width, height) = if turned {
        (height, width)
    } else {
        (width, height)
    };
    Ok(Picture {
        format,
        width,
        height,
    })
}

/// Whether a photograph says where it was taken.
#[must_use]
pub fn tells_place(bytes: &[u8]) -> bool {
    Format::of(bytes).is_ok_and(|format| camera_of(bytes, format).tells_place)
}

/// What the camera noted.
fn camera_of(bytes: &[u8], format: Format) -> Camera {
    match format {
        Format::Jpeg => jpeg_parts::camera(bytes),
        Format::Png => png_parts::camera(bytes),
    }
}

/// A photograph made small, as the camera held it.
struct Unfolded {
    /// Dots across and down that it has itself.
    size: (u32, u32),
    /// The dots of the small copy.
    dots: Dots,
}

/// Unfolds a photograph so that the longer side has at most so many dots.
fn unfold(bytes: &[u8], format: Format, longest: u32) -> Result<Unfolded, PictureError> {
    apart::apart(|| match format {
        Format::Jpeg => jpeg::unfold(bytes, longest),
        Format::Png => png::unfold(bytes, longest),
    })
}

/// Refuses what has no dots, or too many.
fn may_be_unfolded(width: u32, height: u32) -> Result<(), PictureError> {
    if width == 0 || height == 0 {
        Err(PictureError::Damaged)
    } else if u64::from(width) * u64::from(height) > MOST_DOTS || width.max(height) > LONGEST_SIDE {
        Err(PictureError::TooManyDots { width, height })
    } else {
        Ok(())
    }
}
