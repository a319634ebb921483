//! One writer at a time.

use super::trouble::Trouble;
use jiff::civil::DateTime;
use std::fs::{self, OpenOptions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// How long a writer waits for its turn. A line takes milliseconds.
const PATIENCE: Duration = Duration::from_secs(2);
const PAUSE: Duration = Duration::from_millis(10);

/// A turn at writing; it ends when this is dropped.
#[derive(Debug)]
pub(super) struct Turn {
    path: PathBuf,
}

impl Turn {
    /// Waits for a turn to write in this folder.
    pub(super) fn take(folder: &Path, now: DateTime) -> Result<Turn, Trouble> {
        let path = folder.join("record.lock");
        let until = Instant::now() + PATIENCE;
        loop {
            let made = OpenOptions::new().write(true).create_new(true).open(&path);
            match made {
                Ok(mut file) => {
                    let turn = Turn { path };
                    let who = format!(
                        "program number {} since {}\n",
                        std::process::id(),
                        now.strftime("%Y-%m-%d %H:%M")
                    );
                    // The lock holds by being there; who holds it is only for
                    // the message.
                    let _ = file.write_all(who.as_bytes());
                    return Ok(turn);
                }
                Err(why) if why.kind() == io::ErrorKind::AlreadyExists => {
                    if Instant::now() >= until {
                        return Err(Trouble::Busy {
                            by: holder(&path),
                            lock: path,
                        });
                    }
                    std::thread::sleep(PAUSE);
                }
                Err(why) => return Err(Trouble::Write { path, why }),
            }
        }
    }
}

fn holder(path: &Path) -> String {
    match fs::read_to_string(path) {
        Ok(who) if !who.trim().is_empty() => who.trim().to_owned(),
        _ => "it does not say who".to_owned(),
    }
}

impl Drop for Turn {
    fn drop(&mut self) {
        // If it cannot be removed, the next writer says which file to delete.
        let _ = fs::remove_file(&self.path);
    }
}
