//! Puts sections together into the bytes of a pack.

use std::collections::HashMap;

use crate::numbers::{Number as _, Overflow};
use tellmark_core::pack::{CHECKSUM, HEADER_BYTES, MAGIC, MAJOR, SECTION_BYTES, Section};

/// The texts of a pack; number 0 is the empty text.
#[derive(Debug)]
pub struct Texts {
    texts: Vec<String>,
    known: HashMap<String, u16>,
}

impl Default for Texts {
    fn default() -> Self {
        Self {
            texts: vec![String::new()],
            known: HashMap::from([(String::new(), 0)]),
        }
    }
}

impl Texts {
    /// The number of a text; equal texts are stored once.
    ///
    /// # Errors
    /// [`Overflow`] if there are too many.
    pub fn add(&mut self, text: &str) -> Result<u16, Overflow> {
        if let Some(&number) = self.known.get(text) {
            return Ok(number);
        }
        let number = self.texts.len().half()?;
        self.texts.push(text.to_owned());
        self.known.insert(text.to_owned(), number);
        Ok(number)
    }

    /// Adds texts that must stand together; gives back the first one's number.
    ///
    /// # Errors
    /// [`Overflow`] if there are too many.
    pub fn add_row<S: AsRef<str>>(&mut self, texts: &[S]) -> Result<u16, Overflow> {
        if texts.is_empty() {
            return Ok(0);
        }
        let first = self.texts.len().half()?;
        for text in texts {
            self.texts.push(text.as_ref().to_owned());
        }
        self.texts.len().half()?;
        Ok(first)
    }

    /// As the words of their section.
    ///
    /// # Errors
    /// [`Overflow`] if they are too long.
    pub fn words(&self) -> Result<Vec<u32>, Overflow> {
        let mut words = vec![self.texts.len().word()?];
        let mut bytes = Vec::new();
        for text in &self.texts {
            words.push(bytes.len().word()?);
            bytes.extend_from_slice(text.as_bytes());
        }
        words.push(bytes.len().word()?);
        words.extend(words_of(bytes));
        Ok(words)
    }
}

/// Bytes as words, filled up with zeros.
#[must_use]
pub fn words_of(mut bytes: Vec<u8>) -> Vec<u32> {
    bytes.resize(bytes.len().next_multiple_of(4), 0);
    bytes
        .chunks_exact(4)
        .map(|b| u32::from_le_bytes([b[0], b[1], b[2], b[3]]))
        .collect()
}

/// The minor version of packs that use nothing that came later.
const USUAL_MINOR: u8 = 2;

/// A pack's sections in any order.
#[derive(Debug, Default)]
pub struct Sections {
    sections: Vec<(Section, Vec<u32>)>,
    /// Those that a reader who does not know them may skip.
    skippable: Vec<Section>,
}

impl Sections {
    /// Adds a section.
    pub fn add(&mut self, section: Section, words: Vec<u32>) {
        self.sections.push((section, words));
    }

    /// Adds a table.
    pub fn add_rows<const N: usize>(
        &mut self,
        section: Section,
        rows: impl IntoIterator<Item = [u32; N]>,
    ) {
        self.add(section, rows.into_iter().flatten().collect());
    }

    /// Adds a table that a reader who does not know it may skip.
    pub fn add_rows_to_skip<const N: usize>(
        &mut self,
        section: Section,
        rows: impl IntoIterator<Item = [u32; N]>,
    ) {
        self.skippable.push(section);
        self.add_rows(section, rows);
    }

    /// The whole pack, for readers of at least this minor version.
    ///
    /// # Errors
    /// [`Overflow`] if it is too long.
    pub fn finish(&self, lowest_minor: u8) -> Result<Vec<u8>, Overflow> {
        let first = HEADER_BYTES + SECTION_BYTES * self.sections.len();
        let total = first
            + self
                .sections
                .iter()
                .map(|(_, w)| w.len() * 4)
                .sum::<usize>();
        let mut bytes = Vec::with_capacity(total);
        bytes.extend_from_slice(&MAGIC);
        bytes.extend_from_slice(&[MAJOR, lowest_minor.max(USUAL_MINOR)]);
        bytes.extend_from_slice(&HEADER_BYTES.half()?.to_le_bytes());
        bytes.extend_from_slice(&total.word()?.to_le_bytes());
        bytes.extend_from_slice(&[0; 4]);
        let count = self.sections.len().byte()?;
        bytes.extend_from_slice(&[lowest_minor, count]);
        bytes.resize(HEADER_BYTES, 0);
        let mut offset = first;
        for (section, words) in &self.sections {
            let may_skip = u8::from(self.skippable.contains(section));
            bytes.extend_from_slice(&[*section as u8, may_skip, 0, 0]);
            bytes.extend_from_slice(&offset.word()?.to_le_bytes());
            bytes.extend_from_slice(&(words.len() * 4).word()?.to_le_bytes());
            offset += words.len() * 4;
        }
        for (_, words) in &self.sections {
            for word in words {
                bytes.extend_from_slice(&word.to_le_bytes());
            }
        }
        let mut digest = CHECKSUM.digest();
        digest.update(&bytes[..16]);
        digest.update(&bytes[20..]);
        bytes[16..20].copy_from_slice(&digest.finalize().to_le_bytes());
        Ok(bytes)
    }
}
