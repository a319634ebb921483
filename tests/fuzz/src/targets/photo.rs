//! Photographs: PNG and JPEG looked at, and made small.

use super::{Form, Seen, Target, files};
use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder as _, ImageReader};
use std::io::Cursor;
use tellmark_report::picture::{look_at, small};

pub(super) const TARGET: Target = Target {
    name: "photo",
    form: Form::Bytes,
    longest: 24_000,
    memory: 0,
    run,
    seeds,
    words,
};

/// Dots of a photograph that is unfolded here. More take longer, as they should: that
/// is bounded by the program's own limits, which `host/command/tests/photos.rs` tests.
const MOST_DOTS: u64 = 2_000_000;

fn run(input: &[u8], seen: &mut Seen) {
    let mut bytes = input.to_vec();
    with_right_sums(&mut bytes);
    let size = ImageReader::new(Cursor::new(&bytes))
        .with_guessed_format()
        .ok()
        .and_then(|reader| reader.into_dimensions().ok());
    let Some((width, height)) = size else {
        // The first bytes tell that it is none, or that its header is wrong.
        seen.note_words(1, &format!("{:?}", look_at(&bytes)));
        return;
    };
    let dots = u64::from(width) * u64::from(height);
    if (MOST_DOTS..=tellmark_report::picture::MOST_DOTS).contains(&dots) {
        return seen.note(2, 0);
    }
    match look_at(&bytes) {
        Ok(picture) => {
            seen.note(3, u64::from(picture.width != width));
            seen.note_size(4, picture.width as usize);
            let shown = small(&bytes, 64).expect("it was whole");
            assert!(shown.width.max(shown.height) <= 64, "not small");
            assert!(shown.jpeg.starts_with(&[0xFF, 0xD8]) && shown.jpeg.ends_with(&[0xFF, 0xD9]));
        }
        Err(why) => {
            seen.note_kind(5, &why);
            assert!(!why.to_string().is_empty());
            let _ = small(&bytes, 64);
        }
    }
}

/// Puts the check sums of a PNG's chunks right: ISO/IEC 15948, 5.3.
fn with_right_sums(bytes: &mut [u8]) {
    if !bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        return;
    }
    let sum = crc::Crc::<u32>::new(&crc::CRC_32_ISO_HDLC);
    let mut at = 8;
    while let Some(length) = bytes.get(at..at + 4) {
        let length = length.try_into().map_or(0, u32::from_be_bytes) as usize;
        let end = at.saturating_add(8).saturating_add(length);
        let Some(chunk) = bytes.get(at + 4..end) else {
            return;
        };
        let right = sum.checksum(chunk).to_be_bytes();
        if let Some(place) = bytes.get_mut(end..end + 4) {
            place.copy_from_slice(&right);
        }
        at = end + 4;
    }
}

fn seeds() -> Vec<Vec<u8>> {
    let photos = files("tests/jobs/landing-chest-finished/photos", ".png");
    let mut seeds: Vec<Vec<u8>> = photos
        .iter()
        .flat_map(|photo| [24, 90].map(|longest| small(photo, longest)))
        .filter_map(|small| Some(small.ok()?.jpeg))
        .collect();
    let dots: Vec<u8> = (0..=255).cycle().take(16 * 12 * 8).collect();
    let colours = [
        (ExtendedColorType::L8, 1),
        (ExtendedColorType::La8, 2),
        (ExtendedColorType::Rgb8, 3),
        (ExtendedColorType::Rgba8, 4),
        (ExtendedColorType::L16, 2),
        (ExtendedColorType::Rgb16, 6),
        (ExtendedColorType::Rgba16, 8),
    ];
    for (colour, bytes) in colours {
        let mut png = Vec::new();
        let encoder = PngEncoder::new(&mut png);
        if encoder
            .write_image(&dots[..16 * 12 * bytes], 16, 12, colour)
            .is_ok()
        {
            seeds.push(png);
        }
    }
    for colour in [ExtendedColorType::L8, ExtendedColorType::Rgb8] {
        let mut jpeg = Vec::new();
        let bytes = if colour == ExtendedColorType::L8 {
            1
        } else {
            3
        };
        let done = JpegEncoder::new(&mut jpeg).encode(&dots[..16 * 12 * bytes], 16, 12, colour);
        if done.is_ok() {
            seeds.push(jpeg.clone());
            seeds.push(turned(&jpeg));
        }
    }
    seeds
}

/// A JPEG whose camera says that it was held on its side: Exif, orientation 6.
fn turned(jpeg: &[u8]) -> Vec<u8> {
    let tiff = b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0";
    let length = u16::try_from(tiff.len() + 2).unwrap_or(2).to_be_bytes();
    [&jpeg[..2], &[0xFF, 0xE1], &length, tiff, &jpeg[2..]].concat()
}

fn words() -> Vec<Vec<u8>> {
    let mut words: Vec<Vec<u8>> = [
        &b"IHDR"[..],
        b"IDAT",
        b"IEND",
        b"PLTE",
        b"tRNS",
        b"eXIf",
        b"iCCP",
        b"zTXt",
        b"acTL",
        b"fcTL",
        b"fdAT",
        b"gAMA",
        b"Exif\0\0",
        b"JFIF\0",
        b"Adobe",
        b"ICC_PROFILE\0",
        b"MM\0*",
        b"II*\0",
    ]
    .map(<[u8]>::to_vec)
    .to_vec();
    words.extend((0xC0..=0xEF).map(|marker| vec![0xFF, marker]));
    words
}
