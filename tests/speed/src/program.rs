//! The command as a user starts it: a process each time.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

/// Runs of each command.
const RUNS: usize = 15;

/// Seconds of whole processes.
pub struct Times {
    /// `check` of the standard rules.
    pub check: f64,
    /// `triage` when nothing is kept yet.
    pub first: f64,
    /// `triage` after that.
    pub second: f64,
}

/// Measures the program at that path, with files in that folder.
pub fn times(program: &Path, folder: &Path) -> io::Result<Times> {
    let bench = Bench {
        program: program.to_owned(),
        kept: folder.join("kept"),
        folder: folder.to_owned(),
    };
    bench.clear()?;
    bench.run(&["open", "chest of drawers with 6 drawers", "--name", "job"])?;
    for note in NOTES {
        bench.run(&["note", "job", note])?;
    }
    let mut times = Times {
        check: f64::MAX,
        first: f64::MAX,
        second: f64::MAX,
    };
    for _ in 0..RUNS {
        bench.clear()?;
        times.first = times.first.min(bench.run(&["triage", "job"])?);
        times.second = times.second.min(bench.run(&["triage", "job"])?);
        times.check = times.check.min(bench.run(&["check"])?);
    }
    Ok(times)
}

const NOTES: [&str; 8] = [
    "left runner of drawer 2 is worn 3 mm",
    "drawer 2 is stiff",
    "drawer 3 looks creaking",
    "the lock of drawer 1 cannot be seen",
    "drawer 5 is not stiff",
    "drawer 6 is stiff",
    "right runner of drawer 6 is worn 1 mm",
    "the chest of drawers shows tapering gaps",
];

struct Bench {
    program: PathBuf,
    folder: PathBuf,
    kept: PathBuf,
}

impl Bench {
    /// Forgets what the program has kept.
    fn clear(&self) -> io::Result<()> {
        match fs::remove_dir_all(&self.kept) {
            Err(why) if why.kind() != io::ErrorKind::NotFound => Err(why),
            _ => Ok(()),
        }
    }

    fn run(&self, arguments: &[&str]) -> io::Result<f64> {
        let mut command = Command::new(&self.program);
        command
            .args(arguments)
            .current_dir(&self.folder)
            .env("XDG_CACHE_HOME", &self.kept)
            .stdout(Stdio::null());
        let start = Instant::now();
        let status = command.status()?;
        let seconds = start.elapsed().as_secs_f64();
        if status.success() {
            Ok(seconds)
        } else {
            Err(io::Error::other(format!("{arguments:?}: {status}")))
        }
    }
}
