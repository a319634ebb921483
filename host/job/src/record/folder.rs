//! Opening a job folder and adding to it.

use super::entry::{Entry, Says};
use super::error::JobError;
use super::header::Header;
use super::lines::{Line, Pen, Record, Tail, Unread, written};
use super::lock::Turn;
use crate::{inside, plain};
use jiff::civil::DateTime;
use std::fs::{self, File};
use std::io::{self, Read as _, Write as _};
use std::path::{Path, PathBuf};

/// The file that says what the piece is.
pub(crate) const HEADER_FILE: &str = "job.txt";
/// The file of a job's folder that holds its record.
pub const RECORD_FILE: &str = "record.txt";

/// A job folder.
#[derive(Clone, Debug)]
pub struct Job {
    pub(super) folder: PathBuf,
    pub(super) header: Header,
    pub(super) record: Record,
    pub(super) pen: Pen,
}

/// Something to be added to a record.
#[derive(Clone, Copy, Debug)]
pub enum New<'n> {
    /// A line in the words of the rules.
    Finding(&'n str),
    /// A line with a label.
    Entry(&'n Says),
}

/// What [`Job::append`] did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Added {
    /// The line it stands on, from 1; the last one, if there are several.
    pub number: usize,
    /// A line before it had been cut short, and was ended with [`super::CUT_SHORT`].
    pub ended_a_torn_line: bool,
}

impl Job {
    /// Opens a job folder for reading; nothing in it changes. What a failing
    /// power left of a last line is among [`Job::unread`].
    pub fn open(folder: &Path) -> Result<Job, JobError> {
        if !folder.is_dir() {
            return Err(JobError::NoFolder(folder.to_owned()));
        }
        Ok(Job {
            header: read_header(folder)?,
            record: read_record(folder)?,
            folder: folder.to_owned(),
            pen: Pen::default(),
        })
    }

    /// Says who writes from now on, and how their clock stands.
    pub fn write_as(&mut self, pen: Pen) {
        self.pen = pen;
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

    /// Adds a finding. When this returns, the line is on the disk and will be read as
    /// what was said.
    ///
    /// # Errors
    /// Nothing of the line is there then, except after [`JobError::MayStand`].
    pub fn append(&mut self, text: &str, now: DateTime) -> Result<Added, JobError> {
        self.append_all(&[New::Finding(text)], now)
    }

    /// Adds a line with a label, as [`Job::append`] does.
    pub fn append_entry(&mut self, says: &Says, now: DateTime) -> Result<Added, JobError> {
        self.append_all(&[New::Entry(says)], now)
    }

    /// Adds several lines in one write: all of them are there, or none.
    pub fn append_all(&mut self, new: &[New<'_>], now: DateTime) -> Result<Added, JobError> {
        let line = |new: &New<'_>| line(*new, now, &self.pen);
        let lines: Result<String, JobError> = new.iter().map(line).collect();
        self.append_lines(&lines?, now, |_| Ok(()))
    }

    /// Adds lines as they stand, each of them ended by a newline. `before` is
    /// told where in the file they will begin, and can still prevent it.
    ///
    /// When this returns, the lines are on the disk; when power fails before, none of them is,
    /// or one that is seen to be torn.
    pub fn append_lines(
        &mut self,
        lines: &str,
        now: DateTime,
        before: impl FnOnce(u64) -> Result<(), JobError>,
    ) -> Result<Added, JobError> {
        let turn = Turn::take(&self.folder, now)?;
        let added = self.write(lines, before)?;
        drop(turn);
        Ok(added)
    }

    /// Reads the record again: another program may have added to it.
    pub(super) fn look_again(&mut self) -> Result<(), JobError> {
        self.record = read_record(&self.folder)?;
        Ok(())
    }

    /// How the record ends.
    pub(super) fn tail(&self) -> Result<Tail, JobError> {
        Ok(Tail::of(&bytes_of(&self.folder.join(RECORD_FILE))?))
    }

    /// Writes lines at the end while it is our turn.
    pub(super) fn write(
        &mut self,
        lines: &str,
        before: impl FnOnce(u64) -> Result<(), JobError>,
    ) -> Result<Added, JobError> {
        let path = self.folder.join(RECORD_FILE);
        let is_new = fs::symlink_metadata(&path).is_err();
        let mut file = inside::open_to_add(&path).map_err(JobError::write(&path))?;
        // Another program may have added lines since this one looked, so everything is
        // read anew while it is our turn.
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes)
            .map_err(JobError::read(&path))?;
        inside::refuse_utf16(&bytes).map_err(JobError::write(&path))?;
        let length = bytes.len() as u64;
        let tail = Tail::of(&bytes);
        let mut adding = tail.ending();
        before(length + adding.len() as u64)?;
        adding.push_str(lines);
        bytes.extend_from_slice(adding.as_bytes());
        if adding.matches('\n').count() > 1 {
            drop(file);
            put_in_place(&path, &bytes, length)?;
        } else {
            let written = file
                .write_all(adding.as_bytes())
                .and_then(|()| file.sync_all())
                .and_then(|()| match is_new {
                    true => plain::sync_folder(&self.folder),
                    false => Ok(()),
                });
            if let Err(why) = written {
                return Err(take_back(&file, length, path, why));
            }
        }
        self.record = Record::from_bytes(&bytes);
        Ok(Added {
            number: bytes.iter().filter(|b| **b == b'\n').count(),
            ended_a_torn_line: tail == Tail::Torn,
        })
    }
}

/// Puts a record with several lines more in the place of the one that is there. Written at its
/// end they could be cut between two lines when power fails, and nobody would see that more had
/// been said.
fn put_in_place(path: &Path, bytes: &[u8], length: u64) -> Result<(), JobError> {
    let Err(why) = plain::write_whole(path, bytes) else {
        return Ok(());
    };
    let path = path.to_owned();
    match fs::symlink_metadata(&path) {
        Ok(there) if there.len() == length => Err(JobError::Write { path, why }),
        // It is in place, and not known to be on the disk.
        _ => match inside::open_to_add(&path) {
            Ok(file) => Err(take_back(&file, length, path, why)),
            Err(_) => Err(JobError::MayStand { path, why }),
        },
    }
}

/// Takes back what could not be written whole, so that nothing stands that its writer
/// was told had failed.
fn take_back(file: &File, length: u64, path: PathBuf, why: io::Error) -> JobError {
    match file.set_len(length) {
        Ok(()) => {
            // The length is right for every reader from now on. That a disk which has
            // just failed also forgets it cannot be ruled out.
            let _ = file.sync_all();
            JobError::Write { path, why }
        }
        Err(_) => JobError::MayStand { path, why },
    }
}

/// The line for the record, if it will be read again as what it says.
pub(super) fn line(new: New<'_>, now: DateTime, pen: &Pen) -> Result<String, JobError> {
    let text = match new {
        New::Finding(text) => text.trim().to_owned(),
        New::Entry(says) => says.to_string(),
    };
    if text.is_empty() || text.contains(char::is_control) {
        return Err(JobError::NotOneLine);
    }
    let line = written(&text, now, pen);
    let read = Record::from_bytes(line.as_bytes());
    let is_as_said = match (&read.lines[..], &read.entries[..], new) {
        ([line], [], New::Finding(_)) => line.text == text,
        ([], [entry], New::Finding(_)) => entry.says.to_string() == text,
        ([], [entry], New::Entry(says)) => entry.says == *says,
        _ => false,
    };
    if is_as_said {
        Ok(line)
    } else {
        Err(JobError::NotAsSaid(text))
    }
}

fn read_header(folder: &Path) -> Result<Header, JobError> {
    let path = folder.join(HEADER_FILE);
    let text = match inside::read_text(&path) {
        Ok(text) => text,
        Err(why) if why.kind() == io::ErrorKind::NotFound => {
            return Err(JobError::NotAJob(folder.to_owned()));
        }
        Err(why) => return Err(JobError::Read { path, why }),
    };
    Header::from_text(&text, &path)
}

/// What the piece of a job is, as its `job.txt` says.
///
/// # Errors
/// If there is no such job, or its `job.txt` cannot be read.
pub fn piece_name(folder: &Path) -> Result<String, JobError> {
    Ok(read_header(folder)?.piece)
}

/// The folder of rules that the `job.txt` of a job names, as it stands there.
///
/// # Errors
/// If there is no such job, or its `job.txt` cannot be read.
pub fn rules_folder(folder: &Path) -> Result<Option<String>, JobError> {
    Ok(read_header(folder)?.rules)
}

fn read_record(folder: &Path) -> Result<Record, JobError> {
    Ok(Record::from_bytes(&bytes_of(&folder.join(RECORD_FILE))?))
}

/// The bytes of a file in the folder; none if it is not there.
pub(super) fn bytes_of(path: &Path) -> Result<Vec<u8>, JobError> {
    match inside::read(path) {
        Err(why) if why.kind() == io::ErrorKind::NotFound => Ok(Vec::new()),
        read => read
            .and_then(|bytes| inside::refuse_utf16(&bytes).map(|()| bytes))
            .map_err(JobError::read(path)),
    }
}
