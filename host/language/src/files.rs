//! The files of a pack, and which line of which file a place is on.

use std::ops::Deref;

use crate::span::Span;

/// A file of rules.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceFile {
    /// Its name, as it is shown.
    pub name: String,
    /// Its text.
    pub text: String,
    /// Whether it ships with the tool.
    pub standard: bool,
}

impl SourceFile {
    /// The folder in which the tool keeps families of pieces: standard files that each stand by
    /// themselves.
    pub const FAMILIES: &'static str = "families/";

    /// Whether it is one of a family: what it says is not about the pieces of other families.
    #[must_use]
    pub fn is_of_a_family(&self) -> bool {
        self.standard && self.name.starts_with(Self::FAMILIES)
    }
}

/// Some files, in the order in which a [`Span`] numbers them, with an index of
/// their lines.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Files {
    sources: Vec<SourceFile>,
    /// Of each file, the bytes at which its lines begin.
    starts: Vec<Vec<u32>>,
}

impl From<Vec<SourceFile>> for Files {
    fn from(sources: Vec<SourceFile>) -> Files {
        let starts = sources.iter().map(|file| line_starts(&file.text)).collect();
        Files { sources, starts }
    }
}

impl Deref for Files {
    type Target = [SourceFile];

    fn deref(&self) -> &[SourceFile] {
        &self.sources
    }
}

fn line_starts(text: &str) -> Vec<u32> {
    let after = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
    std::iter::once(0)
        .chain(after.map(|(index, _)| u32::try_from(index + 1).unwrap_or(u32::MAX)))
        .collect()
}

impl Files {
    /// The file that a place is in.
    #[must_use]
    pub fn file(&self, at: Span) -> Option<&SourceFile> {
        self.sources.get(usize::from(at.file.0))
    }

    /// The line, from 1.
    #[must_use]
    pub fn number(&self, at: Span) -> usize {
        self.starts.get(usize::from(at.file.0)).map_or(1, |starts| {
            starts.partition_point(|s| *s <= at.start).max(1)
        })
    }

    /// The byte at which the line of a place begins.
    #[must_use]
    pub fn line_start(&self, at: Span) -> usize {
        let starts = self.starts.get(usize::from(at.file.0));
        let start = starts.and_then(|starts| starts.get(self.number(at) - 1));
        start.map_or(0, |start| *start as usize)
    }

    /// "line 26"; where no files are known, "the house's rules".
    #[must_use]
    pub fn line(&self, at: Span) -> String {
        if self.sources.is_empty() {
            return "the house's rules".to_owned();
        }
        format!("line {}", self.number(at))
    }

    /// Whether this was written in the rules of a family of pieces.
    #[must_use]
    pub fn is_of_a_family(&self, at: Span) -> bool {
        self.file(at).is_some_and(SourceFile::is_of_a_family)
    }

    /// Whether two places are in two families of pieces, which are mostly not read together, and
    /// of which neither knows the words of the other.
    #[must_use]
    pub fn are_of_two_families(&self, one: Span, other: Span) -> bool {
        one.file != other.file && self.is_of_a_family(one) && self.is_of_a_family(other)
    }

    /// "line 26", with the file if it is not the one of `seen_from`.
    #[must_use]
    pub fn line_from(&self, at: Span, seen_from: Span) -> String {
        if at.file == seen_from.file {
            return self.line(at);
        }
        match self.file(at) {
            Some(file) => format!("line {} of {}", self.number(at), file.name),
            None => self.line(at),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Files, SourceFile};
    use crate::span::{FileId, Span};

    fn files(texts: &[&str]) -> Files {
        let named = texts.iter().enumerate().map(|(index, text)| SourceFile {
            name: format!("{index}.rules.txt"),
            text: (*text).to_owned(),
            standard: false,
        });
        Files::from(named.collect::<Vec<_>>())
    }

    fn at(file: u16, start: u32) -> Span {
        Span {
            file: FileId(file),
            start,
            end: start,
        }
    }

    #[test]
    fn a_line_begins_after_the_sign_that_ends_the_one_before() {
        let files = files(&["one\ntwo\n\nfour"]);
        let lines: Vec<usize> = [0, 3, 4, 7, 8, 9, 12]
            .map(|start| files.number(at(0, start)))
            .to_vec();
        assert_eq!(lines, [1, 1, 2, 2, 3, 4, 4]);
        assert_eq!(files.line_start(at(0, 6)), 4);
    }

    #[test]
    fn a_place_past_the_end_is_on_the_last_line_and_one_in_no_file_on_the_first() {
        let files = files(&["one\ntwo"]);
        assert_eq!(files.number(at(0, 4_000_000)), 2);
        assert_eq!(files.number(at(7, 2)), 1);
        assert_eq!(files.line_start(at(7, 2)), 0);
    }

    #[test]
    fn the_file_is_named_where_it_is_another() {
        let files = files(&["one", "a\nb"]);
        assert_eq!(files.line_from(at(1, 2), at(1, 0)), "line 2");
        assert_eq!(files.line_from(at(1, 2), at(0, 0)), "line 2 of 1.rules.txt");
    }

    #[test]
    fn without_files_the_rules_are_named() {
        assert_eq!(Files::default().line(at(0, 0)), "the house's rules");
    }
}
