//! Photographs: PNG and JPEG looked at, and made small.

use super::{Form, Seen, Target, files};
use jpeg_encoder::{ColorType, Encoder};
use tellmark_report::picture::{look_at, small, tells_place, without_place};

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
const LONGEST: u32 = 64;

fn run(input: &[u8], seen: &mut Seen) {
    let mut bytes = input.to_vec();
    with_right_sums(&mut bytes);
    if (MOST_DOTS..=tellmark_report::picture::MOST_DOTS).contains(&dots(&bytes)) {
        return seen.note(1, 0);
    }
    let looked = look_at(&bytes);
    let placeless = without_place(&bytes);
    seen.note(
        2,
        u64::from(tells_place(&bytes)) * 2 + u64::from(placeless.is_ok()),
    );
    match looked {
        Ok(picture) => {
            seen.note_size(3, picture.width as usize);
            let shown = small(&bytes, LONGEST).expect("it was whole");
            assert!(shown.width.max(shown.height) <= LONGEST, "not small");
            let is_wide = (shown.width > shown.height, picture.width > picture.height);
            assert!(
                is_wide != (true, false) && is_wide != (false, true) || shown.width == shown.height
            );
            assert!(shown.jpeg.starts_with(&[0xFF, 0xD8]) && shown.jpeg.ends_with(&[0xFF, 0xD9]));
            let placeless = placeless.expect("it was whole");
            assert!(!tells_place(&placeless), "a copy without place tells it");
            assert_eq!(
                look_at(&placeless),
                Ok(picture),
                "the copy is another picture"
            );
        }
        Err(why) => {
            seen.note_kind(4, &why);
            assert!(!why.to_string().is_empty());
            let _ = small(&bytes, LONGEST);
        }
    }
}

/// How many dots a photograph says that it has: PNG by its first chunk, JPEG by the
/// largest of its frame headers (ITU-T T.81, B.2.2).
fn dots(bytes: &[u8]) -> u64 {
    let half = |at: usize| {
        let two = bytes.get(at..at + 2).and_then(|b| b.try_into().ok());
        u64::from(two.map_or(0, u16::from_be_bytes))
    };
    if bytes.starts_with(b"\x89PNG") {
        return (half(16) << 16 | half(18)).saturating_mul(half(20) << 16 | half(22));
    }
    let frames = (0..bytes.len().saturating_sub(8))
        .filter(|&at| bytes[at] == 0xFF && (0xC0..=0xCF).contains(&bytes[at + 1]));
    frames
        .map(|at| half(at + 5) * half(at + 7))
        .max()
        .unwrap_or(0)
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
        (png::ColorType::Grayscale, 1),
        (png::ColorType::Indexed, 1),
        (png::ColorType::GrayscaleAlpha, 2),
        (png::ColorType::Rgb, 3),
        (png::ColorType::Rgba, 4),
    ];
    for (colour, samples) in colours {
        for depth in [
            png::BitDepth::One,
            png::BitDepth::Eight,
            png::BitDepth::Sixteen,
        ] {
            seeds.extend(png_of(&dots, colour, depth, samples));
        }
    }
    for (colour, samples) in [
        (ColorType::Luma, 1),
        (ColorType::Rgb, 3),
        (ColorType::Cmyk, 4),
    ] {
        for progressive in [false, true] {
            let mut jpeg = Vec::new();
            let mut encoder = Encoder::new(&mut jpeg, 80);
            encoder.set_progressive(progressive);
            encoder.set_restart_interval(if progressive { 0 } else { 2 });
            if encoder
                .encode(&dots[..16 * 12 * samples], 16, 12, colour)
                .is_ok()
            {
                seeds.push(turned(&jpeg));
                seeds.push(jpeg);
            }
        }
    }
    seeds
}

/// A small PNG, if there is one of this colour and depth.
fn png_of(
    dots: &[u8],
    colour: png::ColorType,
    depth: png::BitDepth,
    samples: usize,
) -> Option<Vec<u8>> {
    let bytes = match depth {
        png::BitDepth::One => 2 * 12,
        png::BitDepth::Sixteen => 16 * 12 * samples * 2,
        _ => 16 * 12 * samples,
    };
    let mut png = Vec::new();
    let mut encoder = png::Encoder::new(&mut png, 16, 12);
    encoder.set_color(colour);
    encoder.set_depth(depth);
    if colour == png::ColorType::Indexed {
        encoder.set_palette(dots[..48].to_vec());
        encoder.set_trns(dots[..8].to_vec());
    }
    let mut writer = encoder.write_header().ok()?;
    writer.write_image_data(&dots[..bytes]).ok()?;
    writer.finish().ok()?;
    Some(png)
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
