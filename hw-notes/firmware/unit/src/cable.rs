//! The cable to the host: UART0 on GP0 (out) and GP1 (in), 115,200 baud.
//!
//! Bytes are taken in by the interrupt: the chip itself holds only 32, 2.8 ms of
//! them, and a picture takes up to 28 ms to send to the display.

use core::cell::RefCell;

use critical_section::{CriticalSection, Mutex};
use heapless::Deque;
use rp2040_hal::fugit::{HertzU32, RateExtU32};
use rp2040_hal::gpio::bank0::{Gpio0, Gpio1};
use rp2040_hal::gpio::{FunctionUart, Pin, PullNone, PullUp};
use rp2040_hal::pac::{self, interrupt};
use rp2040_hal::uart::{DataBits, Enabled, FifoWatermark, StopBits, UartConfig, UartPeripheral};

/// Bits a second.
const BAUD: u32 = 115_200;
/// Bytes kept until they are dealt with; more than two of the longest messages.
const RING: usize = 1024;

/// Its two lines. The one that listens is held high, so that an open end is
/// silence and not noise.
pub type Lines = (
    Pin<Gpio0, FunctionUart, PullNone>,
    Pin<Gpio1, FunctionUart, PullUp>,
);

static RECEIVED: Mutex<RefCell<Deque<u8, RING>>> = Mutex::new(RefCell::new(Deque::new()));

/// The cable.
pub struct Cable(UartPeripheral<Enabled, pac::UART0, Lines>);

impl Cable {
    /// Starts listening. `None` if the clock cannot give the speed.
    pub fn new(
        uart: pac::UART0,
        lines: Lines,
        resets: &mut pac::RESETS,
        clock: HertzU32,
    ) -> Option<Self> {
        let config = UartConfig::new(BAUD.Hz(), DataBits::Eight, None, StopBits::One);
        let mut uart = UartPeripheral::new(uart, lines, resets)
            .enable(config, clock)
            .ok()?;
        uart.set_fifos(true);
        uart.set_rx_watermark(FifoWatermark::Bytes8);
        uart.enable_rx_interrupt();
        // SAFETY: its handler is below, and what it shares is behind a mutex.
        unsafe { pac::NVIC::unmask(pac::Interrupt::UART0_IRQ) };
        Some(Self(uart))
    }

    /// Sends bytes; the last of them may still be on their way.
    pub fn send(&self, bytes: &[u8]) {
        self.0.write_full_blocking(bytes);
    }

    /// Waits until the last byte has left.
    pub fn finish(&self) {
        while self.0.uart_is_busy() {}
    }
}

/// The next byte received, if there is one.
pub fn next() -> Option<u8> {
    critical_section::with(|cs| RECEIVED.borrow_ref_mut(cs).pop_front())
}

/// Whether a byte is waiting.
pub fn waiting(cs: CriticalSection<'_>) -> bool {
    !RECEIVED.borrow_ref(cs).is_empty()
}

#[interrupt]
fn UART0_IRQ() {
    // SAFETY: only this handler reads the data register, and the flags that it
    // clears are its own.
    let uart = unsafe { &*pac::UART0::ptr() };
    critical_section::with(|cs| {
        let mut received = RECEIVED.borrow_ref_mut(cs);
        while uart.uartfr().read().rxfe().bit_is_clear() {
            let byte = uart.uartdr().read().data().bits();
            // What does not fit is lost as if it had been on the cable: the
            // message's check sum is wrong and the host sends it again.
            let _ = received.push_back(byte);
        }
    });
    uart.uarticr()
        .write(|w| w.rxic().bit(true).rtic().bit(true));
}
