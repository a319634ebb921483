//! One writer at a time.

use super::error::JobError;
use crate::inside;
use jiff::civil::DateTime;
use std::fs::{self, File, TryLockError};
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// The file that is locked while somebody writes.
pub(super) const LOCK_FILE: &str = "record.lock";
/// How long a writer waits for its turn. A line takes milliseconds.
const PATIENCE: Duration = Duration::from_secs(2);
const PAUSE: Duration = Duration::from_millis(10);

/// A turn at writing; it ends when this is dropped, or the program ends in any way. It is
/// the system's lock on the file that counts, not that the file is there.
#[derive(Debug)]
pub(super) struct Turn {
    path: PathBuf,
    _locked: File,
}

impl Turn {
    /// Waits for a turn to write in this job's folder.
    pub(super) fn take(folder: &Path, now: DateTime) -> Result<Turn, JobError> {
        Turn::take_by(folder.join(LOCK_FILE), now)
    }

    /// Waits for the turn that this file stands for.
    pub(super) fn take_by(path: PathBuf, now: DateTime) -> Result<Turn, JobError> {
        let until = Instant::now() + PATIENCE;
        loop {
            let mut file = inside::open_to_add(&path).map_err(JobError::write(&path))?;
            match file.try_lock() {
                Ok(()) if is_still_there(&file, &path) => {
                    let who = format!(
                        "program number {} since {}\n",
                        std::process::id(),
                        now.strftime("%Y-%m-%d %H:%M")
                    );
                    // Who has the lock is only for the message to others.
                    let _ = file
                        .set_len(0)
                        .and_then(|()| file.write_all(who.as_bytes()));
                    return Ok(Turn {
                        path,
                        _locked: file,
                    });
                }
                // The one before removed it at the end of its turn.
                Ok(()) => {}
                Err(TryLockError::WouldBlock) if Instant::now() >= until => {
                    return Err(JobError::Busy { by: holder(&path) });
                }
                Err(TryLockError::WouldBlock) => std::thread::sleep(PAUSE),
                Err(TryLockError::Error(why)) => return Err(JobError::Write { path, why }),
            }
        }
    }
}

/// Whether the file is there and nobody has the lock.
pub(super) fn is_left_behind(folder: &Path) -> bool {
    // Where the file is never removed, it says nothing that it is there.
    cfg!(unix)
        && inside::open_to_read(&folder.join(LOCK_FILE))
            .is_ok_and(|file| file.try_lock_shared().is_ok())
}

/// Whether a lock on this file keeps others out: whether they would open the same one.
#[cfg(unix)]
fn is_still_there(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    let id = |what: fs::Metadata| (what.dev(), what.ino());
    match (file.metadata(), fs::symlink_metadata(path)) {
        (Ok(ours), Ok(theirs)) => id(ours) == id(theirs),
        _ => false,
    }
}

/// Elsewhere the file is never removed.
#[cfg(not(unix))]
fn is_still_there(_file: &File, _path: &Path) -> bool {
    true
}

fn holder(path: &Path) -> String {
    match inside::read_text(path) {
        Ok(who) if !who.trim().is_empty() => who.trim().to_owned(),
        _ => "it does not say who".to_owned(),
    }
}

impl Drop for Turn {
    fn drop(&mut self) {
        if cfg!(unix) {
            // If it stays, it is in nobody's way.
            let _ = fs::remove_file(&self.path);
        }
    }
}
