//! Whether a JPEG has its end, which no decoder insists on.

/// Whether the mark that ends a JPEG comes after the beginning of its picture.
///
/// What stands before may hold a small picture with an end of its own, so its blocks
/// are stepped over by their lengths (ITU-T T.81, annex B). In the picture itself FF
/// is always followed by 00 or by the number of a restart, so FF D9 is its end.
pub(super) fn jpeg_has_its_end(bytes: &[u8]) -> bool {
    let mut rest = bytes.get(2..).unwrap_or_default();
    while let [0xFF, mark, after @ ..] = rest {
        match mark {
            0xFF => {
                rest = rest.get(1..).unwrap_or_default();
                continue;
            }
            0xDA => return after.windows(2).any(|two| two == [0xFF, 0xD9]),
            _ => {}
        }
        let [high, low, ..] = after else {
            return false;
        };
        let length = usize::from(u16::from_be_bytes([*high, *low]));
        rest = after.get(length..).unwrap_or_default();
    }
    false
}
