//! Every command that writes, with every one of its writes, syncs, opens, closes, renames
//! and locks failing in turn, or the program ending there (`tests/faults/shim.c`).
//!
//! After each, the folder is read again: what was acknowledged is there once, what was not
//! is not half there, nothing that was there before is lost, and the same command then
//! works. It takes minutes, so it is a step of its own: `tests/faults/run.sh`.
#![cfg(target_os = "linux")]

use crate::user;

use crate::user::{Ran, User};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{LazyLock, Mutex};
use tellmark_compile::check::{Depth, check};
use tellmark_core::record::Noted;
use tellmark_device::unit::{LEDGER_FILE, Line, PATIENCE, keep};
use tellmark_job::house;
use tellmark_job::record::{Amiss, Job, RECORD_FILE};
use tellmark_tests::dice::Dice;
use tellmark_tests::unit::{Board, MemoryWire, Rates, inspection};

const RULES: &str = include_str!("house/stand.rules.txt");
/// What becomes of the call whose turn it is.
const KINDS: [&str; 5] = ["eio", "full", "gone", "before", "half"];

/// The shim, built; `None` where there is no C compiler.
static SHIM: LazyLock<Option<(tempfile::TempDir, PathBuf)>> = LazyLock::new(|| {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/faults/shim.c");
    let shim = folder.path().join("shim.so");
    let built = Command::new("cc")
        .args(["-shared", "-fPIC", "-O1", "-o"])
        .args([&shim, &source])
        .arg("-ldl")
        .status();
    match built {
        Ok(status) => {
            assert!(status.success(), "the shim does not compile");
            Some((folder, shim))
        }
        Err(why) => {
            eprintln!("SKIPPED: there is no C compiler (cc) to build the faults with: {why}");
            None
        }
    }
});

/// One command that writes.
struct Case {
    name: &'static str,
    arguments: &'static [&'static str],
    /// What is there before, on top of a job for a stand.
    prepare: fn(&User),
    /// Lines that can be there singly, since each is acknowledged by itself.
    one_by_one: bool,
}

const CASES: &[Case] = &[
    Case {
        name: "open",
        arguments: &["open", "music stand", "--name", "other"],
        prepare: |_| {},
        one_by_one: false,
    },
    Case {
        name: "note",
        arguments: &["note", "job", "the ledge is split 3 mm wide"],
        prepare: |_| {},
        one_by_one: false,
    },
    Case {
        name: "note, after a torn line",
        arguments: &["note", "job", "the ledge is split 3 mm wide"],
        prepare: |user| {
            let record = user.text("job/record.txt");
            let torn = format!("{record}2026-11-25 10:15  swivel 1 is not");
            user.write("job/record.txt", torn);
        },
        one_by_one: false,
    },
    Case {
        name: "brief",
        arguments: &["brief", "job", "--wish", "music again"],
        prepare: |_| {},
        one_by_one: false,
    },
    Case {
        name: "done --found",
        arguments: &[
            "done",
            "job",
            "let in a sliver",
            "--part",
            "the ledge",
            "--found",
            "the upper collar of swivel 2 is perished",
            "--took",
            "1 hour",
            // It is tried again after a failure, when it may have been ticked after all.
            "--anyway",
        ],
        prepare: |_| {},
        one_by_one: false,
    },
    Case {
        name: "plan --own",
        arguments: &[
            "plan",
            "job",
            "--own",
            "oil the collars",
            "--takes",
            "20 min",
        ],
        prepare: |_| {},
        one_by_one: false,
    },
    Case {
        name: "brief --agreed, a paper",
        arguments: &["brief", "job", "--agreed", "estimate 1"],
        prepare: |user| {
            user.write(
                "rules/prices.rhai",
                include_str!("../../../rules/prices.rhai"),
            );
            user.works(&with_rules(&[
                "note",
                "job",
                "the ledge is split 3 mm wide",
            ]));
            user.works(&with_rules(&["quote", "job", "--keep"]));
        },
        one_by_one: false,
    },
    Case {
        name: "invoice --keep",
        arguments: &["invoice", "job", "--keep"],
        prepare: |user| {
            user.write(
                "rules/prices.rhai",
                include_str!("../../../rules/prices.rhai"),
            );
            for arguments in [
                &["note", "job", "the ledge is split 3 mm wide"][..],
                &["quote", "job", "--keep"],
                &["brief", "job", "--agreed", "estimate 1"],
                &[
                    "done",
                    "job",
                    "let in a sliver",
                    "--took",
                    "1 hour",
                    "--anyway",
                ],
            ] {
                user.works(&with_rules(arguments));
            }
        },
        one_by_one: false,
    },
    Case {
        name: "photo, two",
        arguments: &["photo", "job", "a.png", "b.png", "--shows", "the ledge"],
        prepare: |_| {},
        one_by_one: false,
    },
    Case {
        name: "report",
        arguments: &["report", "job", "--out", "job/page.html"],
        prepare: |user| {
            let page = user.text("page.html");
            user.write(
                "job/page.html",
                page.replace("</html>", "<!-- old --></html>"),
            );
        },
        one_by_one: false,
    },
    Case {
        name: "build",
        arguments: &["build", "--out", "house.pack"],
        prepare: |user| user.write("house.pack", "an old pack"),
        one_by_one: false,
    },
    Case {
        name: "bench",
        arguments: &["bench", "job", "--frames", "pictures", "--keys", "1 2 4~"],
        prepare: |_| {},
        one_by_one: true,
    },
    Case {
        name: "unit fetch --kept",
        arguments: &["unit", "fetch", "job", "--kept"],
        prepare: keep_notes,
        one_by_one: false,
    },
    Case {
        name: "repair --write",
        arguments: &["repair", "job", "--write"],
        prepare: |user| {
            user.make("job/photos");
            user.write("job/photos/.unfinished-01", "half a photograph");
            user.write("job/.unfinished-01", "half a page");
            user.write("job/record.lock", "program number 7");
            let record = user.text("job/record.txt");
            let torn = format!("{record}2026-11-25 10:15  swivel 1 is not");
            user.write("job/record.txt", torn);
        },
        one_by_one: false,
    },
];

/// Notes from a unit, in the job's folder as they were sent.
fn keep_notes(user: &User) {
    let files = house::files(
        Some(&user.path("rules")),
        &house::Families::named("none").expect("none"),
    )
    .expect("read");
    let checked = check(tellmark_language::read(files), Depth::Build);
    let pack = checked.built.as_ref().expect("built").bytes.open();
    let pack = pack.expect("it opens");
    let is_of_a_stand = |notes: &Vec<Noted>| match notes[0] {
        Noted::Begun { root, .. } => {
            let kind = pack.kind(usize::from(pack.place(usize::from(root)).kind));
            pack.text(kind.name) == "music stand"
        }
        _ => false,
    };
    let notes = (0..).map(|seed| inspection(&pack, &mut Dice::new(seed), 8));
    let mut board = Board::new(0x5EED_0004);
    board.note(&notes.into_iter().find(is_of_a_stand).expect("one"));
    let mut wire = MemoryWire::new(board, Rates::default(), 0);
    keep(&mut Line::new(&mut wire, PATIENCE, 0), &user.path("job")).expect("kept");
}

fn png(hue: u8) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, 8, 8);
    encoder.set_color(png::ColorType::Grayscale);
    let mut writer = encoder.write_header().expect("written");
    writer.write_image_data(&[hue; 64]).expect("written");
    drop(writer);
    bytes
}

/// A user with a job for a stand, rules that were built before, and two photographs.
fn user() -> User {
    let user = User::new();
    user.make("rules");
    user.write("rules/stand.rules.txt", RULES);
    user.write("a.png", png(1));
    user.write("b.png", png(2));
    user.works(&with_rules(&[
        "open",
        "music stand with 2 swivels",
        "--name",
        "job",
    ]));
    user.works(&with_rules(&["note", "job", "swivel 1 is seized"]));
    user.works(&with_rules(&["report", "job", "--out", "page.html"]));
    user
}

fn with_rules<'a>(arguments: &[&'a str]) -> Vec<&'a str> {
    // A stand needs none of the families, and reading them takes most of the time.
    [&["--rules", "rules", "--families", "none"], arguments].concat()
}

/// Copies a folder with everything in it.
fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("made");
    for entry in fs::read_dir(from).expect("read").flatten() {
        let to = to.join(entry.file_name());
        if entry.file_type().expect("known").is_dir() {
            copy(&entry.path(), &to);
        } else {
            fs::copy(entry.path(), to).expect("copied");
        }
    }
}

/// Every file with its bytes, by its path.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    fn walk(root: &Path, folder: &Path, all: &mut BTreeMap<String, Vec<u8>>) {
        for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
            let path = entry.path();
            if path.is_dir() {
                walk(root, &path, all);
            } else {
                let name = path.strip_prefix(root).expect("inside").to_string_lossy();
                all.insert(name.into_owned(), fs::read(&path).expect("read"));
            }
        }
    }
    let mut all = BTreeMap::new();
    walk(folder, folder, &mut all);
    all
}

/// What a job says, without the times.
fn says(folder: &Path) -> Vec<String> {
    let job = Job::open(folder).expect("it opens");
    let lines = job.lines().iter().map(|l| (l.number, l.text.clone()));
    let entries = job.entries().iter().map(|e| (e.number, e.says.to_string()));
    let mut all: Vec<_> = lines.chain(entries).collect();
    all.sort();
    all.into_iter().map(|(_, text)| timeless(&text)).collect()
}

/// A line without the checksum of a paper, which has the minute in it in which it was written.
fn timeless(text: &str) -> String {
    match text.split_once("; checksum ") {
        Some((before, after)) => format!("{before}{}", after.get(8..).unwrap_or_default()),
        None => text.to_owned(),
    }
}

/// A case, with what is there before and after it when nothing goes wrong.
struct Known {
    case: &'static Case,
    template: User,
    before: BTreeMap<String, Vec<u8>>,
    said_before: Vec<String>,
    after: BTreeMap<String, Vec<u8>>,
    /// What it adds to the record.
    adds: Vec<String>,
    /// Its calls.
    calls: Vec<String>,
}

/// A run in a copy of the template.
struct Run {
    place: tempfile::TempDir,
    ran: Ran,
    calls: Vec<String>,
}

impl Run {
    fn folder(&self) -> PathBuf {
        self.place.path().join("here")
    }
}

fn run(template: &User, arguments: &[&str], fault: Option<(usize, &str)>) -> Run {
    let shim = &SHIM.as_ref().expect("built").1;
    let place = tempfile::tempdir_in("/dev/shm")
        .or_else(|_| tempfile::tempdir())
        .expect("a temporary folder");
    let here = place.path().join("here");
    copy(&template.path("."), &here);
    let log = place.path().join("calls");
    let (at, kind) = fault.unwrap_or((0, "eio"));
    let mut command = Command::new(env!("CARGO_BIN_EXE_tellmark"));
    command
        .args(with_rules(arguments))
        .current_dir(&here)
        .env("XDG_CACHE_HOME", user::cache())
        .env("XDG_CONFIG_HOME", place.path().join("config"))
        .env_remove("TELLMARK_RULES")
        .env("TZ", "UTC")
        .env("LD_PRELOAD", shim)
        .env("FAULTS_UNDER", &here)
        .env("FAULTS_AT", at.to_string())
        .env("FAULTS_KIND", kind)
        .env("FAULTS_LOG", &log);
    let output = command.output().expect("it runs");
    let ran = Ran {
        code: output.status.code(),
        out: String::from_utf8_lossy(&output.stdout).into_owned(),
        err: String::from_utf8_lossy(&output.stderr).into_owned(),
    };
    let calls = fs::read_to_string(log).unwrap_or_default();
    let calls = calls.lines().map(str::to_owned).collect();
    Run { place, ran, calls }
}

impl Known {
    fn new(case: &'static Case) -> Known {
        let template = user();
        (case.prepare)(&template);
        let before = files(&template.path("."));
        let said_before = says(&template.path("job"));
        let whole = run(&template, case.arguments, None);
        assert_eq!(whole.ran.code, Some(0), "{}: {}", case.name, whole.ran.err);
        let said = says(&whole.folder().join("job"));
        Known {
            case,
            before,
            after: files(&whole.folder()),
            adds: said[said_before.len()..].to_vec(),
            said_before,
            calls: whole.calls,
            template,
        }
    }

    /// Runs with a fault: how it ended, or what is wrong with what it leaves.
    fn try_with(&self, at: usize, kind: &str) -> Result<Ended, String> {
        let run = run(&self.template, self.case.arguments, Some((at, kind)));
        let job = run.folder().join("job");
        let now = files(&run.folder());
        let killed = run.ran.code.is_none();
        let is_killing = matches!(kind, "before" | "half");
        if killed && !is_killing {
            return Err("it was killed by something else".to_owned());
        }
        if !matches!(run.ran.code, None | Some(0 | 3)) {
            return Err(format!("it ends with {:?}: {}", run.ran.code, run.ran.err));
        }
        self.nothing_is_lost(&now)?;
        let said = says(&job);
        let new = said
            .strip_prefix(self.said_before.as_slice())
            .ok_or_else(|| format!("lines were lost: {said:?}"))?;
        let all = new == self.adds.as_slice();
        let some = self.adds.starts_with(new);
        let acknowledged = run.ran.code == Some(0) || run.ran.out.contains("Line ");
        if acknowledged && !all {
            return Err(format!("acknowledged, and it adds {new:?}"));
        }
        let may_be = all || new.is_empty() || (some && self.case.one_by_one);
        if !acknowledged && !may_be {
            return Err(format!("not acknowledged, and it adds {new:?}"));
        }
        let stands_and_is_denied = run.ran.code == Some(3)
            && !new.is_empty()
            && !self.case.one_by_one
            && !run.ran.err.contains("may stand")
            && !run.ran.err.contains("went into the record");
        if stands_and_is_denied {
            return Err(format!("said to have failed, and it adds {new:?}"));
        }
        self.whole_files(&now, run.ran.code == Some(0))?;
        self.photographs(&job, &now, killed || kind == "gone")?;
        self.works_afterwards(&run)?;
        let changed = now != self.before;
        Ok(match run.ran.code {
            Some(0) => Ended::Done,
            Some(_) if run.ran.err.contains("may stand") => Ended::ToldItMayStand,
            Some(_) => Ended::Refused,
            None if all && !self.adds.is_empty() => Ended::KilledAfter,
            None if changed => Ended::KilledBetween,
            None => Ended::KilledBefore,
        })
    }

    /// What was there is there, apart from what the command is to replace or move.
    fn nothing_is_lost(&self, now: &BTreeMap<String, Vec<u8>>) -> Result<(), String> {
        for (name, bytes) in &self.before {
            let replaced = matches!(
                name.as_str(),
                "job/page.html" | "house.pack" | "job/record.lock"
            );
            let kept = if name.ends_with(RECORD_FILE) || name.ends_with(LEDGER_FILE) {
                now.get(name).is_some_and(|now| now.starts_with(bytes))
            } else if name.contains(".unfinished-") {
                now.values().any(|now| now == bytes)
            } else {
                now.get(name) == Some(bytes)
            };
            if !kept && !replaced {
                return Err(format!("{name} is not what it was"));
            }
        }
        Ok(())
    }

    /// Files that are written whole are as before or as after.
    fn whole_files(
        &self,
        now: &BTreeMap<String, Vec<u8>>,
        acknowledged: bool,
    ) -> Result<(), String> {
        let is_whole = |name: &&String| {
            name.starts_with("other/")
                || name.starts_with("pictures/")
                || matches!(name.as_str(), "job/page.html" | "house.pack")
        };
        for name in self.after.keys().filter(is_whole) {
            let (is, was) = (now.get(name), self.before.get(name));
            // A page and a header hold the minute in which they were made.
            let as_after = is.is_some_and(|is| {
                is.len() == self.after[name].len() && name.ends_with("record.txt") == is.is_empty()
            });
            if !as_after && (is != was || acknowledged) {
                return Err(format!("{name} is half there"));
            }
        }
        let other = now.keys().filter(|name| name.starts_with("other/")).count();
        if other != 0 && other != 3 {
            return Err(format!("{other} files of the new job are there"));
        }
        Ok(())
    }

    /// Every photograph of the record is there; one without its line only if a program
    /// was killed or a disk was gone, and then it is listed.
    fn photographs(
        &self,
        job: &Path,
        now: &BTreeMap<String, Vec<u8>>,
        may_stray: bool,
    ) -> Result<(), String> {
        let opened = Job::open(job).expect("it opens");
        for amiss in opened.amiss().expect("it is read") {
            match amiss {
                Amiss::NoPhoto { file, .. } => return Err(format!("{file} is gone")),
                Amiss::NoLine { file } if !may_stray => {
                    return Err(format!("{file} has no line"));
                }
                _ => {}
            }
        }
        let originals = [&self.before["a.png"], &self.before["b.png"]];
        for on_record in opened.photos() {
            let kept = now.get(&format!("job/photos/{}", on_record.photo.file));
            if !originals.iter().any(|bytes| Some(*bytes) == kept) {
                return Err(format!("{} is not the photograph", on_record.photo.file));
            }
        }
        Ok(())
    }

    /// The next command works, and then everything is there.
    fn works_afterwards(&self, run: &Run) -> Result<(), String> {
        let again = |arguments: &[&str]| {
            let mut command = Command::new(env!("CARGO_BIN_EXE_tellmark"));
            let output = command
                .args(with_rules(arguments))
                .current_dir(run.folder())
                .env("XDG_CACHE_HOME", user::cache())
                .env("XDG_CONFIG_HOME", run.place.path().join("config"))
                .env_remove("TELLMARK_RULES")
                .env("TZ", "UTC")
                .output();
            Ran::of(output.expect("it runs"))
        };
        let mut next = again(self.case.arguments);
        if next
            .err
            .contains("Ask again, so that nothing is charged twice.")
        {
            next = again(self.case.arguments);
        }
        let taken = run.folder().join("other").is_dir() && next.err.contains("is there already");
        let charged = next.err.contains("Nothing that is done is to be charged");
        if next.code != Some(0) && !taken && !charged {
            return Err(format!(
                "the next one ends with {:?}: {}",
                next.code, next.err
            ));
        }
        let said = says(&run.folder().join("job"));
        // Keys pressed again answer other questions.
        if !self.case.one_by_one && !said.ends_with(&self.adds) && self.case.name != "photo, two" {
            return Err(format!("after the next one: {said:?}"));
        }
        let once = [self.said_before.as_slice(), &self.adds].concat();
        if self.case.name == "unit fetch --kept" && said != once {
            return Err(format!("after the next one, not once: {said:?}"));
        }
        if self.case.name == "invoice --keep" {
            let papers = files(&run.folder().join("job/papers"));
            let invoices: Vec<&String> = papers
                .keys()
                .filter(|name| name.contains("invoice"))
                .collect();
            let [one] = invoices.as_slice() else {
                return Err(format!("after the next one, not one invoice: {invoices:?}"));
            };
            if !one.ends_with("-001.txt") {
                return Err(format!("a number was skipped: {one}"));
            }
        }
        let opened = Job::open(&run.folder().join("job")).expect("it opens");
        let photos = files(&run.folder().join("job/photos"));
        let kept = opened.photos();
        let kept = kept.iter().filter_map(|p| photos.get(&p.photo.file));
        if self.case.name == "photo, two" && kept.collect::<BTreeSet<_>>().len() != 2 {
            return Err("after the next one, not both photographs".to_owned());
        }
        let repaired = again(&["repair", "job", "--write"]);
        if !matches!(repaired.code, Some(0 | 1)) {
            return Err(format!(
                "repair ends with {:?}: {}",
                repaired.code, repaired.err
            ));
        }
        let left = Job::open(&run.folder().join("job"))
            .expect("it opens")
            .amiss();
        let left = left.expect("it is read");
        if left.iter().any(|a| !matches!(a, Amiss::NoLine { .. })) {
            return Err(format!("repair leaves {left:?}"));
        }
        Ok(())
    }
}

/// How a run ended, with everything as it should be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Ended {
    Done,
    Refused,
    ToldItMayStand,
    KilledBefore,
    KilledBetween,
    KilledAfter,
}

const ENDED: [Ended; 6] = [
    Ended::Done,
    Ended::Refused,
    Ended::ToldItMayStand,
    Ended::KilledBefore,
    Ended::KilledBetween,
    Ended::KilledAfter,
];

/// How often each command ended how.
fn table(ended: &BTreeMap<(usize, Ended), usize>) -> String {
    let mut text = String::from(
        "# What becomes of a job when writing fails\n\n\
         Made by `FAULTS_TABLE=1 tests/faults/run.sh`. Each call of a command to the disk\n\
         fails in five ways (`shim.c`); what must be true after each is at the head of\n\
         `host/command/tests/faults.rs`, and was, in all of these.\n\n\
         * done: it ended with 0, and everything is there\n\
         * refused: it ended with 3, and nothing of it is read\n\
         * may stand: it ended with 3, and said that the line may be there\n\
         * killed before, between, after: nothing was changed; something was (a copy without\n  \
           its line, a line cut short), which the next command or `repair` deals with; all of\n  \
           its lines are there\n\n\
         | command | done | refused | may stand | before | between | after |\n\
         | --- | ---: | ---: | ---: | ---: | ---: | ---: |\n",
    );
    let number = |at, how| ended.get(&(at, how)).copied().unwrap_or(0);
    for (at, case) in CASES.iter().enumerate() {
        let counts = ENDED.map(|how| number(at, how).to_string());
        // Writing to a string cannot fail.
        let _ = writeln!(text, "| {} | {} |", case.name, counts.join(" | "));
    }
    let all: usize = ended.values().sum();
    let _ = writeln!(text, "\n{all} faults in all.");
    text
}

#[test]
#[ignore = "takes minutes: tests/faults/run.sh runs it"]
fn whatever_fails_nothing_acknowledged_is_lost_and_nothing_is_half_there() {
    if SHIM.is_none() {
        return;
    }
    let known: Vec<Known> = CASES.iter().map(Known::new).collect();
    let faults: Vec<(usize, usize, &str)> = known
        .iter()
        .enumerate()
        .flat_map(|(case, k)| {
            (1..=k.calls.len()).flat_map(move |at| KINDS.map(|kind| (case, at, kind)))
        })
        .collect();
    let next = AtomicUsize::new(0);
    let (ended, wrong) = (Mutex::new(BTreeMap::new()), Mutex::new(Vec::new()));
    let work = || {
        while let Some(&(case, at, kind)) = faults.get(next.fetch_add(1, Ordering::Relaxed)) {
            match known[case].try_with(at, kind) {
                Ok(how) => *ended.lock().expect("whole").entry((case, how)).or_insert(0) += 1,
                Err(why) => {
                    let (name, call) = (CASES[case].name, &known[case].calls[at - 1]);
                    let text = format!("{name}, call {at} ({call}), {kind}: {why}");
                    wrong.lock().expect("whole").push(text);
                }
            }
        }
    };
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, usize::from) {
            scope.spawn(work);
        }
    });
    let mut wrong = wrong.into_inner().expect("whole");
    wrong.sort();
    assert!(
        wrong.is_empty(),
        "{} of {} go wrong:\n{}",
        wrong.len(),
        faults.len(),
        wrong.join("\n")
    );
    println!("{} faults, and all is well.", faults.len());
    if std::env::var_os("FAULTS_TABLE").is_some() {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/faults/RESULTS.md");
        fs::write(path, table(&ended.into_inner().expect("whole"))).expect("written");
    }
}
