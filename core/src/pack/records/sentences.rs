//! The sentences of the rules, in their own words.

use crate::pack::layout::layout;

layout! {
    /// A sentence that gives a reason for a state.
    #[derive(Default)]
    Sentence: 2 words {
        /// The state it gives a reason for.
        state: u16, at 0;
        /// Its strength in thousandths.
        strength: u16, at 2;
        /// Text: the sentence as the house wrote it.
        text: u16, at 4;
        /// Text: the source.
        source: u16, at 6;
    }
}
