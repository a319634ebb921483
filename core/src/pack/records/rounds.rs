//! The round of a piece: what is asked, in which order.

use crate::pack::layout::layout;

layout! {
    /// The round of a piece: steps that stand together.
    #[derive(Default)]
    Round: 2 words {
        /// The kind of piece.
        piece: u16, at 0;
        /// Its first step.
        first: u16, at 2;
        /// How many steps.
        steps: u16, at 4;
    }
}

layout! {
    /// A step of a round.
    #[derive(Default)]
    Step: 2 words {
        /// What is asked, of every part of its kind.
        ask: u16, at 0;
        /// First word of the condition, with the piece as subject.
        condition: u32, at 4;
    }
}
