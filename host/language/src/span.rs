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

#[cfg(test)]
mod tests {
    use super::{FileId, Span};

    fn span(start: u32, end: u32) -> Span {
        Span {
            file: FileId(0),
            start,
            end,
        }
    }

    #[test]
    fn two_spans_are_joined_in_either_order() {
        assert_eq!(span(2, 5).to(span(7, 9)), span(2, 9));
        assert_eq!(span(7, 9).to(span(2, 5)), span(2, 9));
    }

    #[test]
    fn words_outside_the_text_or_within_a_letter_are_none() {
        assert_eq!(span(0, 5).words("hinge of"), "hinge");
        assert_eq!(span(6, 90).words("hinge of"), "");
        assert_eq!(span(0, 1).words("½ in"), "");
        assert_eq!(span(5, 2).words("hinge of"), "");
    }

    #[test]
    fn nothing_between_start_and_end_is_empty() {
        assert!(span(3, 3).is_empty());
        assert!(span(5, 3).is_empty());
        assert!(!span(3, 4).is_empty());
    }
}
