//! Where a state can be at all.

use crate::pack::layout::layout;

layout! {
    /// A state that can hold only where a condition does.
    #[derive(Default)]
    OnlyIf: 2 words {
        /// The state.
        state: u16, at 0;
        /// The ask that decides it.
        ask: u16, at 2;
        /// The condition, about the part that may have it.
        condition: u32, at 4;
    }
}
