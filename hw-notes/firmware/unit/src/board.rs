//! The board: which pin goes where, the clocks, and all that hangs on them.

use embedded_hal::digital::OutputPin as _;
use rp2040_hal::clocks::{Clock as _, init_clocks_and_plls};
use rp2040_hal::fugit::{ExtU32, HertzU32};
use rp2040_hal::gpio::bank0::Gpio25;
use rp2040_hal::gpio::{FunctionSio, Pin, PullDown, SioOutput};
use rp2040_hal::rosc::{Enabled, RingOscillator};
use rp2040_hal::sio::SioGpioBank0;
use rp2040_hal::{Sio, Timer, Watchdog, gpio, pac};

use crate::bus::{self, Bus};
use crate::cable::{self, Cable};
use crate::clock::Clock;
use crate::display::Display;
use crate::keys;

/// The second stage of the boot code, for the flash chip of the Pico.
#[unsafe(link_section = ".boot2")]
#[used]
static BOOT2: [u8; 256] = rp2040_boot2::BOOT_LOADER_W25Q080;

/// The crystal on the Pico.
const CRYSTAL: u32 = 12_000_000;
/// What the processor runs at.
pub const CLOCK: HertzU32 = HertzU32::from_raw(125_000_000);

/// The Pico's own light.
pub type Light = Pin<Gpio25, FunctionSio<SioOutput>, PullDown>;

/// The pins, each as what it is used for. `hw-notes/wiring.svg` shows them.
pub struct Pins {
    /// GP0, GP1.
    pub cable: cable::Lines,
    /// GP10 to GP13.
    pub keys: keys::Pins,
    /// GP18, GP19.
    pub display: bus::Lines,
    /// GP25, on the board.
    light: Light,
}

/// Sets the pins up.
pub fn pins(
    io: pac::IO_BANK0,
    pads: pac::PADS_BANK0,
    sio: SioGpioBank0,
    resets: &mut pac::RESETS,
) -> Pins {
    let pins = gpio::Pins::new(io, pads, sio, resets);
    Pins {
        cable: (pins.gpio0.reconfigure(), pins.gpio1.reconfigure()),
        keys: (
            pins.gpio10.into_pull_up_input(),
            pins.gpio11.into_pull_up_input(),
            pins.gpio12.into_pull_up_input(),
            pins.gpio13.into_pull_up_input(),
        ),
        display: (pins.gpio18.reconfigure(), pins.gpio19.reconfigure()),
        light: pins.gpio25.into_push_pull_output(),
    }
}

/// The board.
pub struct Board {
    /// The display.
    pub display: Display,
    /// The cable to the host.
    pub cable: Cable,
    /// Milliseconds.
    pub clock: Clock,
    /// What chance comes from.
    pub chance: RingOscillator<Enabled>,
    /// Starts the unit again if it is not fed for eight seconds.
    pub watchdog: Watchdog,
    light: Light,
}

impl Board {
    /// Lights the board's own light, or not.
    pub fn show_light(&mut self, on: bool) {
        // A pin of the chip's own never fails.
        let _ = self.light.set_state(on.into());
    }

    /// Starts everything, once. `None` if that cannot be, or was done before.
    #[inline(never)]
    pub fn start() -> Option<Self> {
        let mut p = pac::Peripherals::take()?;
        let mut watchdog = Watchdog::new(p.WATCHDOG);
        let clocks = init_clocks_and_plls(
            CRYSTAL,
            p.XOSC,
            p.CLOCKS,
            p.PLL_SYS,
            p.PLL_USB,
            &mut p.RESETS,
            &mut watchdog,
        )
        .ok()?;
        let sio = Sio::new(p.SIO);
        let pins = pins(p.IO_BANK0, p.PADS_BANK0, sio.gpio_bank0, &mut p.RESETS);
        let mut timer = Timer::new(p.TIMER, &mut p.RESETS, &clocks);
        keys::start(pins.keys, timer.alarm_0()?);
        let alarm = timer.alarm_1()?;
        let system = clocks.system_clock.freq();
        let display = Display::new(Bus::new(p.I2C1, pins.display, &mut p.RESETS, system));
        let cable = Cable::new(
            p.UART0,
            pins.cable,
            &mut p.RESETS,
            clocks.peripheral_clock.freq(),
        )?;
        watchdog.start(8.secs());
        Some(Self {
            display,
            cable,
            clock: Clock::new(timer, alarm),
            chance: RingOscillator::new(p.ROSC).initialize(),
            watchdog,
            light: pins.light,
        })
    }
}
