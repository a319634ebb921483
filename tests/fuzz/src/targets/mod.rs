//! What is fuzzed: for each kind of input a function over any bytes.
//!
//! A target is a function that must come back, soon and with little memory, whatever
//! bytes it is given. It may panic only because of a mistake in the program, so checks of
//! what must always hold are assertions. To add one: its file here, and its line in
//! [`TARGETS`].

mod bench;
mod flash;
mod house;
mod job;
mod link;
mod notes;
mod pack;
mod photo;
mod rules;
mod script;
mod survey;
mod unit;

use std::collections::HashSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

/// What inputs are made of, for the one that changes them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Words and lines.
    Text,
    /// Bytes and numbers.
    Bytes,
}

/// Something that reads what it did not write itself.
#[derive(Clone, Copy, Debug)]
pub struct Target {
    /// Its name, for the command line and for files.
    pub name: &'static str,
    /// What its inputs are made of.
    pub form: Form,
    /// Bytes of the longest input.
    pub longest: usize,
    /// Bytes that a case may take at least, however low the bound.
    pub memory: usize,
    /// Runs it over one input.
    pub run: fn(&[u8], &mut Seen),
    /// What it begins with.
    pub seeds: fn() -> Vec<Vec<u8>>,
    /// Words that are put into inputs here and there.
    pub words: fn() -> Vec<Vec<u8>>,
}

/// Every target.
pub const TARGETS: [Target; 12] = [
    rules::TARGET,
    house::TARGET,
    notes::TARGET,
    job::TARGET,
    pack::TARGET,
    survey::TARGET,
    bench::TARGET,
    link::TARGET,
    unit::TARGET,
    flash::TARGET,
    photo::TARGET,
    script::TARGET,
];

/// The target of this name.
#[must_use]
pub fn named(name: &str) -> Option<&'static Target> {
    TARGETS.iter().find(|target| target.name == name)
}

/// What a target did with an input, as marks. An input that leaves a mark for the first
/// time is worth changing further.
#[derive(Clone, Debug, Default)]
pub struct Seen {
    marks: Vec<u64>,
}

impl Seen {
    /// Leaves a mark: of what sort, and which.
    pub fn note(&mut self, sort: u8, which: u64) {
        let mark = which.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ (u64::from(sort) << 56);
        self.marks.push(mark);
    }

    /// Leaves a mark made from words, such as an error as it is printed for programmers.
    pub fn note_words(&mut self, sort: u8, words: &str) {
        let which = words.bytes().fold(0xcbf2_9ce4_8422_2325, |sum, byte| {
            (sum ^ u64::from(byte)).wrapping_mul(0x100_0000_01b3)
        });
        self.note(sort, which);
    }

    /// Leaves a mark for which kind of error it is: the first word of how it is printed
    /// for programmers.
    pub fn note_kind(&mut self, sort: u8, error: &impl std::fmt::Debug) {
        let text = format!("{error:?}");
        let kind = text.split(|c: char| !c.is_alphanumeric()).next();
        self.note_words(sort, kind.unwrap_or_default());
    }

    /// Leaves a mark for how large a number is, in steps of two.
    pub fn note_size(&mut self, sort: u8, size: usize) {
        self.note(sort, u64::from(size.checked_ilog2().map_or(0, |n| n + 1)));
    }

    /// Forgets all.
    pub fn clear(&mut self) {
        self.marks.clear();
    }

    /// Moves the marks into those of a campaign; whether one was new.
    pub fn add_to(&mut self, all: &mut HashSet<u64>) -> bool {
        let mut is_new = false;
        for mark in self.marks.drain(..) {
            is_new |= all.insert(mark);
        }
        is_new
    }
}

/// The bytes of an input, taken one after another; zeros when there are no more.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bytes<'a> {
    rest: &'a [u8],
}

impl<'a> Bytes<'a> {
    pub(crate) fn of(input: &'a [u8]) -> Self {
        Self { rest: input }
    }

    pub(crate) fn is_empty(self) -> bool {
        self.rest.is_empty()
    }

    pub(crate) fn byte(&mut self) -> u8 {
        let (first, rest) = self.rest.split_first().unwrap_or((&0, &[]));
        self.rest = rest;
        *first
    }

    pub(crate) fn half(&mut self) -> u16 {
        u16::from_le_bytes([self.byte(), self.byte()])
    }

    /// A whole number, small ones and those at the limits more often than others.
    pub(crate) fn number(&mut self) -> u32 {
        match self.byte() {
            small @ 0..200 => u32::from(small),
            200..220 => u32::from(self.half()),
            220..230 => u32::MAX - u32::from(self.byte()),
            230..236 => i32::MAX.cast_unsigned() - 8 + u32::from(self.byte() % 16),
            _ => u32::from(self.half()) | u32::from(self.half()) << 16,
        }
    }

    pub(crate) fn take(&mut self, number: usize) -> &'a [u8] {
        let (taken, rest) = self.rest.split_at(number.min(self.rest.len()));
        self.rest = rest;
        taken
    }

    /// As many as the next byte says.
    pub(crate) fn block(&mut self) -> &'a [u8] {
        let number = usize::from(self.byte());
        self.take(number)
    }
}

/// A number made from all bytes of an input, so that choices depend on nothing else.
pub(crate) fn sum(input: &[u8]) -> u64 {
    crc::Crc::<u64>::new(&crc::CRC_64_XZ).checksum(input)
}

/// The root of the repository.
pub(crate) fn repository() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// A file of the repository; empty if it is not there.
pub(crate) fn file(path: &str) -> Vec<u8> {
    fs::read(repository().join(path)).unwrap_or_default()
}

/// The files of a folder of the repository whose names end so, by name.
pub(crate) fn files(folder: &str, ending: &str) -> Vec<Vec<u8>> {
    let mut paths: Vec<PathBuf> = fs::read_dir(repository().join(folder))
        .into_iter()
        .flatten()
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| path.to_string_lossy().ends_with(ending))
        .collect();
    paths.sort();
    paths
        .iter()
        .filter_map(|path| fs::read(path).ok())
        .collect()
}

/// The inputs that are kept in the repository for a target: every one that did harm once.
#[must_use]
pub fn kept(target: &Target) -> Vec<(PathBuf, Vec<u8>)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("corpus")
        .join(target.name);
    let mut paths: Vec<PathBuf> = fs::read_dir(folder)
        .into_iter()
        .flatten()
        .flatten()
        .map(|entry| entry.path())
        .collect();
    paths.sort();
    paths
        .into_iter()
        .filter_map(|path| fs::read(&path).ok().map(|bytes| (path, bytes)))
        .collect()
}

/// Every word of some texts, once.
pub(crate) fn words_in(texts: &[Vec<u8>]) -> Vec<Vec<u8>> {
    let mut words: Vec<Vec<u8>> = texts
        .iter()
        .flat_map(|text| text.split(|b| !(b.is_ascii_alphanumeric() || *b >= 0x80)))
        .filter(|word| !word.is_empty())
        .map(<[u8]>::to_vec)
        .collect();
    words.sort();
    words.dedup();
    words
}

/// Where targets that need files put them; set once, before the first case.
static SCRATCH: OnceLock<PathBuf> = OnceLock::new();

/// Lets targets put their files in this folder. Whoever says so removes it afterwards.
pub fn set_scratch(folder: &Path) {
    let _ = SCRATCH.set(folder.to_owned());
}

/// A folder for the files of a target, empty.
pub(crate) fn scratch(name: &str) -> PathBuf {
    let parent = SCRATCH.get().cloned();
    let parent = parent.unwrap_or_else(|| std::env::temp_dir().join("tellmark-fuzz"));
    let folder = parent.join(name);
    let _ = fs::remove_dir_all(&folder);
    let _ = fs::create_dir_all(&folder);
    folder
}
