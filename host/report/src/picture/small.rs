//! A small copy of a photograph, for a page.

use super::{Format, Trouble, unfold};
use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, Rgb, RgbImage};

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
pub fn small(bytes: &[u8], longest: u32) -> Result<Small, Trouble> {
    let mut shown = unfold(bytes, Format::of(bytes)?)?;
    if shown.width().max(shown.height()) > longest {
        shown = shown.thumbnail(longest, longest);
    }
    let shown = on_white(&shown);
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, QUALITY)
        .encode_image(&shown)
        .map_err(Trouble::from)?;
    Ok(Small {
        jpeg,
        width: shown.width(),
        height: shown.height(),
    })
}

/// What shines through shows the paper.
fn on_white(shown: &DynamicImage) -> RgbImage {
    if !shown.color().has_alpha() {
        return shown.to_rgb8();
    }
    let dots = shown.to_rgba8();
    RgbImage::from_fn(dots.width(), dots.height(), |x, y| {
        let [red, green, blue, solid] = dots.get_pixel(x, y).0;
        let over = |c: u8| {
            let sum = u32::from(c) * u32::from(solid) + 255 * (255 - u32::from(solid));
            u8::try_from((sum + 127) / 255).unwrap_or(u8::MAX)
        };
        Rgb([over(red), over(green), over(blue)])
    })
}
