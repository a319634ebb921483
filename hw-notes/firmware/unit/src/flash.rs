//! Erases and programs flash through the functions of the chip's ROM.
//!
//! While that goes on nothing can be read from flash, and that is where the
//! program is: the functions that do it are in RAM, call only the ROM, and no
//! interrupt comes between. Afterwards the second stage of the boot code, copied
//! into RAM, sets flash up again as it was at boot; the ROM itself would leave it
//! in a mode several times slower.

use core::convert::Infallible;
use core::mem::transmute;
use core::slice;

use rp2040_hal::{pac, rom_data};
use tellmark_core::log::{self, PAGE, SECTOR};

use crate::map::{FLASH, Stretch};

/// What the ROM may erase at once if it is asked for as much, and the chip's
/// command for that.
const BLOCK: (u32, u8) = (1 << 16, 0xd8);
/// Words of the second stage of the boot code.
const BOOT2_WORDS: usize = 64;
/// The chip's command that reads its own number, the four bytes it needs to get
/// ready, and the eight that follow.
const NUMBER: u8 = 0x4b;
const NUMBER_AT: usize = 5;
const NUMBER_END: usize = 13;

/// A stretch of flash lent to the log or to the store of packs.
pub struct Flash(Stretch);

impl Flash {
    /// Nobody else may be lent the same stretch.
    pub fn new(stretch: Stretch) -> Self {
        Self(stretch)
    }
}

impl log::Flash for Flash {
    type Error = Infallible;

    fn bytes(&self) -> &[u8] {
        bytes(self.0)
    }

    fn program(&mut self, at: usize, bytes: &[u8]) -> Result<(), Infallible> {
        let mut page = [0xff; PAGE];
        let within = at % PAGE;
        if let Some(part) = page.get_mut(within..within + bytes.len()) {
            part.copy_from_slice(bytes);
        }
        program(self.0.start + (at - within) as u32, &page);
        Ok(())
    }

    fn erase(&mut self, at: usize) -> Result<(), Infallible> {
        erase(self.0.start + at as u32);
        Ok(())
    }
}

/// What a stretch holds now. What is lent out for good must not be changed.
pub fn bytes(stretch: Stretch) -> &'static [u8] {
    let start = (FLASH + stretch.start) as *const u8;
    // SAFETY: flash is memory that can always be read, but for the moments in
    // which the functions below change it, and nothing else runs then.
    unsafe { slice::from_raw_parts(start, stretch.length as usize) }
}

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
fn erase(sector: u32) {
    let ways = Ways::look_up();
    critical_section::with(|_| {
        // SAFETY: interrupts are off, the other core sleeps, and the caller gives
        // a place outside the program.
        unsafe { erase_in_ram(&ways, sector) }
    });
}

/// Programs the page that begins so many bytes into flash: bits only fall.
fn program(page: u32, bytes: &[u8; PAGE]) {
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
        (ways.erase)(sector, SECTOR, BLOCK.0, BLOCK.1);
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

/// The chip's own number, which no other has.
pub fn number() -> [u8; 8] {
    let ways = Ways::look_up();
    let mut bytes = [0; NUMBER_END];
    bytes[0] = NUMBER;
    critical_section::with(|_| {
        // SAFETY: as above; nobody else uses the flash controller.
        unsafe { ask_in_ram(&ways, &mut bytes) }
    });
    let mut number = [0; 8];
    number.copy_from_slice(&bytes[NUMBER_AT..]);
    number
}

/// Sends bytes to the flash chip and puts what it answers in their place.
#[unsafe(link_section = ".data.flash.ask")]
#[inline(never)]
unsafe fn ask_in_ram(ways: &Ways, bytes: &mut [u8; NUMBER_END]) {
    // SAFETY: see `number`. All of it fits the controller's queue of sixteen.
    unsafe {
        let controller = &*pac::XIP_SSI::ptr();
        let select = (*pac::IO_QSPI::ptr()).gpio_qspiss().gpio_ctrl();
        (ways.connect)();
        (ways.leave)();
        select.modify(|_, w| w.outover().low());
        for byte in bytes.iter() {
            controller.dr0().write(|w| w.bits(u32::from(*byte)));
        }
        for byte in bytes.iter_mut() {
            while controller.sr().read().rfne().bit_is_clear() {}
            *byte = controller.dr0().read().bits() as u8;
        }
        select.modify(|_, w| w.outover().high());
        // This also lets go of the chip.
        (ways.flush)();
        return_to_flash(&ways.boot2);
    }
}
