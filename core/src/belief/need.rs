//! How much memory a piece takes.

use super::fragment;
use crate::pack::Pack;
use crate::piece::Piece;

/// How many numbers each area of the lent memory takes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Need {
    /// Messages up, and as many down.
    pub messages: usize,
    /// States, two numbers each.
    pub states: usize,
    /// Values of the nodes of a fragment, and then, in their place, room to tell
    /// the parts of one group what the rest of the piece says.
    pub values: usize,
    /// Slopes of the same nodes, and before them, in their place, room to take in
    /// the parts of one group.
    pub slopes: usize,
    /// Entries of the largest message.
    pub message: usize,
    /// States of the part with the most.
    pub part_states: usize,
}

impl Need {
    /// What this piece needs.
    #[must_use]
    pub fn of(pack: &Pack<'_>, piece: &Piece<'_>) -> Self {
        let mut need = Self::default();
        for (index, part) in piece.parts().iter().enumerate() {
            let place = usize::from(part.place);
            let fragment = fragment(pack, place);
            need.messages += fragment.entries();
            need.states += usize::from(fragment.states);
            need.values = need.values.max(fragment.nodes());
            need.slopes = need.slopes.max(fragment.nodes());
            need.message = need.message.max(fragment.entries());
            need.part_states = need.part_states.max(usize::from(fragment.states));
            let program = pack.program(&fragment);
            for (g, child) in pack.children(place).enumerate() {
                let entries = program.group(g).entries();
                let parts = piece.children_at(index, child).len();
                need.values = need.values.max(entries * (parts + 3));
                need.slopes = need.slopes.max(entries * 3);
            }
        }
        need
    }

    /// All of it.
    #[must_use]
    pub fn numbers(&self) -> usize {
        2 * self.messages + 2 * self.states + self.values + self.slopes
    }

    /// What holding a state true takes beside it.
    #[must_use]
    pub fn to_hold(&self) -> usize {
        self.messages + self.message + 2 * self.part_states
    }
}
