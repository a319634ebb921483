//! What parts, questions and answers are called on the screen.

use core::fmt::{self, Write};

use super::figure::{Hundredths, sureness};
use super::measure::{Reading, Unit};
use crate::limits::MAX_DEPTH;
use crate::number::Share;
use crate::pack::{Ask, Form, NONE, Pack, State, Verb, Way};
use crate::piece::{Answer, Part};

/// A part: "left runner of drawer 2"; for the whole piece what it is: "chest of
/// drawers".
///
/// # Errors
/// What `out` gives.
pub fn part(out: &mut dyn Write, pack: &Pack<'_>, parts: &[Part], part: usize) -> fmt::Result {
    let mut at = part;
    for depth in 0..=MAX_DEPTH {
        let record = parts.get(at).copied().unwrap_or_default();
        // The last owner is the whole piece, which goes without saying.
        if depth > 0 && record.owner == NONE {
            break;
        }
        if depth > 0 {
            out.write_str(" of ")?;
        }
        one(out, pack, &record)?;
        if record.owner == NONE {
            break;
        }
        at = usize::from(record.owner);
    }
    Ok(())
}

fn one(out: &mut dyn Write, pack: &Pack<'_>, record: &Part) -> fmt::Result {
    let place = pack.place(usize::from(record.place));
    let name = pack.text(pack.kind(usize::from(place.kind)).name);
    if place.owner == NONE {
        out.write_str(name)
    } else if record.number <= place.names {
        let before = u16::from(record.number.saturating_sub(1));
        let own = pack.text(place.first_name.saturating_add(before));
        write!(out, "{own} {name}")
    } else if place.most <= 1 {
        out.write_str(name)
    } else {
        write!(out, "{name} {}", record.number)
    }
}

/// The question of an ask: the house's, or one made from its words.
///
/// # Errors
/// What `out` gives.
pub fn question(out: &mut dyn Write, pack: &Pack<'_>, ask: &Ask) -> fmt::Result {
    let said = pack.text(ask.question);
    let phrase = pack.text(ask.phrase);
    if !said.is_empty() {
        return out.write_str(said);
    }
    match ask.form {
        Form::Whether => write!(out, "{}?", Capital(phrase)),
        Form::Which { .. } => write!(out, "Which {phrase}?"),
        Form::HowMuch { .. } => write!(out, "How {} {phrase}?", pack.text(ask.word)),
        Form::HowMany { part } => {
            let kind = pack.kind(usize::from(part));
            write!(out, "How many {}?", pack.text(kind.plural))
        }
    }
}

/// An answer in words.
///
/// # Errors
/// What `out` gives.
pub fn answer(out: &mut dyn Write, pack: &Pack<'_>, ask: &Ask, answer: Answer) -> fmt::Result {
    match answer {
        Answer::NotLooked => out.write_str("not looked at"),
        Answer::CannotSee => out.write_str("cannot be seen"),
        Answer::Seen(true) => out.write_str("yes"),
        Answer::Seen(false) => out.write_str("no"),
        Answer::Looks(true) => out.write_str("looks like it"),
        Answer::Looks(false) => out.write_str("looks unlikely"),
        Answer::Certain(true) => out.write_str("yes, for certain"),
        Answer::Certain(false) => out.write_str("no, for certain"),
        Answer::Reading(ticks) => match ask.form {
            Form::HowMuch { unit, .. } => {
                let unit = Unit::numbered(unit);
                write!(out, "{}", Reading { ticks, unit })
            }
            _ => write!(out, "{ticks}"),
        },
        Answer::Value(value) => out.write_str(match ask.form {
            Form::Which { first, values } if u16::from(value) < values => {
                pack.text(first.saturating_add(u16::from(value)))
            }
            _ => "?",
        }),
    }
}

/// A hidden fault with its chance in words: "probably worn thin", "possibly
/// shows old glue".
///
/// # Errors
/// What `out` gives.
pub fn likely(out: &mut dyn Write, pack: &Pack<'_>, state: &State, chance: Share) -> fmt::Result {
    write!(out, "{} ", sureness(chance))?;
    self::state(out, pack, state)
}

/// A state: "worn thin", "shows old glue".
///
/// # Errors
/// What `out` gives.
pub fn state(out: &mut dyn Write, pack: &Pack<'_>, state: &State) -> fmt::Result {
    out.write_str(match state.verb {
        Verb::Is => "",
        Verb::Shows => "shows ",
        Verb::Has => "has ",
    })?;
    out.write_str(pack.text(state.phrase))
}

/// The same as a whole sentence about a part: "Left runner of drawer 2 is
/// probably worn thin (67 in 100)."
///
/// # Errors
/// What `out` gives.
pub fn sentence(
    out: &mut dyn Write,
    pack: &Pack<'_>,
    parts: &[Part],
    at: (usize, &State),
    chance: Share,
) -> fmt::Result {
    let (index, state) = at;
    part(&mut Capitalising::new(out), pack, parts, index)?;
    out.write_str(if state.verb == Verb::Is { " is " } else { " " })?;
    likely(out, pack, state, chance)?;
    write!(out, " ({}).", Hundredths(chance))
}

/// How something is found out: "see", "measure" …
#[must_use]
pub fn way(way: Way) -> &'static str {
    match way {
        Way::See => "see",
        Way::Feel => "feel",
        Way::Hear => "hear",
        Way::Smell => "smell",
        Way::Ask => "ask the owner",
        Way::Measure => "measure",
        Way::Count => "count",
        Way::Open => "open it up",
    }
}

/// Time: "45 min", "2 h", "2 h 30".
///
/// # Errors
/// What `out` gives.
pub fn time(out: &mut dyn Write, minutes: u16) -> fmt::Result {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => write!(out, "{minutes} min"),
        (hours, 0) => write!(out, "{hours} h"),
        (hours, minutes) => write!(out, "{hours} h {minutes:02}"),
    }
}

/// A text with its first letter in capitals.
#[derive(Clone, Copy, Debug)]
pub struct Capital<'t>(pub &'t str);

impl fmt::Display for Capital<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        Capitalising::new(f).write_str(self.0)
    }
}

/// Writes on, with the first letter in capitals.
pub struct Capitalising<'o> {
    out: &'o mut dyn Write,
    begun: bool,
}

impl<'o> Capitalising<'o> {
    /// Nothing is written yet.
    pub fn new(out: &'o mut dyn Write) -> Self {
        Self { out, begun: false }
    }
}

impl Write for Capitalising<'_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        let mut signs = text.chars();
        if !self.begun
            && let Some(first) = signs.next()
        {
            self.begun = true;
            for capital in first.to_uppercase() {
                self.out.write_char(capital)?;
            }
            return self.out.write_str(signs.as_str());
        }
        self.out.write_str(text)
    }
}
