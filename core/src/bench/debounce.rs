//! Debounces one key.

/// The last eight samples of a key, the latest lowest. Taken every millisecond,
/// a key counts as down or up once it has been so for eight of them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Debounce {
    samples: u8,
    down: bool,
}

impl Debounce {
    /// Takes a sample; returns whether the key counts as down.
    pub fn sample(&mut self, down: bool) -> bool {
        self.samples = (self.samples << 1) | u8::from(down);
        match self.samples {
            0x00 => self.down = false,
            0xff => self.down = true,
            _ => {}
        }
        self.down
    }
}
