//! The display's bus: I2C1, written to only, and never waited for longer than it
//! can take.
//!
//! The HAL sets the bus up. Its own writing is not used: it does not notice that
//! nobody answers a short write, and then waits for ever for the end of the next
//! one. A display that is unplugged must not stop the unit.

use embedded_hal::i2c::{
    Error, ErrorKind, ErrorType, I2c, NoAcknowledgeSource, Operation, SevenBitAddress,
};
use rp2040_hal::fugit::{HertzU32, RateExtU32};
use rp2040_hal::gpio::bank0::{Gpio18, Gpio19};
use rp2040_hal::gpio::{FunctionI2C, Pin, PullUp};
use rp2040_hal::{I2C, pac};

/// Its two lines.
pub type Lines = (
    Pin<Gpio18, FunctionI2C, PullUp>,
    Pin<Gpio19, FunctionI2C, PullUp>,
);

/// How often to look whether there is room or an end: at eight cycles each, several
/// times what the sixteen bytes that wait before take.
const PATIENCE: u32 = 250_000;

/// The bus.
pub struct Bus {
    // Owns the lines and keeps the controller set up.
    _controller: I2C<pac::I2C1, Lines>,
}

/// Nobody answers, or the lines are held by something else.
#[derive(Clone, Copy, Debug)]
pub struct Silent;

impl Error for Silent {
    fn kind(&self) -> ErrorKind {
        ErrorKind::NoAcknowledge(NoAcknowledgeSource::Unknown)
    }
}

impl Bus {
    /// Sets the bus up, at 400,000 bits a second.
    pub fn new(i2c: pac::I2C1, lines: Lines, resets: &mut pac::RESETS, clock: HertzU32) -> Self {
        Self {
            _controller: I2C::i2c1(i2c, lines.0, lines.1, 400.kHz(), resets, clock),
        }
    }

    fn send(&mut self, address: u8, bytes: &[u8]) -> Result<(), Silent> {
        // SAFETY: this is the only one that uses the controller.
        let i2c = unsafe { &*pac::I2C1::ptr() };
        // Switching it off throws away what an earlier failure left.
        i2c.ic_enable().write(|w| w.enable().disabled());
        // SAFETY: any address of seven bits will do.
        i2c.ic_tar()
            .write(|w| unsafe { w.ic_tar().bits(u16::from(address)) });
        i2c.ic_enable().write(|w| w.enable().enabled());
        i2c.ic_clr_intr().read();

        let aborted = || i2c.ic_raw_intr_stat().read().tx_abrt().is_active();
        let until = |done: &dyn Fn() -> bool| {
            let mut looks = (0..PATIENCE).take_while(|_| !aborted());
            if looks.any(|_| done()) {
                Ok(())
            } else {
                Err(Silent)
            }
        };
        let room = || i2c.ic_status().read().tfnf().bit_is_set();
        let ended = || i2c.ic_raw_intr_stat().read().stop_det().is_active();
        let mut bytes = bytes.iter().peekable();
        while let Some(&byte) = bytes.next() {
            until(&room)?;
            let last = bytes.peek().is_none();
            // SAFETY: any byte will do.
            i2c.ic_data_cmd()
                .write(|w| unsafe { w.dat().bits(byte) }.stop().bit(last));
        }
        until(&ended)
    }
}

impl ErrorType for Bus {
    type Error = Silent;
}

impl I2c<SevenBitAddress> for Bus {
    fn transaction(&mut self, address: u8, operations: &mut [Operation<'_>]) -> Result<(), Silent> {
        operations.iter().try_for_each(|operation| match operation {
            Operation::Write(bytes) => self.send(address, bytes),
            // A display is not read.
            Operation::Read(_) => Err(Silent),
        })
    }
}
