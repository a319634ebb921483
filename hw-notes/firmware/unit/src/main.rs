//! The bench unit's firmware.
//!
//! - [`board`]: pins, clocks and what hangs on them;
//! - [`display`], [`keys`], [`cable`]: a picture out, strokes in, bytes both ways;
//! - [`flash`], [`map`]: what is kept when the power goes, and where;
//! - [`fault`]: what is shown when the program finds itself wrong.
//!
//! Between keys and bytes the processor sleeps.
#![no_std]
#![no_main]

mod board;
mod cable;
mod display;
mod fault;
mod flash;
mod keys;
mod map;

use embedded_graphics::mono_font::{MonoTextStyle, ascii::FONT_6X10};
use embedded_graphics::pixelcolor::BinaryColor;
use embedded_graphics::prelude::{Drawable as _, Point};
use embedded_graphics::text::{Baseline, Text};
use embedded_hal::digital::OutputPin as _;

use board::Board;

#[repr(C, align(4))]
struct Aligned<B: ?Sized>(B);

#[unsafe(link_section = ".pack")]
#[used]
static STANDARD: Aligned<[u8; include_bytes!(concat!(env!("OUT_DIR"), "/standard.pack")).len()]> =
    Aligned(*include_bytes!(concat!(env!("OUT_DIR"), "/standard.pack")));

#[rp2040_hal::entry]
fn main() -> ! {
    let Some(mut board) = Board::start() else {
        fault::restart()
    };
    loop {
        board.display.frame.darken();
        let text = MonoTextStyle::new(&FONT_6X10, BinaryColor::On);
        let _ = Text::with_baseline("TELLMARK", Point::new(0, 0), text, Baseline::Top)
            .draw(&mut board.display.frame);
        let seen = board.display.show();
        let _ = board.light.set_state((!seen).into());
        sleep();
        board.watchdog.feed();
        while let Some(stroke) = keys::next() {
            let _ = board.cable.send(&[b'0' + stroke.key]);
            if stroke.key == 3 {
                flash::erase(map::log().start);
                flash::program(map::log().start, &[7; 256]);
            }
            if stroke.key == 2 {
                panic!("bad");
            }
        }
    }
}

/// Sleeps until there is something to do.
fn sleep() {
    critical_section::with(|cs| {
        if !keys::waiting(cs) && !cable::waiting(cs) {
            // Interrupts are off, but one that comes now still wakes it.
            cortex_m::asm::wfi();
        }
    });
}
