//! Unfolding a PNG.

use super::shrink::{Shrink, fitted};
use super::{PictureError, Unfolded, may_be_unfolded};
use png::{ColorType, Decoder, DecodingError, Limits, Transformations};
use std::io::{Cursor, ErrorKind};

/// The most memory that a row and what is kept beside it may take, in bytes.
const MOST_MEMORY: usize = 16 * 1024 * 1024;

/// Unfolds a PNG row by row, so that the longer side has at most so many dots.
pub(super) fn unfold(bytes: &[u8], longest: u32) -> Result<Unfolded, PictureError> {
    let limits = Limits { bytes: MOST_MEMORY };
    let mut decoder = Decoder::new_with_limits(Cursor::new(bytes), limits);
    decoder.set_transformations(Transformations::normalize_to_color8());
    // Words and colour profiles can unfold into far more than the picture.
    decoder.set_ignore_text_chunk(true);
    decoder.set_ignore_iccp_chunk(true);
    let header = decoder.read_header_info()?;
    let (size, interlaced) = ((header.width, header.height), header.interlaced);
    may_be_unfolded(size.0, size.1)?;
    let mut reader = decoder.read_info()?;
    let (colours, _) = reader.output_color_type();
    let mut shrink = Shrink::new(size, fitted(size, longest));
    let passes = if interlaced { &SEVEN[..] } else { &[WHOLE] };
    for pass in passes {
        let rows = (pass.top..size.1).step_by(pass.down);
        for y in rows.filter(|_| pass.left < size.0) {
            let row = reader.next_row()?.ok_or(PictureError::CutShort)?;
            let row = row.data();
            let (first, step) = (pass.left, pass.across);
            match colours {
                ColorType::Grayscale => {
                    shrink.row(y, first, step, row.iter().map(|&grey| [grey; 3]));
                }
                ColorType::GrayscaleAlpha => {
                    let dots = row.chunks_exact(2).filter_map(|dot| match dot {
                        [grey, solid] => Some(on_white([*grey; 3], *solid)),
                        _ => None,
                    });
                    shrink.row(y, first, step, dots);
                }
                ColorType::Rgb => {
                    let dots = row.chunks_exact(3).filter_map(|dot| dot.try_into().ok());
                    shrink.row(y, first, step, dots);
                }
                ColorType::Rgba => {
                    let dots = row.chunks_exact(4).filter_map(|dot| match dot {
                        [red, green, blue, solid] => Some(on_white([*red, *green, *blue], *solid)),
                        _ => None,
                    });
                    shrink.row(y, first, step, dots);
                }
                // The palette was looked up on the way.
                ColorType::Indexed => return Err(PictureError::Damaged),
            }
        }
    }
    reader.finish()?;
    Ok(Unfolded {
        size,
        dots: shrink.finish(),
    })
}

/// What shines through shows the paper.
fn on_white(colours: [u8; 3], solid: u8) -> [u8; 3] {
    let (solid, clear) = (u32::from(solid), 255 - u32::from(solid));
    colours.map(|colour| {
        let sum = u32::from(colour) * solid + 255 * clear;
        u8::try_from((sum + 127) / 255).unwrap_or(u8::MAX)
    })
}

/// Which dots come together.
struct Pass {
    left: u32,
    top: u32,
    across: u32,
    down: usize,
}

const fn pass(left: u32, top: u32, across: u32, down: usize) -> Pass {
    Pass {
        left,
        top,
        across,
        down,
    }
}

/// All of them, row by row.
const WHOLE: Pass = pass(0, 0, 1, 1);
/// The seven passes of an interlaced picture (PNG, third edition, section 8.1).
const SEVEN: [Pass; 7] = [
    pass(0, 0, 8, 8),
    pass(4, 0, 8, 8),
    pass(0, 4, 4, 8),
    pass(2, 0, 4, 4),
    pass(0, 2, 2, 4),
    pass(1, 0, 2, 2),
    pass(0, 1, 1, 2),
];

impl From<DecodingError> for PictureError {
    fn from(error: DecodingError) -> PictureError {
        match error {
            DecodingError::IoError(why) if why.kind() == ErrorKind::UnexpectedEof => {
                PictureError::CutShort
            }
            DecodingError::LimitsExceeded => PictureError::TooMuchMemory,
            _ => PictureError::Damaged,
        }
    }
}
