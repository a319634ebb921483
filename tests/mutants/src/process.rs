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
/// Says what time the test took to the shell's file of times, and ends as the test did.
const SCRIPT: &str =
    "ulimit -v \"$1\"; ulimit -S -t \"$2\"; shift 2; \"$@\"; code=$?; times > times; exit $code";
/// How a shell says that the processor's time had run out.
const OUT_OF_TIME: i32 = 128 + 24;
/// A test may stand still so many times as long as it may work.
const PATIENCE: u32 = 10;

/// Runs a test, with one variable in its environment; gives the time of the processor
/// that it took. That, unlike the time on the clock, is the same whatever else goes on.
pub fn run(
    program: &Program,
    test: &str,
    copy: &Path,
    room: &Room,
    (key, value): (&str, &OsStr),
    longest: Duration,
) -> Result<(Ended, Duration), Trouble> {
    let begun = Instant::now();
    let mut child = Command::new("sh")
        .args(["-c", SCRIPT, "sh", MEMORY])
        .arg(longest.as_secs().to_string())
        // Its own folder, and back for what it says of time.
        .args(["env", "-C"])
        .arg(&program.folder)
        .arg(&program.path)
        .args(["--exact", test, "--test-threads=1"])
        .current_dir(&room.folder)
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
    let ended = loop {
        if let Some(status) = child.try_wait()? {
            break match status.code() {
                Some(0) => Ended::Passed,
                Some(OUT_OF_TIME) => Ended::TookTooLong,
                _ => Ended::Failed,
            };
        }
        if begun.elapsed() > longest * PATIENCE {
            // With all that it has started.
            let group = format!("-{}", child.id());
            let _ = Command::new("kill").args(["-KILL", "--", &group]).status();
            child.wait()?;
            break Ended::TookTooLong;
        }
        std::thread::sleep(pause);
        pause = (pause * 2).min(Duration::from_millis(20));
    };
    let times = fs::read_to_string(room.folder.join("times")).unwrap_or_default();
    Ok((ended, of_children(&times)))
}

/// The processor's time of what a shell has run: "0m0.010s 0m0.000s" for itself, and a
/// second line for its children.
fn of_children(times: &str) -> Duration {
    let line = times.lines().nth(1).unwrap_or("");
    let one = |word: &str| -> Option<f64> {
        let (minutes, seconds) = word.strip_suffix('s')?.split_once('m')?;
        Some(minutes.parse::<f64>().ok()? * 60.0 + seconds.parse::<f64>().ok()?)
    };
    let all: f64 = line.split_whitespace().filter_map(one).sum();
    Duration::from_secs_f64(all)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shell_says_what_its_children_took() {
        let said = "0m0.010000s 0m0.020000s\n1m2.500000s 0m0.250000s\n";
        assert_eq!(of_children(said), Duration::from_millis(62_750));
        assert_eq!(of_children(""), Duration::ZERO);
    }
}
