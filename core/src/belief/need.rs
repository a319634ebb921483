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
    /// Nodes of the largest fragment, needed twice.
    pub nodes: usize,
    /// Room to take in the parts of one group.
    pub gathering: usize,
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
            need.nodes = need.nodes.max(fragment.nodes());
            need.message = need.message.max(fragment.entries());
            need.part_states = need.part_states.max(usize::from(fragment.states));
            let program = pack.program(&fragment);
            for (g, child) in pack.children(place).enumerate() {
                let entries = program.group(g).entries();
                let parts = piece.children_at(index, child).len();
                need.gathering = need.gathering.max(entries * (parts + 3));
            }
        }
        need
    }

    /// All of it.
    #[must_use]
    pub fn numbers(&self) -> usize {
        2 * self.messages + 2 * self.states + 2 * self.nodes + self.gathering
    }

    /// What holding a state true takes beside it.
    #[must_use]
    pub fn to_hold(&self) -> usize {
        self.messages + self.message + 2 * self.part_states
    }
}
