//! Which line of which file a place is on.

use crate::SourceFile;
use crate::span::Span;

/// Where the lines of the files begin.
#[derive(Clone, Debug, Default)]
pub struct Places {
    names: Vec<String>,
    starts: Vec<Vec<u32>>,
}

impl Places {
    /// Counts the lines of some files once.
    #[must_use]
    pub fn of(files: &[SourceFile]) -> Places {
        let mut places = Places::default();
        for file in files {
            places.names.push(file.name.clone());
            let mut starts = vec![0];
            for (index, byte) in file.text.bytes().enumerate() {
                if byte == b'\n' {
                    starts.push(u32::try_from(index + 1).unwrap_or(u32::MAX));
                }
            }
            places.starts.push(starts);
        }
        places
    }

    /// The line, from 1.
    #[must_use]
    pub fn number(&self, at: Span) -> usize {
        self.starts.get(usize::from(at.file.0)).map_or(1, |starts| {
            starts.partition_point(|s| *s <= at.start).max(1)
        })
    }

    /// "line 26"; where no files are known, "the house's rules".
    #[must_use]
    pub fn line(&self, at: Span) -> String {
        if self.names.is_empty() {
            return "the house's rules".to_owned();
        }
        format!("line {}", self.number(at))
    }

    /// "line 26", with the file if it is not the one of `seen_from`.
    #[must_use]
    pub fn line_from(&self, at: Span, seen_from: Span) -> String {
        if at.file == seen_from.file {
            return self.line(at);
        }
        match self.names.get(usize::from(at.file.0)) {
            Some(name) => format!("line {} of {name}", self.number(at)),
            None => self.line(at),
        }
    }
}
