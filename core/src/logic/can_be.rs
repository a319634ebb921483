//! What cannot be, as far as is known.

use super::Judge;
use crate::pack::Pack;
use crate::piece::Piece;
use crate::truth::Truth;

/// Whether a question makes sense of a part: what it asks for can be so there, as far
/// as is known.
#[must_use]
pub fn can_be(pack: &Pack<'_>, piece: &Piece<'_>, part: usize, ask: u16) -> bool {
    let mut judge = Judge::new(pack, piece, |_, _| None);
    let only_ifs = (0..pack.only_ifs()).map(|row| pack.only_if(row));
    let mut about = only_ifs.filter(|o| pack.state(usize::from(o.state)).ask == ask);
    about.all(|only_if| judge.holds(only_if.condition, part) != Truth::False)
}
