//! A small copy of a photograph, for a page.

use super::turn::upright;
use super::{Format, PictureError, camera_of, unfold};
use jpeg_encoder::{ChromaSubsamplingMethod, ColorType, Encoder};

/// A small copy. Nothing of what a camera adds (place, time, owner) is in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Small {
    /// A JPEG.
    pub jpeg: Vec<u8>,
    /// Dots across.
    pub width: u32,
    /// Dots down.
    pub height: u32,
}

/// How much of a photograph a JPEG keeps, of 100: on paper the loss is not seen.
const QUALITY: u8 = 80;

/// Makes a copy whose longer side has at most so many dots, the right way up.
///
/// # Errors
/// If the photograph cannot be shown.
pub fn small(bytes: &[u8], longest: u32) -> Result<Small, PictureError> {
    let format = Format::of(bytes)?;
    let dots = unfold(bytes, format, longest)?.dots;
    // Turned when it is small, which takes the least.
    let dots = upright(dots, camera_of(bytes, format).orientation);
    let mut jpeg = Vec::new();
    let side = |dots: u32| u16::try_from(dots).map_err(|_| PictureError::TooMuchMemory);
    let (width, height) = (side(dots.width)?, side(dots.height)?);
    let mut encoder = Encoder::new(&mut jpeg, QUALITY);
    // Four dots share a hue: their mean, not that of one of them.
    encoder.set_chroma_subsampling_method(ChromaSubsamplingMethod::Average);
    encoder
        .encode(&dots.rgb, width, height, ColorType::Rgb)
        .map_err(|_| PictureError::Damaged)?;
    Ok(Small {
        jpeg,
        width: dots.width,
        height: dots.height,
    })
}
