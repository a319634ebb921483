//! Kinds of part, and where they stand in the tree of a piece.

use crate::pack::layout::layout;

layout! {
    /// A kind of piece or part. Kind 0 is "the piece", whatever it is.
    #[derive(Default)]
    Kind: 3 words {
        /// Text: singular.
        name: u16, at 0;
        /// Text: plural.
        plural: u16, at 2;
        /// First of its states; they stand together.
        first_state: u16, at 4;
        /// How many states it has.
        states: u16, at 6;
        /// First of its asks; they stand together.
        first_ask: u16, at 8;
        /// How many asks it has.
        asks: u16, at 10;
    }
}

layout! {
    /// A kind that is a kind of another.
    #[derive(Default)]
    Lineage: 1 words {
        /// The special kind.
        kind: u16, at 0;
        /// What it is a kind of.
        general: u16, at 2;
    }
}

layout! {
    /// Something that the house lets one remark at the bench, of whatever part.
    #[derive(Default)]
    Remark: 1 words {
        /// Text: what it says.
        text: u16, at 0;
    }
}

layout! {
    /// A kind where it stands in the tree of a piece. Places are in preorder: a
    /// place comes after its owner, and `place..end` is everything built into it.
    #[derive(Default)]
    Place: 4 words {
        /// The kind.
        kind: u16, at 0;
        /// The place it is built into; [`NONE`](crate::pack::NONE) for a whole piece.
        owner: u16, at 2;
        /// One past the last place built into it.
        end: u16, at 4;
        /// Its belief fragment.
        fragment: u16, at 6;
        /// Fewest in one owner.
        least: u8, at 8;
        /// Most in one owner.
        most: u8, at 9;
        /// Taken for granted until counted.
        usual: u8, at 10;
        /// How many of them have names of their own (left, right).
        names: u8, at 11;
        /// Text: the first of those names; they stand together.
        first_name: u16, at 12;
        /// The ask of the owner's kind that counts them;
        /// [`NONE`](crate::pack::NONE) if nobody does.
        counted_by: u16, at 14;
    }
}
