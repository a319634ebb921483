//! A pack, to the unit.

use super::line::{Line, LinkError, Size};
use super::port::Wire;
use tellmark_core::link::{Answer, MAX_PIECE, Refusal, Request};
use tellmark_core::pack::Pack;

/// Smallest piece, for a line that damages longer ones.
const LEAST_PIECE: usize = 32;
/// Pieces that are sent without getting further before the unit is given up. One that was
/// switched off and on goes back to the beginning of a sector of flash, which is 128 of the
/// smallest pieces.
const GETTING_NOWHERE: usize = 1_000;
/// How often a pack that arrived damaged is sent again from the beginning.
const TRIES: usize = 3;

/// What became of a pack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sent {
    /// The unit had it already.
    pub had_it: bool,
    /// Bytes that were there from an earlier time, when sending was cut short.
    pub resumed_at: u32,
    /// Bytes of the pack.
    pub length: u32,
}

/// Sends a pack and lets the unit go by it. `progress` is told how many bytes
/// are there.
pub fn send<W: Wire>(
    line: &mut Line<W>,
    pack: &Pack<'_>,
    bytes: &[u8],
    anyway: bool,
    mut progress: impl FnMut(u32),
) -> Result<Sent, LinkError> {
    let id = pack.id();
    let length = u32::try_from(bytes.len()).unwrap_or(u32::MAX);
    let mut resumed_at = None;
    for _ in 0..TRIES {
        let offer = Request::Offer { id, length, anyway };
        let Some(next) = line.ask(offer, |answer| wanted(answer, id))? else {
            return Ok(Sent {
                had_it: resumed_at.is_none(),
                resumed_at: resumed_at.unwrap_or(0),
                length,
            });
        };
        let resumed_at = *resumed_at.get_or_insert(next);
        pieces(line, id, bytes, next, &mut progress)?;
        let switch = Request::SwitchOver { id, anyway };
        match line.ask(switch, |answer| wanted(answer, id)) {
            Ok(_) => {
                return Ok(Sent {
                    had_it: false,
                    resumed_at,
                    length,
                });
            }
            // A piece was damaged in a way that its check sum did not show.
            Err(LinkError::Refused(Refusal::BadPack)) => {}
            Err(trouble) => return Err(trouble),
        }
    }
    Err(LinkError::Refused(Refusal::BadPack))
}

/// The byte that is wanted next; `Some(None)` if the unit goes by the pack.
fn wanted(answer: Answer<'_>, pack: u32) -> Option<Option<u32>> {
    match answer {
        Answer::Wanted { next } => Some(Some(next)),
        Answer::Current { id } if id == pack => Some(None),
        _ => None,
    }
}

fn pieces<W: Wire>(
    line: &mut Line<W>,
    id: u32,
    bytes: &[u8],
    mut next: u32,
    progress: &mut impl FnMut(u32),
) -> Result<(), LinkError> {
    let mut size = Size::new(LEAST_PIECE, MAX_PIECE);
    let (mut furthest, mut nowhere) = (next, 0);
    loop {
        if next > furthest {
            (furthest, nowhere) = (next, 0);
        }
        nowhere += 1;
        if nowhere > GETTING_NOWHERE {
            return Err(LinkError::Nonsense);
        }
        progress(next);
        let at = next as usize;
        if at >= bytes.len() {
            return Ok(());
        }
        // No piece goes over the end of a page of flash.
        let page_end = (at / MAX_PIECE + 1) * MAX_PIECE;
        let piece = |size: usize| {
            let end = (at + size).min(page_end).min(bytes.len());
            let bytes = bytes.get(at..end).unwrap_or_default();
            Request::Piece {
                id,
                at: next,
                bytes,
            }
        };
        next = line
            .ask_sized(&mut size, piece, |answer| wanted(answer, id))?
            .ok_or(LinkError::Nonsense)?;
    }
}
