//! The bench unit's firmware.
//!
//! - [`board`]: pins, clocks and what hangs on them;
//! - [`display`] on its [`bus`], [`keys`], [`cable`], [`clock`]: a picture out,
//!   events in, bytes both ways, milliseconds;
//! - [`flash`], [`map`]: what is kept when the power goes, and where;
//! - [`room`]: memory for a piece;
//! - [`unit`]: the bench screen, the log and the link, put together;
//! - [`notice`], [`fault`]: what the unit itself has to say.
//!
//! Between events and bytes the processor sleeps.
#![no_std]
#![no_main]

mod board;
mod bus;
mod cable;
mod clock;
mod display;
mod fault;
mod flash;
mod keys;
mod map;
mod notice;
mod room;
mod unit;

use core::mem::MaybeUninit;

use room::Room;
use unit::Unit;

#[rp2040_hal::entry]
fn main() -> ! {
    static mut ROOM: Room = Room::new();
    static mut UNIT: MaybeUninit<Unit> = MaybeUninit::uninit();
    Unit::start(UNIT, ROOM).run()
}
