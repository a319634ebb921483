//! What is shown when the program finds itself wrong: where, and that what was
//! answered is kept. A key starts it again.
//!
//! The watchdog looks after what cannot even get here (a stack that ran over, a
//! bus that hangs): it starts the unit again after eight seconds.

use core::fmt::Write as _;
use core::panic::PanicInfo;

use cortex_m::asm::delay;
use cortex_m_rt::{ExceptionFrame, exception};
use heapless::String;
use rp2040_hal::fugit::ExtU32;
use rp2040_hal::{Sio, Watchdog, pac};

use crate::board::{CLOCK, pins};
use crate::bus::Bus;
use crate::display::Display;
use crate::{keys, notice};

/// Left in the watchdog's fifth spare register, for whoever looks.
pub const MARK: u32 = 0x7e11_fa17;

/// Characters of a line.
const LINE: usize = 21;

#[panic_handler]
fn panic(info: &PanicInfo<'_>) -> ! {
    let mut place: String<LINE> = String::new();
    if let Some(at) = info.location() {
        // The end of a path says most.
        let file = at.file().rsplit(['/', '\\']).next().unwrap_or_default();
        let _ = write!(place, "{file}:{}", at.line());
    }
    stop(&place)
}

/// The processor met something it cannot do.
#[exception]
unsafe fn HardFault(frame: &ExceptionFrame) -> ! {
    let mut place: String<LINE> = String::new();
    let _ = write!(place, "at {:08x}", frame.pc());
    stop(&place)
}

fn stop(place: &str) -> ! {
    cortex_m::interrupt::disable();
    // SAFETY: whoever had these does not run any more.
    let mut p = unsafe { pac::Peripherals::steal() };
    // SAFETY: any bits will do.
    p.WATCHDOG.scratch4().write(|w| unsafe { w.bits(MARK) });
    // SAFETY: as above.
    let sio = Sio::new(unsafe { pac::SIO::steal() });
    let pins = pins(p.IO_BANK0, p.PADS_BANK0, sio.gpio_bank0, &mut p.RESETS);
    let mut display = Display::new(Bus::new(p.I2C1, pins.display, &mut p.RESETS, CLOCK));
    notice::draw(
        &mut display.frame,
        &[
            "THE UNIT HAS STOPPED.",
            "This is our mistake,",
            "please tell us:",
            place,
            "All answers are kept.",
            "Press a key to go on.",
        ],
    );
    display.show();

    let mut watchdog = Watchdog::new(p.WATCHDOG);
    // The key that brought it here may still be down.
    for wanted in [false, true] {
        while keys::down().contains(&true) != wanted {
            watchdog.start(8.secs());
            delay(CLOCK.to_Hz() / 50);
        }
    }
    restart()
}

/// Starts the unit again from the beginning.
pub fn restart() -> ! {
    // SAFETY: nothing runs after this.
    let watchdog = unsafe { pac::WATCHDOG::steal() };
    // The watchdog's own reset takes the whole chip with it, the display's bus
    // and the cable too, which the processor's does not.
    let mut watchdog = Watchdog::new(watchdog);
    watchdog.start(1.micros());
    loop {
        cortex_m::asm::nop();
    }
}
