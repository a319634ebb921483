//! A display in memory, and what it looks like as text and as an image.

use embedded_graphics::Pixel;
use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::geometry::{OriginDimensions, Size};
use embedded_graphics::pixelcolor::BinaryColor;
use std::convert::Infallible;
use tellmark_core::bench::canvas::{HEIGHT, WIDTH};

/// Dots across.
const ACROSS: usize = WIDTH.unsigned_abs() as usize;
/// Dots down.
const DOWN: usize = HEIGHT.unsigned_abs() as usize;

/// A picture of the bench screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    dots: Vec<bool>,
}

impl Default for Picture {
    fn default() -> Self {
        Self {
            dots: vec![false; ACROSS * DOWN],
        }
    }
}

impl OriginDimensions for Picture {
    fn size(&self) -> Size {
        Size::new(WIDTH.unsigned_abs(), HEIGHT.unsigned_abs())
    }
}

impl DrawTarget for Picture {
    type Color = BinaryColor;
    type Error = Infallible;

    fn draw_iter<I: IntoIterator<Item = Pixel<BinaryColor>>>(
        &mut self,
        pixels: I,
    ) -> Result<(), Infallible> {
        for Pixel(point, colour) in pixels {
            let (Ok(x), Ok(y)) = (usize::try_from(point.x), usize::try_from(point.y)) else {
                continue;
            };
            if x < ACROSS
                && let Some(dot) = self.dots.get_mut(y * ACROSS + x)
            {
                *dot = colour.is_on();
            }
        }
        Ok(())
    }
}

impl Picture {
    /// Whether a dot is lit.
    #[must_use]
    pub fn is_lit(&self, x: usize, y: usize) -> bool {
        x < ACROSS && self.dots.get(y * ACROSS + x).copied().unwrap_or(false)
    }

    /// Two dots to a character: 128 by 32 characters.
    #[must_use]
    pub fn half_blocks(&self) -> Vec<String> {
        let sign = |x: usize, y: usize| match (self.is_lit(x, y), self.is_lit(x, y + 1)) {
            (false, false) => ' ',
            (true, false) => '▀',
            (false, true) => '▄',
            (true, true) => '█',
        };
        (0..DOWN)
            .step_by(2)
            .map(|y| (0..ACROSS).map(|x| sign(x, y)).collect())
            .collect()
    }

    /// Eight dots to a character, in braille: 64 by 16 characters.
    #[must_use]
    pub fn braille(&self) -> Vec<String> {
        // The dots of a braille character, in the order of its bits (Unicode,
        // block 2800).
        const DOTS: [(usize, usize); 8] = [
            (0, 0),
            (0, 1),
            (0, 2),
            (1, 0),
            (1, 1),
            (1, 2),
            (0, 3),
            (1, 3),
        ];
        let sign = |x: usize, y: usize| {
            let lit = DOTS.iter().enumerate();
            let bits = lit
                .filter(|(_, (right, down))| self.is_lit(x + right, y + down))
                .fold(0, |bits, (bit, _)| bits | 1 << bit);
            char::from_u32(0x2800 + bits).unwrap_or(' ')
        };
        (0..DOWN)
            .step_by(4)
            .map(|y| (0..ACROSS).step_by(2).map(|x| sign(x, y)).collect())
            .collect()
    }

    /// A PNG image, each dot so many times as large, with a margin around.
    ///
    /// # Errors
    /// What the encoder says.
    pub fn png(&self, scale: usize) -> Result<Vec<u8>, png::EncodingError> {
        const MARGIN: usize = 4;
        let (width, height) = (scale * (ACROSS + 2 * MARGIN), scale * (DOWN + 2 * MARGIN));
        let mut grey = Vec::with_capacity(width * height);
        for y in 0..height {
            for x in 0..width {
                let lit = match (
                    (x / scale).checked_sub(MARGIN),
                    (y / scale).checked_sub(MARGIN),
                ) {
                    (Some(x), Some(y)) => self.is_lit(x, y),
                    _ => false,
                };
                grey.push(if lit { 0xf0 } else { 0x10 });
            }
        }
        let mut bytes = Vec::new();
        let side = |length: usize| u32::try_from(length).unwrap_or(u32::MAX);
        let mut encoder = png::Encoder::new(&mut bytes, side(width), side(height));
        encoder.set_color(png::ColorType::Grayscale);
        encoder.set_depth(png::BitDepth::Eight);
        let mut writer = encoder.write_header()?;
        writer.write_image_data(&grey)?;
        writer.finish()?;
        Ok(bytes)
    }
}
