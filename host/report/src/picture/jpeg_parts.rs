//! A JPEG file taken apart into the parts it is made of (ITU-T T.81, annex B), without
//! unfolding it.

use super::camera::{self, Camera, EXIF};

/// How a JPEG begins.
pub(super) const SIGNATURE: &[u8] = &[0xFF, 0xD8, 0xFF];
/// The mark of its end.
pub(super) const END: u8 = 0xD9;
/// The mark that begins dots.
pub(super) const SCAN: u8 = 0xDA;
/// The mark of a block that cameras write into (the first of several kinds).
const APP1: u8 = 0xE1;
/// What begins a packet of XMP.
const XMP: &[u8] = b"http://ns.adobe.com/xap/1.0/\0";

/// A part.
pub(super) struct Part<'b> {
    /// What it is.
    pub mark: u8,
    /// All of it, its mark and, after [`SCAN`], the dots.
    pub bytes: &'b [u8],
    /// What follows its mark and length; for [`SCAN`] without the dots.
    pub body: &'b [u8],
}

/// The parts from the beginning on, the end included, as far as they can be told apart.
/// What stands between them, and after the end, is passed over.
pub(super) fn parts(bytes: &[u8]) -> impl Iterator<Item = Part<'_>> {
    let mut rest = bytes.get(2..).unwrap_or_default();
    let mut ended = false;
    std::iter::from_fn(move || {
        if ended {
            return None;
        }
        let (part, after) = part(rest)?;
        ended = part.mark == END;
        rest = after;
        Some(part)
    })
}

/// The first part, and what comes after it.
fn part(bytes: &[u8]) -> Option<(Part<'_>, &[u8])> {
    // Any number of FF may stand before a mark, and some cameras write more than that.
    let is_mark = |two: &[u8]| matches!(two, [0xFF, mark] if !matches!(mark, 0 | 0xFF));
    let bytes = bytes.get(bytes.windows(2).position(is_mark)?..)?;
    let mark = *bytes.get(1)?;
    let (mut length, mut body) = (2, &[][..]);
    // Marks without a length: restarts, the beginning, the end, and one for nothing.
    if !matches!(mark, 0xD0..=END | 0x01) {
        let size: [u8; 2] = bytes.get(2..4)?.try_into().ok()?;
        length += usize::from(u16::from_be_bytes(size)).max(2);
        body = bytes.get(4..length)?;
    }
    if mark == SCAN {
        length += dots(bytes.get(length..)?);
    }
    let (all, after) = bytes.split_at_checked(length)?;
    let part = Part {
        mark,
        bytes: all,
        body,
    };
    Some((part, after))
}

/// How many bytes of dots there are before the next mark. Within dots FF is always
/// followed by 00 or by the number of a restart.
fn dots(bytes: &[u8]) -> usize {
    let ends = |two: &[u8]| matches!(two, [0xFF, mark] if !matches!(mark, 0 | 0xFF | 0xD0..=0xD7));
    let end = bytes.windows(2).position(ends);
    end.unwrap_or(bytes.len())
}

/// Whether the end comes after dots, which no decoder insists on. What stands before the
/// dots may hold a small picture with an end of its own.
pub(super) fn has_its_end(bytes: &[u8]) -> bool {
    let mut scanned = false;
    parts(bytes).any(|part| {
        scanned |= part.mark == SCAN;
        scanned && part.mark == END
    })
}

/// What the camera noted.
pub(super) fn camera(bytes: &[u8]) -> Camera {
    let noted = parts(bytes)
        .take_while(|part| part.mark != SCAN)
        .filter(|part| part.mark == APP1)
        .map(|part| match part.body {
            body if body.starts_with(EXIF) => {
                camera::of_exif(body.get(EXIF.len()..).unwrap_or_default())
            }
            body if body.starts_with(XMP) => camera::of_xmp(body),
            _ => Camera::SILENT,
        });
    noted.fold(Camera::SILENT, Camera::and)
}

/// The part of a file that says how its dots are written down.
pub(super) struct Frame {
    /// Its mark: 0xC0 to 0xCF.
    pub mark: u8,
    /// How many times each of its colours is sampled, across and down.
    pub samples: Vec<(u8, u8)>,
    /// Dots across and down.
    pub size: (u16, u16),
}

/// The frame, if it can be read.
pub(super) fn frame(bytes: &[u8]) -> Option<Frame> {
    let is_frame = |part: &Part<'_>| matches!(part.mark, 0xC0..=0xCF if !matches!(part.mark, 0xC4 | 0xC8 | 0xCC));
    let part = parts(bytes).find(is_frame)?;
    let [_, h0, h1, w0, w1, number, colours @ ..] = part.body else {
        return None;
    };
    let colours = colours.chunks_exact(3).take(usize::from(*number));
    Some(Frame {
        mark: part.mark,
        samples: colours
            .filter_map(|colour| colour.get(1).map(|s| (s >> 4, s & 15)))
            .collect(),
        size: (
            u16::from_be_bytes([*w0, *w1]),
            u16::from_be_bytes([*h0, *h1]),
        ),
    })
}
