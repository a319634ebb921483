//! Pictures for tests, and what is on them.

use png::{BitDepth, ColorType};

/// A JPEG of these dots: red, green and blue, row by row.
pub fn jpeg(rgb: &[u8], width: u16, height: u16) -> Vec<u8> {
    let mut bytes = Vec::new();
    jpeg_encoder::Encoder::new(&mut bytes, 90)
        .encode(rgb, width, height, jpeg_encoder::ColorType::Rgb)
        .expect("written");
    bytes
}

/// A PNG of these samples.
pub fn png(
    samples: &[u8],
    width: u32,
    height: u32,
    colours: ColorType,
    depth: BitDepth,
) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(colours);
    encoder.set_depth(depth);
    let mut writer = encoder.write_header().expect("written");
    writer.write_image_data(samples).expect("written");
    writer.finish().expect("written");
    bytes
}

/// What is on a JPEG.
pub struct Shown {
    /// Dots across.
    pub width: usize,
    /// Dots down.
    pub height: usize,
    rgb: Vec<u8>,
}

impl Shown {
    /// Unfolds it.
    pub fn of(jpeg: &[u8]) -> Shown {
        let mut decoder = jpeg_decoder::Decoder::new(jpeg);
        let rgb = decoder.decode().expect("a picture");
        let info = decoder.info().expect("read");
        assert_eq!(info.pixel_format, jpeg_decoder::PixelFormat::RGB24);
        Shown {
            width: info.width.into(),
            height: info.height.into(),
            rgb,
        }
    }

    /// Red, green and blue of a dot.
    pub fn dot(&self, x: usize, y: usize) -> [u8; 3] {
        let at = 3 * (y * self.width + x);
        self.rgb[at..at + 3].try_into().expect("three")
    }

    /// All dots.
    pub fn dots(&self) -> impl Iterator<Item = [u8; 3]> {
        (0..self.height).flat_map(move |y| (0..self.width).map(move |x| self.dot(x, y)))
    }
}

/// The same JPEG with a block after its beginning, as a camera writes it.
pub fn with_block(jpeg: &[u8], mark: u8, block: &[u8]) -> Vec<u8> {
    let length = u16::try_from(block.len() + 2).expect("short");
    let mut all = jpeg[..2].to_vec();
    all.extend([0xFF, mark]);
    all.extend(length.to_be_bytes());
    all.extend(block);
    all.extend(&jpeg[2..]);
    all
}

/// A block that says how the camera was held and, if wanted, where it was (Exif 2.32).
pub fn exif(orientation: u8, place: bool) -> Vec<u8> {
    let mut block = b"MM\0*\0\0\0\x08\0\x02\x01\x12\0\x03\0\0\0\x01\0".to_vec();
    block.extend([orientation, 0, 0]);
    // The list of positions begins after this one: 8 + 2 + 2 * 12 + 4.
    block.extend(b"\x88\x25\0\x04\0\0\0\x01\0\0\0\x26\0\0\0\0");
    if place {
        // A latitude of 12 degrees, 34 minutes, 56 seconds.
        block
            .extend(b"\0\x02\0\x01\0\x02\0\0\0\x02N\0\0\0\0\x02\0\x05\0\0\0\x03\0\0\0\x44\0\0\0\0");
        for number in [12u32, 34, 56] {
            block.extend(number.to_be_bytes());
            block.extend(1u32.to_be_bytes());
        }
    } else {
        block.extend(b"\0\x01\0\0\0\x01\0\0\0\x04\x02\x03\0\0\0\0\0\0");
    }
    block
}
