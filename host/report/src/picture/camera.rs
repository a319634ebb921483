//! What a camera notes in a photograph: how it was held, and where it was.

/// What the camera noted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Camera {
    /// How it was held: 1 to 8; 1, upright, for one that does not say.
    pub orientation: u8,
    /// Whether it noted where it was.
    pub tells_place: bool,
}

impl Camera {
    /// A camera that notes nothing.
    pub const SILENT: Camera = Camera {
        orientation: 1,
        tells_place: false,
    };

    /// Whether width and height change places when it is turned the right way up.
    pub fn is_on_its_side(self) -> bool {
        self.orientation >= 5
    }

    /// With what another block of the same photograph says.
    pub fn and(self, other: Camera) -> Camera {
        Camera {
            // The first block that says how it was held counts.
            orientation: if self.orientation == 1 {
                other.orientation
            } else {
                self.orientation
            },
            tells_place: self.tells_place || other.tells_place,
        }
    }
}

/// What begins a block of this kind in a JPEG.
pub(super) const EXIF: &[u8] = b"Exif\0\0";

/// The number of the entry that says how the camera was held (Exif 2.32, 4.6.4).
const ORIENTATION: u16 = 0x0112;
/// The number of the entry that points at the list of positions (Exif 2.32, 4.6.3).
const POSITIONS: u16 = 0x8825;

/// Reads a block as Exif 2.32 lays it out, from the beginning of its TIFF header on.
pub(super) fn of_exif(block: &[u8]) -> Camera {
    let mut camera = Camera::SILENT;
    let Some(block) = Block::of(block) else {
        return camera;
    };
    for entry in block.list(block.long(4)) {
        match entry.tag {
            ORIENTATION => {
                let held = u8::try_from(block.short(entry.value).unwrap_or(1)).unwrap_or(1);
                camera.orientation = if (1..=8).contains(&held) { held } else { 1 };
            }
            // The first entry of that list is only the version of its layout.
            POSITIONS => {
                let mut positions = block.list(block.long(entry.value));
                camera.tells_place = positions.any(|entry| entry.tag != 0);
            }
            _ => {}
        }
    }
    camera
}

/// Reads a packet of XMP: only whether it names a position.
pub(super) fn of_xmp(packet: &[u8]) -> Camera {
    let names = |word: &[u8]| packet.windows(word.len()).any(|w| w == word);
    Camera {
        tells_place: names(b"GPSLatitude") || names(b"GPSLongitude"),
        ..Camera::SILENT
    }
}

/// The smallest block that says how the camera was held, and nothing else.
pub(super) fn exif_of(orientation: u8) -> Vec<u8> {
    let mut block = b"MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
    block.extend([orientation, 0, 0, 0, 0, 0, 0]);
    block
}

/// A block with a TIFF header (TIFF 6.0, section 2).
struct Block<'b> {
    bytes: &'b [u8],
    little: bool,
}

/// An entry of a list: its number, and where its value stands.
struct Entry {
    tag: u16,
    value: usize,
}

impl<'b> Block<'b> {
    fn of(bytes: &'b [u8]) -> Option<Block<'b>> {
        let little = match bytes.get(..4)? {
            b"II*\0" => true,
            b"MM\0*" => false,
            _ => return None,
        };
        Some(Block { bytes, little })
    }

    fn short(&self, at: usize) -> Option<u16> {
        let two = self.bytes.get(at..at.checked_add(2)?)?.try_into().ok()?;
        Some(if self.little {
            u16::from_le_bytes(two)
        } else {
            u16::from_be_bytes(two)
        })
    }

    fn long(&self, at: usize) -> Option<usize> {
        let four = self.bytes.get(at..at.checked_add(4)?)?.try_into().ok()?;
        let long = if self.little {
            u32::from_le_bytes(four)
        } else {
            u32::from_be_bytes(four)
        };
        usize::try_from(long).ok()
    }

    /// The entries of a list, as far as they are there.
    fn list(&self, at: Option<usize>) -> impl Iterator<Item = Entry> {
        const ENTRY: usize = 12;
        let number = at.and_then(|at| self.short(at)).unwrap_or(0);
        let first = at.and_then(|at| at.checked_add(2)).unwrap_or(usize::MAX);
        (0..usize::from(number)).map_while(move |n| {
            let at = first.checked_add(n * ENTRY)?;
            Some(Entry {
                tag: self.short(at)?,
                value: at.checked_add(8)?,
            })
        })
    }
}
