//! A user in a folder of their own, who types commands and reads what they say.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use tempfile::TempDir;

/// What a command printed and how it ended.
pub struct Ran {
    /// Its exit code.
    pub code: Option<i32>,
    /// What it answered.
    pub out: String,
    /// What it complained of.
    pub err: String,
}

impl Ran {
    /// What came of a command.
    pub fn of(output: Output) -> Ran {
        Ran {
            code: output.status.code(),
            out: String::from_utf8(output.stdout).expect("text"),
            err: String::from_utf8(output.stderr).expect("text"),
        }
    }

    /// Everything in one text, for a snapshot.
    pub fn all(&self) -> String {
        let code = self.code.map_or("killed".to_owned(), |c| c.to_string());
        format!("{}---- errors\n{}---- ends with {code}", self.out, self.err)
    }

    /// The data that it answered, if all is well.
    pub fn json(&self) -> serde_json::Value {
        assert_eq!(self.code, Some(0), "{}", self.err);
        serde_json::from_str(&self.out).expect("JSON")
    }
}

/// A user, and the folder they are in.
pub struct User {
    folder: TempDir,
}

/// What was worked out of rules is kept here for all tests: it is only a short cut, under a name
/// that is made from the rules and the program.
pub fn cache() -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join("cache")
}

impl User {
    /// In an empty folder.
    pub fn new() -> User {
        User {
            folder: tempfile::tempdir().expect("a temporary folder"),
        }
    }

    /// With a job in the folder "chest".
    pub fn with_chest(header: &str, record: &str) -> User {
        let user = User::new();
        user.make("chest");
        user.write("chest/job.txt", header);
        user.write("chest/record.txt", record);
        user
    }

    /// With a copy of the demonstration job in the folder "chest".
    pub fn with_demonstration() -> User {
        User::with_job_like("landing-chest")
    }

    /// With a copy of one of the repository's jobs in the folder "chest".
    pub fn with_job_like(name: &str) -> User {
        let jobs = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/jobs");
        let text = |file| fs::read_to_string(jobs.join(name).join(file)).expect("there");
        User::with_chest(&text("job.txt"), &text("record.txt"))
    }

    /// With a house in the folder "house" that asks 30 marks an hour, and a chest in "chest" with
    /// one drawer whose runners are worn.
    pub fn with_priced_house() -> User {
        let user = User::new();
        user.works(&["house", "begin", "house", "--name", "the bench at Tanyard"]);
        let filled = user
            .text("house/prices.rhai")
            .replace("const CURRENCY = \"\"", "const CURRENCY = \"marks\"")
            .replace("const HOUR = ()", "const HOUR = 30.0");
        user.write("house/prices.rhai", filled);
        user.works(&["open", "chest of drawers with 4 drawers", "--name", "chest"]);
        user.works(&["note", "chest", "every runner of drawer 2 is worn 4 mm"]);
        user
    }

    /// The path of something in the folder.
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Makes a folder.
    pub fn make(&self, name: &str) {
        fs::create_dir_all(self.path(name)).expect("made");
    }

    /// Writes a file.
    pub fn write(&self, name: &str, text: impl AsRef<[u8]>) {
        fs::write(self.path(name), text).expect("written");
    }

    /// The text of a file.
    pub fn text(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).expect("there, and text")
    }

    /// Adds a line to the record of the job "chest", by hand.
    pub fn add(&self, line: &str) {
        let record = self.text("chest/record.txt");
        self.write("chest/record.txt", format!("{record}{line}\n"));
    }

    /// The lines of the record of the job "chest" after the first so many, without
    /// their times.
    pub fn added_after(&self, lines: usize) -> Vec<String> {
        let record = self.text("chest/record.txt");
        let added = record.lines().skip(lines);
        added
            .map(|line| {
                line.split_once("  ")
                    .map_or(line, |(_, text)| text)
                    .to_owned()
            })
            .collect()
    }

    /// A command, ready to be run.
    pub fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tellmark"));
        command
            .args(arguments)
            .current_dir(self.folder.path())
            .env_remove("CLICOLOR_FORCE")
            .env("XDG_CACHE_HOME", cache())
            .env("XDG_CONFIG_HOME", self.path("config"))
            .env("APPDATA", self.path("config"))
            .env_remove("TELLMARK_RULES")
            .env("TZ", "UTC");
        command
    }

    /// Runs a command.
    pub fn run(&self, arguments: &[&str]) -> Ran {
        Ran::of(self.command(arguments).output().expect("it runs"))
    }

    /// Runs a command that must have nothing to complain of.
    pub fn works(&self, arguments: &[&str]) -> String {
        let ran = self.run(arguments);
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{arguments:?}");
        ran.out
    }
}
