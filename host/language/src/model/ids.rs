//! Numbers that stand for entries of the model's lists.

macro_rules! index {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub struct $name(pub u16);
        impl $name {
            /// The place in its list.
            #[must_use]
            pub fn index(self) -> usize {
                usize::from(self.0)
            }
        }
    };
}

index!(
    /// A kind of piece or part: an index into [`Model::kinds`](super::Model::kinds).
    KindId
);

index!(
    /// Something that may be true of a part: an index into [`Model::states`](super::Model::states).
    StateId
);

index!(
    /// Something that can be found out about a part: an index into [`Model::signs`](super::Model::signs).
    SignId
);

index!(
    /// A job: an index into [`Model::jobs`](super::Model::jobs).
    JobId
);

index!(
    /// A source: an index into [`Model::sources`](super::Model::sources).
    SourceId
);

/// The kind that stands for "the piece", whatever piece it is. Its states and
/// signs belong to every kind that [`Kind::is_piece`](super::Kind::is_piece) says is a piece.
pub const PIECE: KindId = KindId(0);
