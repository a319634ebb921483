//! Where things are in flash. The linker script `memory.x` decides; this reads
//! its symbols.

/// Where flash is seen in memory.
pub const FLASH: u32 = 0x1000_0000;

/// A stretch of flash, in bytes from its start.
#[derive(Clone, Copy, Debug)]
pub struct Stretch {
    /// Its first byte.
    pub start: u32,
    /// How many bytes.
    pub length: u32,
}

unsafe extern "C" {
    static _slots_start: u8;
    static _slots_end: u8;
    static _log_start: u8;
    static _log_end: u8;
}

fn stretch(start: *const u8, end: *const u8) -> Stretch {
    let [start, end] = [start, end].map(|at| at.addr() as u32);
    Stretch {
        start: start - FLASH,
        length: end - start,
    }
}

/// Room for packs sent by the host.
pub fn slots() -> Stretch {
    stretch(&raw const _slots_start, &raw const _slots_end)
}

/// Room for the record.
pub fn log() -> Stretch {
    stretch(&raw const _log_start, &raw const _log_end)
}
