//! Whether words are the name of a part.

use super::matching::{after, is_nothing};
use crate::limits::MAX_DEPTH;
use crate::pack::{NONE, Pack};
use crate::piece::Part;
use crate::words::own_name;

/// How words fit a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fit {
    /// They are its name, with all that it is built into.
    Whole,
    /// They are its name without some or all of what it is built into.
    Beginning,
    /// They are not its name.
    No,
}

/// How words fit a part. At each step of its path a part may be called by its own
/// name ("left runner", "lock") or by its number ("runner 1", "lock 1"); the
/// whole piece may be named at the end or go without saying.
pub(crate) fn fit(pack: &Pack<'_>, parts: &[Part], part: usize, words: &str) -> Fit {
    let mut left = words;
    let mut at = part;
    for _ in 0..=MAX_DEPTH {
        let Some(record) = parts.get(at) else { break };
        let place = pack.place(usize::from(record.place));
        let name = pack.text(pack.kind(usize::from(place.kind)).name);
        let named = after(left, |out| own_name(out, pack, record));
        let numbered = after(left, |out| write!(out, "{name} {}", record.number));
        let mut rests = [named, numbered].into_iter().flatten();
        let owner = usize::from(record.owner);
        let is_last =
            record.owner == NONE || parts.get(owner).is_some_and(|owner| owner.owner == NONE);
        let step = rests.find_map(|rest| {
            if is_nothing(rest) {
                Some(None)
            } else {
                after(rest, |out| out.write_str("of")).map(Some)
            }
        });
        match step {
            Some(None) if is_last => return Fit::Whole,
            Some(None) => return Fit::Beginning,
            Some(Some(rest)) if record.owner != NONE => {
                left = rest;
                at = owner;
            }
            _ => break,
        }
    }
    Fit::No
}
