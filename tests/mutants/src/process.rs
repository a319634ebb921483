//! Runs one test in a process of its own, which ends in time.

use crate::Trouble;
use crate::building::Program;
use std::ffi::OsStr;
use std::fs;
use std::os::unix::process::CommandExt as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// How a test ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// It passed.
    Passed,
    /// It failed, or its process broke down.
    Failed,
    /// It was ended because it took too long.
    TookTooLong,
}

/// A folder for what tests write, removed when it is done with.
#[derive(Debug)]
pub struct Room {
    /// The folder.
    pub folder: PathBuf,
}

impl Room {
    /// An empty one.
    pub fn make(folder: &Path) -> Result<Self, Trouble> {
        if folder.exists() {
            fs::remove_dir_all(folder)?;
        }
        fs::create_dir_all(folder.join("tmp"))?;
        fs::create_dir_all(folder.join("cache"))?;
        Ok(Self {
            folder: folder.to_owned(),
        })
    }
}

impl Drop for Room {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.folder);
    }
}

/// KiB of memory that a process may take: a loop without end must not take all.
const MEMORY: &str = "8000000";

/// Runs a test, with one variable in its environment.
pub fn run(
    program: &Program,
    test: &str,
    copy: &Path,
    room: &Room,
    (key, value): (&str, &OsStr),
    longest: Duration,
) -> Result<Ended, Trouble> {
    let begun = Instant::now();
    let mut child = Command::new("sh")
        .args(["-c", &format!("ulimit -v {MEMORY}; exec \"$@\""), "sh"])
        .arg(&program.path)
        .args(["--exact", test, "--test-threads=1"])
        .current_dir(&program.folder)
        .env(key, value)
        .env("CARGO_MANIFEST_DIR", &program.folder)
        .env("INSTA_UPDATE", "no")
        .env("INSTA_WORKSPACE_ROOT", copy)
        .env("PROPTEST_RNG_SEED", "1")
        .env("PROPTEST_DISABLE_FAILURE_PERSISTENCE", "1")
        .env("PROPTEST_MAX_SHRINK_ITERS", "0")
        .env("TMPDIR", room.folder.join("tmp"))
        .env("XDG_CACHE_HOME", room.folder.join("cache"))
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .process_group(0)
        .spawn()?;
    let mut pause = Duration::from_millis(1);
    loop {
        if let Some(status) = child.try_wait()? {
            return Ok(if status.success() {
                Ended::Passed
            } else {
                Ended::Failed
            });
        }
        if begun.elapsed() > longest {
            // With all that it has started.
            let group = format!("-{}", child.id());
            let _ = Command::new("kill").args(["-KILL", "--", &group]).status();
            child.wait()?;
            return Ok(Ended::TookTooLong);
        }
        std::thread::sleep(pause);
        pause = (pause * 2).min(Duration::from_millis(20));
    }
}
