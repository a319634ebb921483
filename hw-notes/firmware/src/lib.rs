//! What the bench unit's binaries share.
//!
//! - [`sets`]: pieces and random answers, the same on the unit and on the host;
//! - [`room`]: the memory for one piece;
//! - [`marks`]: marks for the emulator that runs the measuring binaries.
#![no_std]

pub mod marks;
pub mod room;
pub mod sets;

/// Bytes on the boundary that a pack needs.
#[repr(C, align(4))]
struct Aligned<B: ?Sized>(B);

static PACK: &Aligned<[u8]> = &Aligned(*include_bytes!(concat!(env!("OUT_DIR"), "/standard.pack")));

/// The pack of the standard rules, in flash.
#[must_use]
pub fn standard() -> &'static [u8] {
    &PACK.0
}

#[panic_handler]
fn panic(_: &core::panic::PanicInfo<'_>) -> ! {
    marks::stop(marks::PANIC)
}
