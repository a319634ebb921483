//! Keys written down, for a run without anybody at the keyboard.

use std::fmt;
use tellmark_core::bench::keys::{Event, Key};

/// One thing to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Command {
    /// A key.
    Key(Event),
    /// Make a picture now.
    Picture,
}

/// A word of a script that is none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misread(pub String);

impl fmt::Display for Misread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "\"{}\" is no key. The keys are 1, 2, 3 and 4 from the left; 1x9 presses one nine \
             times, 1~9 keeps it down until it has counted nine times more, 4~ goes home.",
            self.0
        )
    }
}

/// Reads a script: "1 1 2 3x4 1~9 4~". After each word a picture is made.
///
/// # Errors
/// The first word that is no key.
pub fn read(script: &str) -> Result<Vec<Command>, Misread> {
    let mut commands = Vec::new();
    for word in script.split_whitespace() {
        let events = events(word).ok_or_else(|| Misread(word.to_owned()))?;
        commands.extend(events.into_iter().map(Command::Key));
        commands.push(Command::Picture);
    }
    Ok(commands)
}

/// Most times that one word may press a key.
const MOST: u16 = 1_000;

fn events(word: &str) -> Option<Vec<Event>> {
    let mut signs = word.chars();
    let key = match signs.next()? {
        '1' => Key::First,
        '2' => Key::Second,
        '3' => Key::Third,
        '4' => Key::Fourth,
        _ => return None,
    };
    let rest = signs.as_str();
    let times = |text: &str| text.parse().ok().filter(|n| (1..=MOST).contains(n));
    if rest.is_empty() {
        return Some(vec![Event::Press(key)]);
    }
    if rest == "~" {
        return Some(vec![Event::Press(key), Event::Again(key, 1)]);
    }
    if let Some(rest) = rest.strip_prefix('x') {
        return Some(vec![Event::Press(key); usize::from(times(rest)?)]);
    }
    let times = times(rest.strip_prefix('~')?)?;
    let again = (1..=times).map(|n| Event::Again(key, n));
    Some(std::iter::once(Event::Press(key)).chain(again).collect())
}
