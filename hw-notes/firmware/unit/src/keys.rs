//! The four keys: GP10 to GP13, each to ground when pressed.
//!
//! While nobody presses anything the chip sleeps. The first edge starts a tick of
//! a millisecond; each tick samples all four, and a key counts as pressed or let
//! go when it has read the same for [`STEADY`] samples on end, which a contact
//! that bounces does not. With all four let go, the tick stops.

use core::cell::RefCell;

use critical_section::{CriticalSection, Mutex};
use heapless::Deque;
use rp2040_hal::fugit::ExtU32;
use rp2040_hal::gpio::bank0::{Gpio10, Gpio11, Gpio12, Gpio13};
use rp2040_hal::gpio::{FunctionSio, Interrupt, Pin, PullUp, SioInput};
use rp2040_hal::pac::{self, interrupt};
use rp2040_hal::timer::{Alarm as _, Alarm0};

/// Milliseconds that a key must read the same.
const STEADY: u8 = 8;
/// Milliseconds a key is held before it repeats.
const HOLD: u16 = 600;
/// Milliseconds between repeats.
const REPEAT: u16 = 120;
/// The first key's pin; the others follow.
const FIRST_PIN: u32 = 10;

type Input<P> = Pin<P, FunctionSio<SioInput>, PullUp>;
/// The keys' pins.
pub type Pins = (Input<Gpio10>, Input<Gpio11>, Input<Gpio12>, Input<Gpio13>);

/// What a key did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stroke {
    /// Which key, from 0.
    pub key: u8,
    /// It is held down and this is a repeat.
    pub repeated: bool,
}

/// One key's contact.
#[derive(Clone, Copy)]
struct Contact {
    pressed: bool,
    /// Samples on end that read otherwise than `pressed`.
    against: u8,
    /// Milliseconds since it was pressed or last repeated.
    held: u16,
}

impl Contact {
    const LET_GO: Self = Self {
        pressed: false,
        against: 0,
        held: 0,
    };

    /// Takes a sample. Whether that is a stroke, and if so whether a repeated one.
    fn sample(&mut self, down: bool) -> Option<bool> {
        self.against = if down == self.pressed {
            0
        } else {
            self.against + 1
        };
        if self.against == STEADY {
            self.pressed = down;
            self.against = 0;
            self.held = 0;
            return down.then_some(false);
        }
        if self.pressed {
            self.held += 1;
            if self.held == HOLD {
                self.held -= REPEAT;
                return Some(true);
            }
        }
        None
    }

    fn is_quiet(&self) -> bool {
        !self.pressed && self.against == 0
    }
}

struct Keys {
    pins: Pins,
    alarm: Alarm0,
    contacts: [Contact; 4],
    /// Samples on end in which all four were let go.
    quiet: u8,
    strokes: Deque<Stroke, 8>,
}

static KEYS: Mutex<RefCell<Option<Keys>>> = Mutex::new(RefCell::new(None));

/// Starts listening.
pub fn start(pins: Pins, mut alarm: Alarm0) {
    alarm.enable_interrupt();
    critical_section::with(|cs| {
        let keys = Keys {
            pins,
            alarm,
            contacts: [Contact::LET_GO; 4],
            quiet: 0,
            strokes: Deque::new(),
        };
        keys.listen(true);
        KEYS.replace(cs, Some(keys));
    });
    // SAFETY: their handlers are below, and what they share is behind a mutex.
    unsafe {
        pac::NVIC::unmask(pac::Interrupt::IO_IRQ_BANK0);
        pac::NVIC::unmask(pac::Interrupt::TIMER_IRQ_0);
    }
}

/// The next stroke, if there is one.
pub fn next() -> Option<Stroke> {
    critical_section::with(|cs| KEYS.borrow_ref_mut(cs).as_mut()?.strokes.pop_front())
}

/// Whether a stroke is waiting.
pub fn waiting(cs: CriticalSection<'_>) -> bool {
    let keys = KEYS.borrow_ref(cs);
    keys.as_ref().is_some_and(|keys| !keys.strokes.is_empty())
}

impl Keys {
    /// Whether an edge wakes the chip.
    fn listen(&self, on: bool) {
        let edge = Interrupt::EdgeLow;
        self.pins.0.set_interrupt_enabled(edge, on);
        self.pins.1.set_interrupt_enabled(edge, on);
        self.pins.2.set_interrupt_enabled(edge, on);
        self.pins.3.set_interrupt_enabled(edge, on);
    }

    fn forget_edges(&mut self) {
        let edge = Interrupt::EdgeLow;
        self.pins.0.clear_interrupt(edge);
        self.pins.1.clear_interrupt(edge);
        self.pins.2.clear_interrupt(edge);
        self.pins.3.clear_interrupt(edge);
    }

    fn tick_again(&mut self) {
        // It cannot be too long for the timer: a millisecond.
        let _ = self.alarm.schedule(1.millis());
    }

    fn wake(&mut self) {
        self.forget_edges();
        self.listen(false);
        self.quiet = 0;
        self.tick_again();
    }

    fn tick(&mut self, levels: u32) {
        self.alarm.clear_interrupt();
        for (key, contact) in (0..).zip(&mut self.contacts) {
            let down = levels & (1 << (FIRST_PIN + u32::from(key))) == 0;
            if let Some(repeated) = contact.sample(down) {
                // Nobody presses nine keys before the first is dealt with.
                let _ = self.strokes.push_back(Stroke { key, repeated });
            }
        }
        self.quiet = if self.contacts.iter().all(Contact::is_quiet) {
            self.quiet + 1
        } else {
            0
        };
        if self.quiet < STEADY {
            self.tick_again();
            return;
        }
        // An edge from here on is a new one; what came before was sampled.
        self.forget_edges();
        self.listen(true);
    }
}

#[interrupt]
fn IO_IRQ_BANK0() {
    critical_section::with(|cs| {
        if let Some(keys) = KEYS.borrow_ref_mut(cs).as_mut() {
            keys.wake();
        }
    });
}

#[interrupt]
fn TIMER_IRQ_0() {
    // SAFETY: reading the pins' levels has no effect.
    let levels = unsafe { (*pac::SIO::ptr()).gpio_in().read().bits() };
    critical_section::with(|cs| {
        if let Some(keys) = KEYS.borrow_ref_mut(cs).as_mut() {
            keys.tick(levels);
        }
    });
}
