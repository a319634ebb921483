//! Marks for the emulator: breakpoints with something in the first registers.
//! `tests/device/measure.mjs` knows the same numbers. On a unit with no debugger a
//! mark is a fault; only the measuring binaries have any.

use core::arch::asm;

/// An operation begins; its name follows.
const BEGIN: u8 = 0x10;
/// It has ended.
const END: u8 = 0x11;
/// A figure: name and value.
const FIGURE: u8 = 0x12;
/// A hash: number and value.
const HASH: u8 = 0x13;
/// Done.
pub const DONE: u8 = 0x1f;
/// Something that the measuring binary takes for granted is not so.
pub const BROKEN: u8 = 0x2f;
/// The code panicked.
pub const PANIC: u8 = 0xee;

/// Counts what an operation costs. What it gives is kept from being optimised
/// away.
pub fn measured<T>(name: &'static str, operation: impl FnOnce() -> T) -> T {
    // SAFETY: a breakpoint changes nothing; the emulator only reads the name.
    unsafe {
        asm!("bkpt #{k}", k = const BEGIN, in("r0") name.as_ptr(), in("r1") name.len());
    }
    let result = core::hint::black_box(operation());
    // SAFETY: as above.
    unsafe { asm!("bkpt #{k}", k = const END) };
    result
}

/// Reports a figure.
pub fn figure(name: &'static str, value: usize) {
    // SAFETY: as above.
    unsafe {
        asm!(
            "bkpt #{k}", k = const FIGURE,
            in("r0") name.as_ptr(), in("r1") name.len(), in("r2") value,
        );
    }
}

/// Reports the hash of a set of answers.
pub fn hash(set: u32, hash: u32) {
    // SAFETY: as above.
    unsafe { asm!("bkpt #{k}", k = const HASH, in("r0") set, in("r1") hash) };
}

/// Reports how it ended, one of [`DONE`], [`BROKEN`] and [`PANIC`], and stays.
pub fn stop(how: u8) -> ! {
    loop {
        // SAFETY: as above.
        unsafe {
            match how {
                DONE => asm!("bkpt #{k}", k = const DONE),
                PANIC => asm!("bkpt #{k}", k = const PANIC),
                _ => asm!("bkpt #{k}", k = const BROKEN),
            }
        }
    }
}
