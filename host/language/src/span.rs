//! Where in the house's files something was written.

/// One of the files of a pack, in the order they were given.
#[derive(
    serde::Serialize,
    serde::Deserialize,
    Clone,
    Copy,
    Debug,
    Default,
    PartialEq,
    Eq,
    Hash,
    PartialOrd,
    Ord,
)]
pub struct FileId(pub u16);

/// A stretch of one file, as byte offsets; `start..end`, end not included.
#[derive(
    serde::Serialize,
    serde::Deserialize,
    Clone,
    Copy,
    Debug,
    Default,
    PartialEq,
    Eq,
    Hash,
    PartialOrd,
    Ord,
)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// From the start of this one to the end of the other.
    #[must_use]
    pub fn to(self, other: Span) -> Span {
        Span {
            file: self.file,
            start: self.start.min(other.start),
            end: self.end.max(other.end),
        }
    }

    /// Whether there is nothing between start and end.
    #[must_use]
    pub fn is_empty(self) -> bool {
        self.start >= self.end
    }

    /// The words of `text` that this span covers; nothing if it is outside.
    #[must_use]
    pub fn words(self, text: &str) -> &str {
        text.get(self.start as usize..self.end as usize)
            .unwrap_or_default()
    }
}
