//! What cannot be, as far as is known.

use super::Judge;
use crate::pack::Pack;
use crate::piece::Piece;

/// Whether a question makes sense of a part: what it asks for can be so there, as far
/// as is known.
#[must_use]
#[inline(never)]
pub fn can_be(pack: &Pack<'_>, piece: &Piece<'_>, part: usize, ask: u16) -> bool {
    let mut chance = |_: usize, _: u16| None;
    Judge::new(pack, piece, &mut chance).can_be(part, ask)
}
