//! States of parts, and how likely they are, in a few words or in a sentence.

use core::fmt::{self, Write};

use super::{Capitalising, Hundredths, part, sureness};
use crate::number::Share;
use crate::pack::{Pack, State, Verb};
use crate::piece::Part;

/// A hidden fault with its chance in words: "probably worn thin", "possibly
/// shows old glue".
///
/// # Errors
/// Those of `out`.
pub fn likely(out: &mut dyn Write, pack: &Pack<'_>, state: &State, chance: Share) -> fmt::Result {
    write!(out, "{} ", sureness(chance))?;
    self::state(out, pack, state)
}

/// A state: "worn thin", "shows old glue".
///
/// # Errors
/// Those of `out`.
pub fn state(out: &mut dyn Write, pack: &Pack<'_>, state: &State) -> fmt::Result {
    out.write_str(match state.verb {
        Verb::Is => "",
        Verb::Shows => "shows ",
        Verb::Has => "has ",
    })?;
    out.write_str(pack.text(state.phrase))
}

/// A hidden fault of a part with its chance, as a sentence: "Left runner of drawer 2 is
/// probably worn thin (67 in 100)."
///
/// # Errors
/// Those of `out`.
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
