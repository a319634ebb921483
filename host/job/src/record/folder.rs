//! Opening a job folder and adding to it.

use super::entry::{Entry, Says};
use super::header::Header;
use super::lines::{CUT_SHORT, Line, Record, Unread, written};
use super::lock::Turn;
use super::trouble::Trouble;
use crate::plain;
use jiff::civil::DateTime;
use std::fs::{File, OpenOptions};
use std::io::{self, Read as _, Seek as _, SeekFrom, Write as _};
use std::path::{Path, PathBuf};

pub(super) const HEADER_FILE: &str = "job.txt";
/// The file of a job's folder that holds its record.
pub const RECORD_FILE: &str = "record.txt";

/// A job folder.
#[derive(Clone, Debug)]
pub struct Job {
    folder: PathBuf,
    header: Header,
    record: Record,
}

/// What [`Job::append`] did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Added {
    /// The line it stands on, from 1.
    pub number: usize,
    /// A line before it had been cut short, and was ended with [`CUT_SHORT`].
    pub ended_a_torn_line: bool,
}

impl Job {
    /// Opens a job folder for reading; nothing in it changes. What a failing
    /// power left of a last line is among [`Job::unread`].
    pub fn open(folder: &Path) -> Result<Job, Trouble> {
        if !folder.is_dir() {
            return Err(Trouble::NoFolder(folder.to_owned()));
        }
        let path = folder.join(HEADER_FILE);
        let text = match plain::read_text(&path) {
            Ok(text) => text,
            Err(why) if why.kind() == io::ErrorKind::NotFound => {
                return Err(Trouble::NotAJob(folder.to_owned()));
            }
            Err(why) => return Err(Trouble::Read { path, why }),
        };
        Ok(Job {
            header: Header::from_text(&text, &path)?,
            record: read_record(folder)?,
            folder: folder.to_owned(),
        })
    }

    /// The folder.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// What `job.txt` says.
    #[must_use]
    pub fn header(&self) -> &Header {
        &self.header
    }

    /// The findings, oldest first.
    #[must_use]
    pub fn lines(&self) -> &[Line] {
        &self.record.lines
    }

    /// The lines with a label, oldest first: wishes, decisions, what was done.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        &self.record.entries
    }

    /// Lines that are neither a finding nor a remark, for the user to see.
    #[must_use]
    pub fn unread(&self) -> &[Unread] {
        &self.record.unread
    }

    /// Adds a finding. When this returns, the line is on the disk; when it
    /// fails, no whole line was added.
    pub fn append(&mut self, text: &str, now: DateTime) -> Result<Added, Trouble> {
        let text = text.trim();
        if text.is_empty() || text.contains(char::is_control) {
            return Err(Trouble::NotOneLine);
        }
        let turn = Turn::take(&self.folder, now)?;
        let added = self.write(&written(text, now), |_| Ok(()))?;
        drop(turn);
        Ok(added)
    }

    /// Adds a line with a label. When this returns, it is on the disk; when it
    /// fails, no whole line was added.
    pub fn append_entry(&mut self, says: &Says, now: DateTime) -> Result<Added, Trouble> {
        self.append(&says.to_string(), now)
    }

    /// Adds lines as they stand, each of them ended by a newline. `before` is
    /// told where in the file they will begin, and can still prevent it.
    ///
    /// When this returns, the lines are on the disk; when it fails or power
    /// does, those at the front may be.
    pub fn append_lines(
        &mut self,
        lines: &str,
        now: DateTime,
        before: impl FnOnce(u64) -> Result<(), Trouble>,
    ) -> Result<Added, Trouble> {
        let turn = Turn::take(&self.folder, now)?;
        let added = self.write(lines, before)?;
        drop(turn);
        Ok(added)
    }

    /// Reads the record again: another program may have added to it.
    pub(super) fn look_again(&mut self) -> Result<(), Trouble> {
        self.record = read_record(&self.folder)?;
        Ok(())
    }

    /// Writes lines at the end while it is our turn.
    pub(super) fn write(
        &mut self,
        lines: &str,
        before: impl FnOnce(u64) -> Result<(), Trouble>,
    ) -> Result<Added, Trouble> {
        let path = self.folder.join(RECORD_FILE);
        let mut file = OpenOptions::new()
            .read(true)
            .append(true)
            .create(true)
            .open(&path)
            .map_err(Trouble::write(&path))?;
        let torn = ends_in_a_torn_line(&mut file).map_err(Trouble::read(&path))?;
        let mut bytes = String::new();
        if torn {
            bytes.push_str(CUT_SHORT);
            bytes.push('\n');
        }
        let length = file.metadata().map_err(Trouble::read(&path))?.len();
        before(length + bytes.len() as u64)?;
        bytes.push_str(lines);
        file.write_all(bytes.as_bytes())
            .and_then(|()| file.sync_all())
            .map_err(Trouble::write(&path))?;
        // Another program may have added lines since this one looked, so the
        // number is counted in the file while it is still our turn.
        self.record = read_record(&self.folder)?;
        Ok(Added {
            number: self.record.last(),
            ended_a_torn_line: torn,
        })
    }
}

fn read_record(folder: &Path) -> Result<Record, Trouble> {
    let path = folder.join(RECORD_FILE);
    match plain::read(&path) {
        Ok(bytes) => Ok(Record::from_bytes(&bytes)),
        Err(why) if why.kind() == io::ErrorKind::NotFound => Ok(Record::default()),
        Err(why) => Err(Trouble::Read { path, why }),
    }
}

fn ends_in_a_torn_line(file: &mut File) -> io::Result<bool> {
    if file.metadata()?.len() == 0 {
        return Ok(false);
    }
    file.seek(SeekFrom::End(-1))?;
    let mut last = [0];
    file.read_exact(&mut last)?;
    Ok(last != *b"\n")
}
