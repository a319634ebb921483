//! Milliseconds since the unit was started, and being woken after some.

use core::cell::RefCell;

use critical_section::Mutex;
use rp2040_hal::Timer;
use rp2040_hal::fugit::ExtU32;
use rp2040_hal::pac::{self, interrupt};
use rp2040_hal::timer::{Alarm as _, Alarm1};

static ALARM: Mutex<RefCell<Option<Alarm1>>> = Mutex::new(RefCell::new(None));

/// The clock.
pub struct Clock(Timer);

impl Clock {
    /// Takes the timer and its second alarm.
    pub fn new(timer: Timer, mut alarm: Alarm1) -> Self {
        alarm.enable_interrupt();
        critical_section::with(|cs| ALARM.replace(cs, Some(alarm)));
        // SAFETY: its handler is below, and what it shares is behind a mutex.
        unsafe { pac::NVIC::unmask(pac::Interrupt::TIMER_IRQ_1) };
        Self(timer)
    }

    /// Milliseconds; they run over after seven weeks.
    pub fn now(&self) -> u32 {
        (self.0.get_counter().ticks() / 1_000) as u32
    }

    /// Ends a sleep so many milliseconds from now, once.
    pub fn wake_after(&self, milliseconds: u32) {
        critical_section::with(|cs| {
            if let Some(alarm) = ALARM.borrow_ref_mut(cs).as_mut() {
                // Some seconds are not too long for the timer.
                let _ = alarm.schedule(milliseconds.millis());
            }
        });
    }
}

#[interrupt]
fn TIMER_IRQ_1() {
    critical_section::with(|cs| {
        if let Some(alarm) = ALARM.borrow_ref_mut(cs).as_mut() {
            alarm.clear_interrupt();
        }
    });
}
