//! Turning a picture the right way up.

use super::shrink::Dots;

/// Turns a picture that a camera held in one of the eight ways (Exif 2.32, 4.6.4,
/// orientation).
pub(super) fn upright(dots: Dots, orientation: u8) -> Dots {
    let (width, height) = (dots.width, dots.height);
    // Where a dot of the upright picture stands in the one that was taken.
    let (right, bottom) = (width.saturating_sub(1), height.saturating_sub(1));
    let from = |x: u32, y: u32| match orientation {
        2 => (right - x, y),
        3 => (right - x, bottom - y),
        4 => (x, bottom - y),
        5 => (y, x),
        6 => (y, bottom - x),
        7 => (right - y, bottom - x),
        8 => (right - y, x),
        _ => (x, y),
    };
    let size = match orientation {
        2..=4 => (width, height),
        5..=8 => (height, width),
        _ => return dots,
    };
    let across = usize::try_from(width).unwrap_or(0);
    let mut rgb = Vec::with_capacity(dots.rgb.len());
    for y in 0..size.1 {
        for x in 0..size.0 {
            let (x, y) = from(x, y);
            let at = usize::try_from(y).unwrap_or(0) * across + usize::try_from(x).unwrap_or(0);
            rgb.extend(dots.rgb.get(at * 3..at * 3 + 3).unwrap_or(&[0; 3]));
        }
    }
    Dots {
        width: size.0,
        height: size.1,
        rgb,
    }
}
