//! What can go wrong with a job folder, in plain words.

use crate::plain::io_reason;
use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

/// What went wrong with a job folder.
#[derive(Debug)]
pub enum JobError {
    /// There is no such folder.
    NoFolder(PathBuf),
    /// There is a folder, but no `job.txt` in it.
    NotAJob(PathBuf),
    /// Something of that name is there already.
    Taken(PathBuf),
    /// `job.txt` does not say what the piece is.
    NoPiece(PathBuf),
    /// `job.txt` is of a later layout than this tool knows.
    TooNew {
        /// The file.
        path: PathBuf,
        /// Its layout.
        layout: String,
    },
    /// No folder should have this name.
    Name(String),
    /// Another program is writing in it.
    Busy {
        /// What the lock says of its owner.
        by: String,
    },
    /// A finding must be one line of text.
    NotOneLine,
    /// Somebody else has settled the remark in the meantime.
    Settled,
    /// A line that would be read as something else than what was said.
    NotAsSaid(String),
    /// A file could not be read.
    Read {
        /// The file.
        path: PathBuf,
        /// Why.
        why: io::Error,
    },
    /// A file could not be written, and what there was of it could not be taken back.
    MayStand {
        /// The file.
        path: PathBuf,
        /// Why.
        why: io::Error,
    },
    /// A file could not be written; nothing of it is there.
    Write {
        /// The file.
        path: PathBuf,
        /// Why.
        why: io::Error,
    },
}

impl JobError {
    pub(super) fn read(path: &Path) -> impl FnOnce(io::Error) -> JobError {
        let path = path.to_owned();
        move |why| JobError::Read { path, why }
    }

    pub(super) fn write(path: &Path) -> impl FnOnce(io::Error) -> JobError {
        let path = path.to_owned();
        move |why| JobError::Write { path, why }
    }

    /// Whether the disk or the system is to blame, rather than what was asked.
    #[must_use]
    pub fn is_of_the_disk(&self) -> bool {
        matches!(
            self,
            JobError::Busy { .. }
                | JobError::Read { .. }
                | JobError::Write { .. }
                | JobError::MayStand { .. }
        )
    }
}

impl fmt::Display for JobError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            JobError::NoFolder(path) => write!(f, "There is no folder {}.", path.display()),
            JobError::NotAJob(path) => write!(
                f,
                "{} is not a job folder: there is no job.txt in it.",
                path.display()
            ),
            JobError::Taken(path) => write!(
                f,
                "{} is there already, and I will not write over it. Choose another name.",
                path.display()
            ),
            JobError::NoPiece(path) => write!(
                f,
                "{} does not say what the piece is. Add a line such as \"piece: \" and its name.",
                path.display()
            ),
            JobError::TooNew { path, layout } => write!(
                f,
                "{} was written by a later Tellmark (job folder {layout}). Use that one to open it.",
                path.display()
            ),
            JobError::Name(name) => write!(
                f,
                "\"{name}\" will not do as the name of a folder, here or on other systems. Use \
                 letters, figures, spaces and strokes, and no name of a device such as con or nul."
            ),
            JobError::Busy { by } => write!(
                f,
                "Somebody else is writing in this job ({by}). Nothing was written. Try again in \
                 a moment."
            ),
            JobError::Settled => {
                f.write_str("Somebody has settled this remark in the meantime. Nothing was noted.")
            }
            JobError::NotAsSaid(text) => write!(
                f,
                "This would be read as something else when the record is read again: {text}. \
                 Say it in other words. Nothing was noted."
            ),
            JobError::MayStand { path, why } => write!(
                f,
                "I could not write {}: {}. What was being written may stand at its end all the \
                 same: look there before you note it again.",
                path.display(),
                io_reason(why)
            ),
            JobError::NotOneLine => {
                write!(f, "A finding is one line of text, and this is not.")
            }
            JobError::Read { path, why } => {
                write!(
                    f,
                    "I could not read {}: {}.",
                    path.display(),
                    io_reason(why)
                )
            }
            JobError::Write { path, why } => write!(
                f,
                "I could not write {}: {}.",
                path.display(),
                io_reason(why)
            ),
        }
    }
}

impl std::error::Error for JobError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            JobError::Read { why, .. }
            | JobError::Write { why, .. }
            | JobError::MayStand { why, .. } => Some(why),
            _ => None,
        }
    }
}
