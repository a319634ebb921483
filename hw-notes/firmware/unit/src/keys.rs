//! The four keys: GP10 to GP13, each to ground when pressed.
//!
//! While nobody presses anything the chip sleeps. The first edge starts a tick of
//! a millisecond, which samples all four; when they have all been let go for a
//! while, the tick stops again.

use core::cell::RefCell;

use critical_section::{CriticalSection, Mutex};
use heapless::Deque;
use rp2040_hal::fugit::ExtU32;
use rp2040_hal::gpio::bank0::{Gpio10, Gpio11, Gpio12, Gpio13};
use rp2040_hal::gpio::{FunctionSio, Interrupt, Pin, PullUp, SioInput};
use rp2040_hal::pac::{self, interrupt};
use rp2040_hal::timer::{Alarm as _, Alarm0};
use tellmark_core::bench::debounce::Debounce;
use tellmark_core::bench::keys::{self, Event};

/// The first key's pin; the others follow.
const FIRST_PIN: u32 = 10;
/// Milliseconds for which all keys are let go before the tick stops: longer than
/// a contact bounces.
const QUIET: u8 = 20;
/// Events kept until they are dealt with; nobody is further ahead of the display.
const AHEAD: usize = 8;

type Input<P> = Pin<P, FunctionSio<SioInput>, PullUp>;
/// The keys' pins.
pub type Pins = (Input<Gpio10>, Input<Gpio11>, Input<Gpio12>, Input<Gpio13>);

struct Keys {
    pins: Pins,
    alarm: Alarm0,
    contacts: [Debounce; 4],
    keys: keys::Keys,
    /// Milliseconds that the tick has run, which is all the clock that keys need.
    now: u32,
    /// Milliseconds for which all keys have been let go.
    quiet: u8,
    events: Deque<Event, AHEAD>,
}

static KEYS: Mutex<RefCell<Option<Keys>>> = Mutex::new(RefCell::new(None));

/// Starts listening.
pub fn start(pins: Pins, mut alarm: Alarm0) {
    alarm.enable_interrupt();
    critical_section::with(|cs| {
        let mut keys = Keys {
            pins,
            alarm,
            contacts: [Debounce::default(); 4],
            keys: keys::Keys::default(),
            now: 0,
            quiet: 0,
            events: Deque::new(),
        };
        // A key that is held down already makes no edge.
        keys.wake();
        KEYS.replace(cs, Some(keys));
    });
    // SAFETY: their handlers are below, and what they share is behind a mutex.
    unsafe {
        pac::NVIC::unmask(pac::Interrupt::IO_IRQ_BANK0);
        pac::NVIC::unmask(pac::Interrupt::TIMER_IRQ_0);
    }
}

/// What happened next, if anything did.
pub fn next() -> Option<Event> {
    critical_section::with(|cs| KEYS.borrow_ref_mut(cs).as_mut()?.events.pop_front())
}

/// Whether something is waiting.
pub fn waiting(cs: CriticalSection<'_>) -> bool {
    let keys = KEYS.borrow_ref(cs);
    keys.as_ref().is_some_and(|keys| !keys.events.is_empty())
}

/// Which keys are down at this instant, bounces and all.
pub fn down() -> [bool; 4] {
    // SAFETY: reading the pins' levels has no effect.
    let levels = unsafe { (*pac::SIO::ptr()).gpio_in().read().bits() };
    [0, 1, 2, 3].map(|key| levels & (1 << (FIRST_PIN + key)) == 0)
}

impl Keys {
    /// Whether an edge wakes the chip. What came before does not.
    fn listen(&mut self, on: bool) {
        let edge = Interrupt::EdgeLow;
        self.pins.0.clear_interrupt(edge);
        self.pins.1.clear_interrupt(edge);
        self.pins.2.clear_interrupt(edge);
        self.pins.3.clear_interrupt(edge);
        self.pins.0.set_interrupt_enabled(edge, on);
        self.pins.1.set_interrupt_enabled(edge, on);
        self.pins.2.set_interrupt_enabled(edge, on);
        self.pins.3.set_interrupt_enabled(edge, on);
    }

    /// Starts the tick.
    fn wake(&mut self) {
        self.listen(false);
        self.quiet = 0;
        self.tick_again();
    }

    fn tick_again(&mut self) {
        // A millisecond is not too long for the timer.
        let _ = self.alarm.schedule(1.millis());
    }

    fn tick(&mut self, down: [bool; 4]) {
        self.alarm.clear_interrupt();
        self.now = self.now.wrapping_add(1);
        let mut steady = [false; 4];
        for ((steady, contact), down) in steady.iter_mut().zip(&mut self.contacts).zip(down) {
            *steady = contact.sample(down);
        }
        if let Some(event) = self.keys.look(steady, self.now) {
            // What does not fit is as if it had not been pressed.
            let _ = self.events.push_back(event);
        }
        if down == [false; 4] && steady == [false; 4] {
            self.quiet += 1;
        } else {
            self.quiet = 0;
        }
        if self.quiet < QUIET {
            self.tick_again();
        } else {
            self.listen(true);
        }
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
    let down = down();
    critical_section::with(|cs| {
        if let Some(keys) = KEYS.borrow_ref_mut(cs).as_mut() {
            keys.tick(down);
        }
    });
}
