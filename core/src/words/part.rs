//! What the parts of a piece are called.

use core::fmt::{self, Write};

use crate::limits::MAX_DEPTH;
use crate::pack::{NONE, Pack};
use crate::piece::Part;

/// A part: "left runner of drawer 2"; for the whole piece what it is: "chest of
/// drawers".
///
/// # Errors
/// Those of `out`.
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
        own_name(out, pack, &record)?;
        if record.owner == NONE {
            break;
        }
        at = usize::from(record.owner);
    }
    Ok(())
}

/// A part without what it is built into: "left runner", "drawer 2", "lock".
pub(crate) fn own_name(out: &mut dyn Write, pack: &Pack<'_>, record: &Part) -> fmt::Result {
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
