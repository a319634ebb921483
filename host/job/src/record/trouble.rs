//! What can go wrong with a job folder, in plain words.

use crate::plain::io_reason;
use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

/// What went wrong with a job folder.
#[derive(Debug)]
pub enum Trouble {
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
    /// Another program is writing in it, or one stopped while it did.
    Busy {
        /// The lock file.
        lock: PathBuf,
        /// What the lock says of its owner.
        by: String,
    },
    /// A finding must be one line of text.
    NotOneLine,
    /// A file could not be read.
    Read {
        /// The file.
        path: PathBuf,
        /// Why.
        why: io::Error,
    },
    /// A file could not be written.
    Write {
        /// The file.
        path: PathBuf,
        /// Why.
        why: io::Error,
    },
}

impl Trouble {
    pub(super) fn read(path: &Path) -> impl FnOnce(io::Error) -> Trouble {
        let path = path.to_owned();
        move |why| Trouble::Read { path, why }
    }

    pub(super) fn write(path: &Path) -> impl FnOnce(io::Error) -> Trouble {
        let path = path.to_owned();
        move |why| Trouble::Write { path, why }
    }

    /// Whether the disk or the system is to blame, rather than what was asked.
    #[must_use]
    pub fn is_of_the_disk(&self) -> bool {
        matches!(
            self,
            Trouble::Busy { .. } | Trouble::Read { .. } | Trouble::Write { .. }
        )
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Trouble::NoFolder(path) => write!(f, "There is no folder {}.", path.display()),
            Trouble::NotAJob(path) => write!(
                f,
                "{} is not a job folder: there is no job.txt in it.",
                path.display()
            ),
            Trouble::Taken(path) => write!(
                f,
                "{} is there already, and I will not write over it. Choose another name.",
                path.display()
            ),
            Trouble::NoPiece(path) => write!(
                f,
                "{} does not say what the piece is. Add a line such as \"piece: \" and its name.",
                path.display()
            ),
            Trouble::TooNew { path, layout } => write!(
                f,
                "{} was written by a later Tellmark (job folder {layout}). Use that one to open it.",
                path.display()
            ),
            Trouble::Busy { lock, by } => write!(
                f,
                "Somebody else is writing in this job ({by}). Nothing was written. \
                 If nobody is, a program was stopped half way: delete {} and try again.",
                lock.display()
            ),
            Trouble::NotOneLine => {
                write!(f, "A finding is one line of text, and this is not.")
            }
            Trouble::Read { path, why } => {
                write!(
                    f,
                    "I could not read {}: {}.",
                    path.display(),
                    io_reason(why)
                )
            }
            Trouble::Write { path, why } => write!(
                f,
                "I could not write {}: {}.",
                path.display(),
                io_reason(why)
            ),
        }
    }
}

impl std::error::Error for Trouble {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Trouble::Read { why, .. } | Trouble::Write { why, .. } => Some(why),
            _ => None,
        }
    }
}
