//! Why a photograph is not taken, in plain words.

use super::{LARGEST_FILE, LONGEST_SIDE, MOST_DOTS};
use std::fmt;

/// Why a photograph is not taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PictureError {
    /// There is nothing in the file.
    Empty,
    /// It is no JPEG and no PNG; what it seems to be, if that can be told.
    NotTaken(Option<&'static str>),
    /// The file is too large.
    TooLarge,
    /// It has too many dots.
    TooManyDots {
        /// Dots across.
        width: u32,
        /// Dots down.
        height: u32,
    },
    /// To show it would take too much memory.
    TooMuchMemory,
    /// It is of a kind that hardly any program writes.
    Rare,
    /// The end of it is missing.
    CutShort,
    /// Something in it is wrong.
    Damaged,
}

impl fmt::Display for PictureError {
    /// What follows "this photograph": "is empty. …".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PictureError::Empty => f.write_str(
                "is empty: nothing was copied from the camera. Copy it again, then add it.",
            ),
            PictureError::NotTaken(what) => {
                match what {
                    Some(what) => write!(f, "is {what}. ")?,
                    None => f.write_str("is not a photograph that I can read. ")?,
                }
                f.write_str("I take JPEG and PNG: save a copy as JPEG, then add that.")
            }
            PictureError::TooLarge => write!(
                f,
                "is larger than {} MB. Save a smaller copy as JPEG, then add that.",
                LARGEST_FILE / 1024 / 1024
            ),
            PictureError::TooMuchMemory => f.write_str(
                "would take more memory to show than I allow. Save it as an ordinary JPEG (not \
                 \"progressive\"), or smaller, then add that.",
            ),
            PictureError::Rare => f.write_str(
                "is written in a way that few programs know. Save a copy as an ordinary JPEG, \
                 then add that.",
            ),
            PictureError::TooManyDots { width, height } if *width.max(height) > LONGEST_SIDE => {
                write!(
                    f,
                    "is {width} by {height} dots, and one side is longer than {LONGEST_SIDE}. Save a \
                 smaller copy, then add that."
                )
            }
            PictureError::TooManyDots { width, height } => write!(
                f,
                "is {width} by {height} dots, more than {} million. Save a smaller copy, then \
                 add that.",
                MOST_DOTS / 1_000_000
            ),
            PictureError::CutShort => f.write_str(
                "is cut short: the end of it is missing. Copy it from the camera again, then \
                 add it.",
            ),
            PictureError::Damaged => f.write_str(
                "is damaged and cannot be shown. Copy it from the camera again, then add it.",
            ),
        }
    }
}

/// What a file that is no JPEG or PNG seems to be, by its first bytes.
pub(super) fn what_it_is(bytes: &[u8]) -> Option<&'static str> {
    const KNOWN: [(usize, &[u8], &str); 12] = [
        (4, b"ftypheic", "a HEIC picture"),
        (4, b"ftypheix", "a HEIC picture"),
        (4, b"ftypmif1", "a HEIC picture"),
        (4, b"ftypavif", "an AVIF picture"),
        (4, b"ftyp", "a film"),
        (8, b"WEBP", "a WebP picture"),
        (0, b"GIF8", "a GIF picture"),
        (0, b"II*\0", "a TIFF or raw picture"),
        (0, b"MM\0*", "a TIFF or raw picture"),
        (0, b"BM", "a BMP picture"),
        (0, b"%PDF", "a PDF document"),
        (0, b"PK\x03\x04", "a ZIP archive or office document"),
    ];
    let begins = |at: usize, with: &[u8]| bytes.get(at..).is_some_and(|b| b.starts_with(with));
    let known = KNOWN.iter().find(|(at, with, _)| begins(*at, with));
    known.map(|(_, _, what)| *what)
}
