//! Erases and programs flash through the functions of the chip's ROM.
//!
//! While that goes on nothing can be read from flash, and that is where the
//! program is: the functions that do it are in RAM, call only the ROM, and no
//! interrupt comes between. Afterwards the second stage of the boot code, copied
//! into RAM, sets flash up again as it was at boot; the ROM itself would leave it
//! in a mode several times slower.

use core::mem::transmute;

use rp2040_hal::rom_data;

use crate::map::FLASH;

/// Bytes that are erased at once.
pub const SECTOR: u32 = 4096;
/// Bytes that are programmed at once.
pub const PAGE: usize = 256;
/// What the ROM may erase at once if it is asked for as much, and the chip's
/// command for that.
const BLOCK: (u32, u8) = (1 << 16, 0xd8);
/// Words of the second stage of the boot code.
const BOOT2_WORDS: usize = 64;

/// The ROM's functions and the boot code, looked up while flash can be read.
struct Ways {
    connect: unsafe extern "C" fn(),
    leave: unsafe extern "C" fn(),
    erase: unsafe extern "C" fn(u32, usize, u32, u8),
    program: unsafe extern "C" fn(u32, *const u8, usize),
    flush: unsafe extern "C" fn(),
    boot2: [u32; BOOT2_WORDS],
}

impl Ways {
    fn look_up() -> Self {
        let mut boot2 = [0; BOOT2_WORDS];
        for (at, word) in (FLASH..).step_by(4).zip(&mut boot2) {
            // SAFETY: the boot code is at the start of flash.
            *word = unsafe { (at as *const u32).read_volatile() };
        }
        Self {
            connect: rom_data::connect_internal_flash::ptr(),
            leave: rom_data::flash_exit_xip::ptr(),
            erase: rom_data::flash_range_erase::ptr(),
            program: rom_data::flash_range_program::ptr(),
            flush: rom_data::flash_flush_cache::ptr(),
            boot2,
        }
    }
}

/// Erases the sector that begins so many bytes into flash.
pub fn erase(sector: u32) {
    let ways = Ways::look_up();
    critical_section::with(|_| {
        // SAFETY: interrupts are off, the other core sleeps, and the caller gives
        // a place outside the program.
        unsafe { erase_in_ram(&ways, sector) }
    });
}

/// Programs the page that begins so many bytes into flash: bits only fall.
pub fn program(page: u32, bytes: &[u8; PAGE]) {
    let ways = Ways::look_up();
    // A copy in RAM: a constant's own place may be in flash.
    let bytes = core::hint::black_box(*bytes);
    critical_section::with(|_| {
        // SAFETY: as above.
        unsafe { program_in_ram(&ways, page, &bytes) }
    });
}

#[unsafe(link_section = ".data.flash.erase")]
#[inline(never)]
unsafe fn erase_in_ram(ways: &Ways, sector: u32) {
    // SAFETY: see `erase`.
    unsafe {
        (ways.connect)();
        (ways.leave)();
        (ways.erase)(sector, SECTOR as usize, BLOCK.0, BLOCK.1);
        (ways.flush)();
        return_to_flash(&ways.boot2);
    }
}

#[unsafe(link_section = ".data.flash.program")]
#[inline(never)]
unsafe fn program_in_ram(ways: &Ways, page: u32, bytes: &[u8; PAGE]) {
    // SAFETY: see `program`.
    unsafe {
        (ways.connect)();
        (ways.leave)();
        (ways.program)(page, bytes.as_ptr(), PAGE);
        (ways.flush)();
        return_to_flash(&ways.boot2);
    }
}

/// Runs the copy of the boot code, which returns if it is called.
#[inline(always)]
unsafe fn return_to_flash(boot2: &[u32; BOOT2_WORDS]) {
    // SAFETY: it is code for this processor that runs wherever it is put; the
    // lowest bit says that it is Thumb code.
    let run: unsafe extern "C" fn() = unsafe { transmute(boot2.as_ptr().addr() | 1) };
    // SAFETY: as above.
    unsafe { run() };
}

/// Reads flash as it is now.
pub fn read(from: u32, into: &mut [u8]) {
    for (at, byte) in (FLASH + from..).zip(into) {
        // SAFETY: flash is memory that can always be read.
        *byte = unsafe { (at as *const u8).read_volatile() };
    }
}
