//! The four keys: presses, and repeats of a key that is kept down.

/// A key, counted from the left. What it does stands above it on the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    /// Up, more, yes.
    First,
    /// Down, less, no.
    Second,
    /// Goes on: takes, opens, notes.
    Third,
    /// One page back; kept down: home.
    Fourth,
}

impl Key {
    /// All of them, from the left.
    pub const ALL: [Self; 4] = [Self::First, Self::Second, Self::Third, Self::Fourth];
}

/// What a key does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Event {
    /// It goes down.
    Press(Key),
    /// It is kept down and repeats, for the first, second … time.
    Again(Key, u16),
}

/// Milliseconds before a key that is kept down repeats.
pub const PATIENCE: u32 = 500;
/// Milliseconds between one repeat and the next.
pub const PACE: u32 = 120;

/// Turns debounced keys into events. Of several keys only the one that went down
/// first counts, until it is released.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Keys {
    /// The key that is down, when it repeats next, and how often it has.
    held: Option<(Key, u32, u16)>,
}

impl Keys {
    /// Takes which keys are down now, by a clock in milliseconds that may wrap
    /// around.
    pub fn look(&mut self, down: [bool; 4], now: u32) -> Option<Event> {
        let is_down = |key: Key| down.get(key as usize).copied().unwrap_or(false);
        match self.held {
            Some((key, ..)) if !is_down(key) => {
                self.held = None;
                None
            }
            Some((key, due, times)) if now.wrapping_sub(due).cast_signed() >= 0 => {
                let times = times.saturating_add(1);
                self.held = Some((key, now.wrapping_add(PACE), times));
                Some(Event::Again(key, times))
            }
            Some(_) => None,
            None => {
                let key = Key::ALL.into_iter().find(|&key| is_down(key))?;
                self.held = Some((key, now.wrapping_add(PATIENCE), 0));
                Some(Event::Press(key))
            }
        }
    }
}
