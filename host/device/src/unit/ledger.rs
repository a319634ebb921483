//! What came from the bench unit, kept in the job's folder as it was sent, so
//! that nothing is written into the record twice.
//!
//! Lines are only ever added:
//!
//! ```text
//! note 5eed0001 17 1100000004020300...    note 17 of the log 5eed0001
//! line 5eed0001 17 1234 2026-11-25 ...    it becomes this line of record.txt,
//!                                         which begins at byte 1234
//! done 5eed0001 17                        everything up to it is in record.txt
//! kept 5eed0001 17                        everything up to it is kept here, and the
//!                                         unit may forget it
//! ```
//!
//! A `line` is on the disk before the record is touched. If power fails
//! between the two, the byte tells whether the record has the line.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::io::{self, Read as _, Write as _};
use std::path::{Path, PathBuf};
use tellmark_core::log::{Entry, SLOT};
use tellmark_job::record::{CUT_SHORT, JobError, RECORD_FILE};
use tellmark_job::{inside, plain};

/// The name of the file.
pub const LEDGER_FILE: &str = "bench-unit.txt";

const HEAD: &str = "\
# What the bench unit sent, as it was sent. Tellmark goes by it so that nothing
# is written into record.txt twice; leave it as it is.
";

/// What a job's folder has from one unit.
#[derive(Debug)]
pub(super) struct Ledger {
    path: PathBuf,
    log: u32,
    /// The notes, those not in the record yet among them.
    pub notes: BTreeMap<u32, Entry>,
    /// Everything up to this note is in the record.
    pub done: u32,
    /// Everything up to this note is kept, whether or not it is in the record.
    pub kept: u32,
    /// Lines of the notes after that which are in the record all the same.
    pub there: Vec<(u32, String)>,
}

impl Ledger {
    /// Reads what the folder has from the log of this name.
    pub fn open(folder: &Path, log: u32) -> Result<Ledger, JobError> {
        let path = folder.join(LEDGER_FILE);
        let text = match read(&path)? {
            Some(bytes) => String::from_utf8_lossy(&bytes).into_owned(),
            None => String::new(),
        };
        let mut ledger = Ledger {
            path,
            log,
            notes: BTreeMap::new(),
            done: 0,
            kept: 0,
            there: Vec::new(),
        };
        let mut lines = Vec::new();
        for line in text.split_inclusive('\n') {
            let Some(line) = line.strip_suffix('\n') else {
                continue;
            };
            // Where files travel, line ends change.
            let line = line.strip_suffix('\r').unwrap_or(line);
            let words = line.split_once(' ').and_then(|(kind, rest)| {
                let (name, rest) = rest.split_once(' ')?;
                let (number, rest) = rest.split_once(' ').unwrap_or((rest, ""));
                let name = u32::from_str_radix(name, 16).ok()?;
                Some((kind, name, number.parse::<u32>().ok()?, rest))
            });
            let Some((kind, name, number, rest)) = words else {
                continue;
            };
            if name != log || line.ends_with(CUT_SHORT) {
                continue;
            }
            match kind {
                "note" => {
                    if let Some(entry) = from_hex(rest).filter(|e| e.sequence == number) {
                        ledger.notes.insert(number, entry);
                    }
                }
                "line" => lines.push((number, rest)),
                "done" => ledger.done = ledger.done.max(number),
                "kept" => ledger.kept = ledger.kept.max(number),
                _ => {}
            }
        }
        lines.retain(|(number, _)| *number > ledger.done);
        if !lines.is_empty() {
            let record = read(&folder.join(RECORD_FILE))?.unwrap_or_default();
            for (number, line) in lines {
                if let Some((at, line)) = line.split_once(' ')
                    && is_there(&record, at, line)
                {
                    ledger.there.push((number, line.to_owned()));
                }
            }
        }
        Ok(ledger)
    }

    /// The logs of which the folder has notes that were only kept.
    pub fn logs_kept(folder: &Path) -> Result<BTreeSet<u32>, JobError> {
        let text = read(&folder.join(LEDGER_FILE))?.unwrap_or_default();
        let text = String::from_utf8_lossy(&text);
        let kept = text.lines().filter_map(|line| {
            let name = line.strip_prefix("kept ")?.split(' ').next()?;
            u32::from_str_radix(name, 16).ok()
        });
        Ok(kept.collect())
    }

    /// The notes that were only kept, and are not in the record.
    pub fn only_kept(&self) -> Vec<Entry> {
        if self.kept <= self.done {
            return Vec::new();
        }
        let notes = self.notes.range(self.done.saturating_add(1)..=self.kept);
        notes.map(|(_, entry)| *entry).collect()
    }

    /// The lines that keep a note, if it is not kept yet.
    pub fn note(&mut self, entry: &Entry) -> String {
        if self.notes.insert(entry.sequence, *entry).is_some() {
            return String::new();
        }
        let mut text = format!("note {:08x} {} ", self.log, entry.sequence);
        for byte in entry.to_slot() {
            // Writing to a string cannot fail.
            let _ = write!(text, "{byte:02x}");
        }
        text.push('\n');
        text
    }

    /// The line that says where a line of the record will be.
    pub fn line(&self, number: u32, at: u64, line: &str) -> String {
        format!("line {:08x} {number} {at} {line}\n", self.log)
    }

    /// Adds lines; when this returns they are on the disk, and when it fails none is
    /// there, unless they could not be taken back.
    pub fn append(&self, lines: &str) -> Result<(), JobError> {
        if lines.is_empty() {
            return Ok(());
        }
        let path = self.path.clone();
        let mut file = match inside::open_to_add(&path) {
            Ok(file) => file,
            Err(why) => return Err(JobError::Write { path, why }),
        };
        let mut before = Vec::new();
        if let Err(why) = file.read_to_end(&mut before) {
            return Err(JobError::Read { path, why });
        }
        let mut text = match before.last() {
            None => HEAD.to_owned(),
            Some(b'\n') => String::new(),
            Some(_) => format!("{CUT_SHORT}\n"),
        };
        text.push_str(lines);
        let folder = path.parent().filter(|_| before.is_empty());
        let written = file
            .write_all(text.as_bytes())
            .and_then(|()| file.sync_all())
            .and_then(|()| folder.map_or(Ok(()), plain::sync_folder));
        match written {
            Ok(()) => Ok(()),
            Err(why) => Err(match file.set_len(before.len() as u64) {
                Ok(()) => JobError::Write { path, why },
                Err(_) => JobError::MayStand { path, why },
            }),
        }
    }

    /// Everything up to this note is kept.
    pub fn keep(&mut self, number: u32) -> Result<(), JobError> {
        self.append(&format!("kept {:08x} {number}\n", self.log))?;
        self.kept = number;
        Ok(())
    }

    /// Everything up to this note is in the record.
    pub fn finish(&mut self, number: u32) -> Result<(), JobError> {
        self.append(&format!("done {:08x} {number}\n", self.log))?;
        self.done = number;
        Ok(())
    }
}

fn read(path: &Path) -> Result<Option<Vec<u8>>, JobError> {
    match inside::read(path) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(why) if why.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(why) => Err(JobError::Read {
            path: path.to_owned(),
            why,
        }),
    }
}

fn is_there(record: &[u8], at: &str, line: &str) -> bool {
    let there = at.parse().ok().and_then(|at: usize| record.get(at..));
    let rest = there.and_then(|rest| rest.strip_prefix(line.as_bytes()));
    rest.is_some_and(|rest| rest.starts_with(b"\n"))
}

fn from_hex(text: &str) -> Option<Entry> {
    let mut slot = [0; SLOT];
    if text.len() != 2 * SLOT {
        return None;
    }
    for (i, byte) in slot.iter_mut().enumerate() {
        *byte = u8::from_str_radix(text.get(2 * i..2 * i + 2)?, 16).ok()?;
    }
    Entry::from_slot(slot)
}
