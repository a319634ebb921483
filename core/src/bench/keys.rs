//! The four keys: what is pressed, and what is kept down.

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
    /// It has been kept down, and this is the first, second … time that it
    /// counts again.
    Again(Key, u16),
}

/// Milliseconds before a key that is kept down counts again.
pub const PATIENCE: u32 = 500;
/// Milliseconds from then on between one time and the next.
pub const PACE: u32 = 120;

/// Turns steady keys into events. Of several keys only the one that went down
/// first counts, until it is let go.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Keys {
    /// The key that is down, when it counts again, and how often it has.
    held: Option<(Key, u32, u16)>,
}

impl Keys {
    /// Takes which keys are down at this time, in milliseconds of any clock
    /// that may run over.
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
