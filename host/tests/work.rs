//! `tellmark brief`, `done` and `plan`, as a user types them: what the owner wants, what
//! was done, and the plan that follows.

use std::fs;
use std::path::PathBuf;
use std::process::Command;

use tempfile::TempDir;

/// A blanket-and-linen chest of ours, not the demonstration's.
const RECORD: &str = "\
2026-03-02 09:10  the purpose of the piece is daily use
2026-03-02 09:12  drawer 2 is stiff
2026-03-02 09:14  runner 1 of drawer 2 is worn 3 mm
2026-03-02 09:15  bottom of drawer 1 is split 2 mm wide
2026-03-02 09:20  the piece is hazy
2026-03-02 09:21  the piece is faded
";

struct Ran {
    code: Option<i32>,
    out: String,
    err: String,
}

struct Job {
    folder: TempDir,
}

impl Job {
    fn new(more: &str) -> Job {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let job = Job { folder };
        fs::create_dir(job.path("chest")).expect("made");
        let header = "job folder: 1\npiece: chest of drawers with 3 drawers\n";
        fs::write(job.path("chest/job.txt"), header).expect("written");
        fs::write(job.path("chest/record.txt"), format!("{RECORD}{more}")).expect("written");
        job
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn run(&self, arguments: &[&str]) -> Ran {
        let output = Command::new(env!("CARGO_BIN_EXE_tellmark"))
            .args(arguments)
            .current_dir(self.folder.path())
            .env_remove("CLICOLOR_FORCE")
            .env("XDG_CACHE_HOME", self.path("cache"))
            .env("TZ", "UTC")
            .output()
            .expect("it runs");
        Ran {
            code: output.status.code(),
            out: String::from_utf8(output.stdout).expect("text"),
            err: String::from_utf8(output.stderr).expect("text"),
        }
    }

    fn works(&self, arguments: &[&str]) -> String {
        let ran = self.run(arguments);
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{arguments:?}");
        ran.out
    }

    /// What the commands added to the record, without the times.
    fn added(&self) -> Vec<String> {
        let record = fs::read_to_string(self.path("chest/record.txt")).expect("there");
        let lines = record.lines().skip(RECORD.lines().count());
        lines
            .map(|line| line.get(18..).unwrap_or(line).to_owned())
            .collect()
    }
}

#[test]
fn what_the_owner_wants_goes_into_the_record_and_is_told() {
    let job = Job::new("");
    job.works(&["brief", "chest", "--wish", "In use again,\n for linen."]);
    job.works(&["brief", "chest", "--limit", "6 hours"]);
    job.works(&[
        "brief",
        "chest",
        "--leave",
        "the top",
        "--because",
        "the rings; ours",
    ]);
    job.works(&["brief", "chest", "--leave", "drawer 3"]);
    job.works(&["brief", "chest", "--not-leave", "drawer 3"]);
    let agreed = [
        "brief",
        "chest",
        "--agreed",
        "revive",
        "--because",
        "by letter",
    ];
    job.works(&agreed);
    job.works(&[
        "brief",
        "chest",
        "--refused",
        "let in a fillet",
        "--part",
        "bottom of drawer 1",
    ]);
    assert_eq!(
        job.added(),
        [
            "wish: In use again, for linen.",
            "limit: 6 hours",
            "leave: the top; the rings; ours",
            "leave: drawer 3",
            "not leave: drawer 3",
            "agreed: revive the polish; ; by letter",
            "refused: let in a fillet; the bottom of drawer 1",
        ]
    );
    let mut told = job.works(&["brief", "chest"]);
    let wish = told.find("for linen. (").expect("the wish with its time") + 12;
    told.replace_range(wish..wish + 16, "today");
    insta::assert_snapshot!("brief", told);
}

#[test]
fn the_plan_follows_what_is_wanted_and_done() {
    let job = Job::new(
        "2026-03-02 10:00  wish: In use again, for linen.\n\
         2026-03-02 10:01  limit: 6 hours\n\
         2026-03-02 10:02  leave: the top; the rings are remembered\n\
         2026-03-02 10:03  agreed: revive the polish; ; by letter\n\
         2026-03-02 10:04  refused: let in a fillet; bottom of drawer 1\n\
         2026-03-04 16:00  done: photograph the piece; ; 20 minutes\n\
         2026-03-05 11:00  done: renew the running edges; drawer 2; 2 hours 15 minutes\n\
         2026-03-05 11:30  done: dust the piece dry; the piece; 30 minutes\n\
         2026-03-05 11:31  not done: dust the piece dry\n\
         2999-03-05 12:00  done: reglue the drawer; drawer 1; 2 hours\n",
    );
    insta::assert_snapshot!("plan", job.works(&["plan", "chest", "--certain"]));
}

#[test]
fn done_ticks_what_the_plan_names_and_takes_what_came_to_light() {
    let job = Job::new("");
    job.works(&["done", "chest", "1", "--took", "20 minutes"]);
    let found = "runner 1 of drawer 2 is worn thin";
    job.works(&["done", "chest", "renew", "the", "running", "--found", found]);
    job.works(&[
        "done",
        "chest",
        "fillet",
        "--not-found",
        "drawer 1 is swapped",
    ]);
    job.works(&["done", "chest", "let in a fillet", "--undo"]);
    assert_eq!(
        job.added(),
        [
            "done: photograph the piece; the chest of drawers; 20 minutes",
            "runner 1 of drawer 2 is certainly worn thin",
            "done: renew the running edges; drawer 2",
            "drawer 1 is certainly not swapped",
            "done: let in a fillet; the bottom of drawer 1",
            "not done: let in a fillet",
        ]
    );
    let triage = job.works(&["triage", "chest", "--json"]);
    let triage: serde_json::Value = serde_json::from_str(&triage).expect("JSON");
    assert!(triage.to_string().contains("worn thin"));
    let plan = job.works(&["plan", "chest", "--certain"]);
    assert!(
        plan.contains("let in a fillet: the bottom of drawer 1 ("),
        "{plan}"
    );
    assert!(!plan.contains(". photograph the piece"), "{plan}");
}

#[test]
fn what_cannot_be_meant_is_refused_and_nothing_is_noted() {
    let job = Job::new("");
    let wrong: [&[&str]; 13] = [
        &["done", "chest", "99"],
        &["done", "chest", "hop"],
        &["done", "chest", "the"],
        &["done", "chest", "tip the leg"],
        &["done", "chest", "fillet", "--took", "50"],
        &["done", "chest", "fillet", "--part", "drawer 9"],
        &["done", "chest", "fillet", "--found", "drawer 1 is worn"],
        &["done", "chest", "fillet", "--undo"],
        &["brief", "chest", "--leave", "the tpo"],
        &["brief", "chest", "--leave", "drawer 9"],
        &["brief", "chest", "--because", "of it"],
        &["brief", "chest", "--wish", " "],
        &["brief", "chest", "--agreed", "nothing of ours"],
    ];
    let mut told = String::new();
    for arguments in wrong {
        let ran = job.run(arguments);
        assert_eq!(ran.code, Some(2), "{arguments:?}");
        told += &format!("{}\n    {}\n", arguments.join(" "), ran.err.trim_end());
    }
    assert_eq!(job.added(), [""; 0]);
    insta::assert_snapshot!("refused", told);
}

#[test]
fn lines_written_by_hand_that_say_too_little_are_told_and_stop_nothing() {
    let job = Job::new(
        "done:\nphoto: a.jpg; drawer 1\nleave: drawer 9\ndone: wax the runners; drawer 1; long\n",
    );
    let ran = job.run(&["plan", "chest", "--certain"]);
    assert_eq!(ran.code, Some(0));
    insta::assert_snapshot!("by_hand", ran.err);
}
