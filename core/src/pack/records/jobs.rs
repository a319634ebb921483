//! Jobs, their order, and what they mend.

use crate::pack::layout::{layout, variants};

layout! {
    /// A job.
    #[derive(Default)]
    Job: 5 words {
        /// Text: its name.
        name: u16, at 0;
        /// Text: materials, as one list.
        needs: u16, at 2;
        /// Minutes: quickest, usual, slowest; all 0 if not known.
        takes: [u16; 3], at 4;
        /// Minutes of waiting after it, least and most.
        waits: [u16; 2], at 10;
        /// The kind it is done once for; [`NONE`](crate::pack::NONE): for the part that
        /// asks for it.
        once_for: u16, at 14;
        /// Text: the source.
        source: u16, at 16;
        /// Whether the owner must be asked first.
        ask_owner: bool, at 18;
        /// Where in the whole work it belongs: lower numbers come first.
        stage: u8, at 19;
    }
}

variants! {
    /// How one job comes before another.
    #[derive(Default)]
    Force: u16 {
        /// Better so.
        #[default]
        Better = 0,
        /// Always so.
        Always = 1,
        /// Always so, and the earlier job is done for the sake of the later.
        First = 2,
        ..
        /// Always so, and the later job must follow wherever the earlier is done.
        Then = 3
    }
}

layout! {
    /// One job before another.
    #[derive(Default)]
    Constraint: 2 words {
        /// Comes first.
        before: u16, at 0;
        /// Comes after it.
        after: u16, at 2;
        /// Text: why.
        because: u16, at 4;
        /// How much it holds.
        force: Force, at 6;
    }
}

layout! {
    /// Two numbers that belong together.
    #[derive(Default)]
    Pair: 2 words {
        /// A job.
        job: u16, at 0;
        /// A job never planned with it, or a state that it mends.
        other: u16, at 2;
        /// `other` is a state.
        mends: bool, at 4;
    }
}
