//! The lent memory, area by area, and copying within it.

use core::cell::Cell;
use core::ops::Range;

use super::Belief;
use crate::number::Number;
use crate::piece::Piece;

/// The first numbers, and the rest; as many as there are, if too few.
pub(super) fn cut<N>(numbers: &mut [N], at: usize) -> (&mut [N], &mut [N]) {
    let at = at.min(numbers.len());
    numbers.split_at_mut(at)
}

/// As many as both have.
pub(super) fn copy<N: Copy>(to: &mut [N], from: &[N]) {
    for (to, from) in to.iter_mut().zip(from) {
        *to = *from;
    }
}

/// Copies numbers to another place of the same area.
pub(super) fn copy_within<N: Copy>(area: &mut [N], from: Range<usize>, to: Range<usize>) {
    let area = Cell::from_mut(area).as_slice_of_cells();
    let [from, to] = [from, to].map(|range| area.get(range).unwrap_or(&[]));
    for (to, from) in to.iter().zip(from) {
        to.set(from.get());
    }
}

/// The lent memory, area by area.
pub(super) struct Areas<'s, N> {
    /// Each part's message to its owner.
    pub(super) up: &'s mut [N],
    /// What each part is told by its owner.
    pub(super) down: &'s mut [N],
    /// The weights of no and yes of each state.
    pub(super) pairs: &'s mut [N],
    /// Values of a circuit's nodes.
    pub(super) values: &'s mut [N],
    /// Derivatives by the same nodes.
    pub(super) slopes: &'s mut [N],
}

impl<N: Number> Belief<'_, N> {
    pub(super) fn areas(&mut self) -> Areas<'_, N> {
        let need = self.need;
        let (up, rest) = cut(self.numbers, need.messages);
        let (down, rest) = cut(rest, need.messages);
        let (pairs, rest) = cut(rest, 2 * need.states);
        let (values, slopes) = cut(rest, need.values);
        Areas {
            up,
            down,
            pairs,
            values,
            slopes,
        }
    }

    /// Where the weights of a part's states stand: nowhere, for a part there is not.
    pub(super) fn pairs_of(&self, piece: &Piece<'_>, part: usize) -> Range<usize> {
        // There may be more desks than parts.
        let used = self.desks.get(..piece.parts().len()).unwrap_or(&[]);
        let start = |part: usize| {
            let desk = used.get(part);
            desk.map_or(2 * self.need.states, |desk| desk.pairs as usize)
        };
        start(part)..start(part.saturating_add(1))
    }
}
