//! `tellmark unit` from outside, over a real pseudo-terminal with a bad line
//! behind it and a unit of mock flash at its end. Only Unix has such terminals.

#![cfg(unix)]

use crate::user::User;
use serial2::SerialPort;
use std::fs;
use std::ops::Deref;
use std::os::fd::AsRawFd as _;
use std::path::{Path, PathBuf};
use std::process::{Child, Output, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::thread::{self, JoinHandle};
use std::time::Duration;
use tellmark_compile::room::PackBytes;
use tellmark_core::link::Patience;
use tellmark_core::record::Noted;
use tellmark_device::unit::{Line, Port, Rules, Target, fetch, send};
use tellmark_language::{SourceFile, read};
use tellmark_tests::dice::Dice;
use tellmark_tests::unit::{Board, Faults, Rates, inspection};

const RULES: &str = include_str!("house/stand.rules.txt");
const LOG: u32 = 0x5EED_0003;

/// A unit at the far end of a pseudo-terminal.
struct Cable {
    near: SerialPort,
    board: Arc<Mutex<Board>>,
    stop: Arc<AtomicBool>,
    thread: Option<JoinHandle<()>>,
}

impl Cable {
    fn new(board: Board, rates: Rates, seed: u64) -> Cable {
        let (one, other) = SerialPort::pair().unwrap();
        // The end with a name is the one a program can open.
        let (near, mut far) = if name(&one).starts_with("/dev/pts") {
            (one, other)
        } else {
            (other, one)
        };
        far.set_read_timeout(Duration::from_millis(10)).unwrap();
        let board = Arc::new(Mutex::new(board));
        let stop = Arc::new(AtomicBool::new(false));
        let (its, stopped) = (Arc::clone(&board), Arc::clone(&stop));
        let thread = thread::spawn(move || {
            let (mut there, mut back) = (Faults::new(rates, seed), Faults::new(rates, !seed));
            let mut bytes = [0; 512];
            while !stopped.load(Ordering::Relaxed) {
                let Ok(number) = far.read(&mut bytes) else {
                    continue;
                };
                let arrived = there.pass(&bytes[..number]);
                let answer = its.lock().unwrap().take(&arrived);
                let _ = far.write_all(&back.pass(&answer));
            }
        });
        Cable {
            near,
            board,
            stop,
            thread: Some(thread),
        }
    }

    fn path(&self) -> PathBuf {
        PathBuf::from(name(&self.near))
    }

    fn line(&self) -> Line<Port> {
        let patience = Patience {
            wait: 250,
            tries: 30,
        };
        Line::new(Port::open(&self.path()).unwrap(), patience, 0)
    }

    fn note(&self, notes: &[Noted]) {
        self.board.lock().unwrap().note(notes);
    }

    fn unfetched(&self) -> u32 {
        self.board.lock().unwrap().log.unfetched()
    }

    fn pull_out(mut self) {
        self.stop.store(true, Ordering::Relaxed);
        self.thread.take().unwrap().join().unwrap();
    }
}

fn name(port: &SerialPort) -> String {
    let link = format!("/proc/self/fd/{}", port.as_raw_fd());
    fs::read_link(link).unwrap().display().to_string()
}

struct Bench {
    user: User,
    pack: PackBytes,
}

impl Deref for Bench {
    type Target = User;

    fn deref(&self) -> &User {
        &self.user
    }
}

impl Bench {
    fn new() -> Bench {
        Bench::with_families("none")
    }

    /// With a pack that has these families of pieces.
    fn with_families(families: &str) -> Bench {
        let user = User::new();
        user.make("rules");
        user.write("rules/stand.rules.txt", RULES);
        let mut bench = Bench {
            user,
            pack: PackBytes::default(),
        };
        let build = ["build", "--rules", "rules", "--out", "house.pack"];
        bench.run(&[&build[..], &["--families", families]].concat());
        bench.pack = PackBytes::new(&fs::read(bench.path("house.pack")).unwrap());
        bench
    }

    fn output(&self, arguments: &[&str]) -> Output {
        self.command(arguments).output().unwrap()
    }

    /// What it prints, if all is well.
    fn run(&self, arguments: &[&str]) -> String {
        let output = self.output(arguments);
        let (out, err) = (text(&output.stdout), text(&output.stderr));
        assert_eq!(output.status.code(), Some(0), "{arguments:?}: {out}{err}");
        out
    }

    /// What it says on the error stream, if it ends with this code.
    fn fails(&self, code: i32, arguments: &[&str]) -> String {
        let output = self.output(arguments);
        assert_eq!(output.status.code(), Some(code), "{arguments:?}");
        text(&output.stderr)
    }

    /// Notes about a music stand, made by the pack of these rules.
    fn notes(&self, seed: u64, answers: usize) -> Vec<Noted> {
        let pack = self.pack.open().unwrap();
        let stand = |notes: &Vec<Noted>| {
            let Some(Noted::Begun { root, .. }) = notes.first() else {
                return false;
            };
            let kind = pack.place(usize::from(*root)).kind;
            pack.text(pack.kind(usize::from(kind)).name) == "music stand"
        };
        let all = (seed * 1000..).map(|seed| inspection(&pack, &mut Dice::new(seed), answers));
        all.into_iter().find(stand).unwrap()
    }
}

/// The arguments for the unit at this port.
fn unit_at<'a>(path: &'a str, what: &[&'a str]) -> Vec<&'a str> {
    [&["unit"], what, &["--port", path, "--rules", "rules"]].concat()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

fn record(job: &Path) -> Vec<String> {
    let text = fs::read_to_string(job.join("record.txt")).unwrap();
    // Without the minute.
    let lines = text.lines().map(|line| match line.split_once("  ") {
        Some((_, said)) => said.to_owned(),
        None => line.to_owned(),
    });
    lines.collect()
}

#[test]
fn a_pack_goes_to_the_unit_and_notes_come_back() {
    goes_and_comes_back(&Bench::new());
}

/// Nobody says on the way back which families the pack has.
#[test]
fn so_it_does_with_some_families_of_pieces_or_none() {
    for families in ["none", "chairs"] {
        goes_and_comes_back(&Bench::with_families(families));
    }
}

fn goes_and_comes_back(bench: &Bench) {
    let cable = Cable::new(Board::new(LOG), Rates::default(), 1);
    let path = cable.path().display().to_string();
    let unit = |what| unit_at(&path, what);

    let found = bench.run(&unit(&["find"]));
    let expected = format!(
        "{path}: bench unit 6d6f636b756e6974, firmware 0.1.0, no pack yet, nothing to fetch.\n"
    );
    assert_eq!(found, expected);

    let length = bench.pack.bytes().len();
    let sent = bench.run(&unit(&["send", "house.pack"]));
    assert_eq!(
        sent,
        format!("The unit goes by house.pack now: {length} bytes.\n")
    );
    let sent = bench.run(&unit(&["send", "house.pack"]));
    assert_eq!(sent, "The unit goes by house.pack already.\n");

    let notes = bench.notes(1, 20);
    cable.note(&notes);
    let found = bench.run(&unit(&["find"]));
    let id = bench.pack.open().unwrap().id();
    let expected = format!(
        "{path}: bench unit 6d6f636b756e6974, firmware 0.1.0, the pack of these rules ({id:08x}), \
         {} notes to fetch.\n",
        notes.len()
    );
    assert_eq!(found, expected);
    let json = bench.run(&unit(&["find", "--json"]));
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["ports"][0]["notes_to_fetch"], notes.len());
    assert_eq!(json["ports"][0]["pack_of_these_rules"], true);

    let fetched = bench.run(&unit(&["fetch", "stand"]));
    assert!(
        fetched.starts_with("Opened stand: a music stand"),
        "{fetched}"
    );
    let end = format!(
        "Fetched {} notes.\nWhat is likely: tellmark triage stand --rules rules\n",
        notes.len()
    );
    assert!(fetched.ends_with(&end), "{fetched}");
    assert_eq!(cable.unfetched(), 0);
    // What was fetched is a job like any other.
    let triage = bench.output(&["triage", "stand", "--rules", "rules"]);
    assert!(matches!(triage.status.code(), Some(0 | 1)), "{triage:?}");
    assert_eq!(text(&triage.stderr), "");

    let again = bench.run(&unit(&["fetch", "stand", "--json"]));
    let again: serde_json::Value = serde_json::from_str(&again).unwrap();
    assert_eq!(
        (&again["notes"], &again["lines"]),
        (&0.into(), &serde_json::json!([]))
    );
    cable.pull_out();
}

#[test]
fn what_is_noted_can_be_watched_until_the_cable_is_pulled_out() {
    let bench = Bench::new();
    let cable = Cable::new(Board::new(LOG), Rates::default(), 1);
    let path = cable.path().display().to_string();
    bench.run(&unit_at(&path, &["send", "house.pack"]));
    let notes = bench.notes(2, 6);
    cable.note(&notes);
    let arguments = [
        "unit", "watch", "--json", "--port", &path, "--rules", "rules",
    ];
    let mut child: Child = bench
        .command(&arguments)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let lines = {
        use std::io::BufRead as _;
        let out = std::io::BufReader::new(child.stdout.take().unwrap());
        let mut lines = out.lines().map(Result::unwrap);
        let first: Vec<String> = lines.by_ref().take(notes.len()).collect();
        // What is noted later comes later.
        cable.note(&[Noted::Finished]);
        let last = lines.next().unwrap();
        let unfetched = cable.unfetched();
        assert_eq!(unfetched as usize, notes.len() + 1, "nothing is taken off");
        cable.pull_out();
        assert_eq!(lines.next(), None);
        [first, vec![last]].concat()
    };
    assert_eq!(child.wait().unwrap().code(), Some(0));
    assert_eq!(
        lines.last().map(String::as_str),
        Some(
            format!(
                r#"{{"note":{},"said":"Finished: the piece is looked over."}}"#,
                lines.len()
            )
            .as_str()
        )
    );
}

#[test]
fn nothing_plugged_in_is_said_plainly() {
    let bench = Bench::new();
    let said = bench.fails(
        3,
        &["unit", "fetch", "stand", "--port", "/dev/no-such-port"],
    );
    assert_eq!(
        said,
        "I could not open /dev/no-such-port: it is not there.\n"
    );
    let cable = Cable::new(Board::new(LOG), Rates::default(), 1);
    let path = cable.path().display().to_string();
    let no_pack = bench.fails(
        2,
        &["unit", "send", "rules/stand.rules.txt", "--port", &path],
    );
    assert_eq!(
        no_pack,
        "rules/stand.rules.txt is no pack that I can read: this is not a pack. \"tellmark build\" \
         makes one.\n"
    );
    let no_job = bench.fails(2, &["unit", "fetch", "rules", "--port", &path]);
    assert_eq!(
        no_job,
        "rules is not a job folder: there is no job.txt in it.\n"
    );
    cable.pull_out();
    for command in ["find", "send", "fetch", "watch"] {
        let help = bench.run(&["unit", command, "--help"]);
        assert!(help.contains("Example"), "{help}");
        assert!(help.contains(&format!("tellmark unit {command}")), "{help}");
    }
}

/// The same grid as in memory, thinner, over a pseudo-terminal and by the real
/// clock. How often something is asked again depends on that clock, so only
/// whether it had to be is in the table.
#[test]
fn every_note_arrives_once_over_a_real_port_and_a_bad_line() {
    let bench = Bench::new();
    let files = vec![SourceFile {
        name: "stand.rules.txt".to_owned(),
        text: RULES.to_owned(),
        standard: false,
    }];
    let checked =
        tellmark_compile::check::check(read(files), tellmark_compile::check::Depth::Build);
    let built = checked.built.as_ref().unwrap();
    let pack = built.bytes.open().unwrap();
    let notes = {
        let mut dice = Dice::new(8);
        inspection(&pack, &mut dice, 40)
    };
    let mut expected: Option<Vec<String>> = None;
    let mut table = format!(
        "{:15} {:>5} {:>8} {:>11} {:>10}\n",
        "of 1,000 bytes", "notes", "in order", "asked again", "pack there"
    );
    let rates = |dropped, damaged, doubled| Rates {
        dropped,
        damaged,
        doubled,
    };
    for (name, rates) in [
        ("a good line", rates(0, 0, 0)),
        ("10 dropped", rates(10, 0, 0)),
        ("10 damaged", rates(0, 10, 0)),
        ("10 doubled", rates(0, 0, 10)),
        ("3 of each", rates(3, 3, 3)),
    ] {
        let cable = Cable::new(Board::new(LOG), rates, 21);
        cable.note(&notes);
        let job = bench.path(name);
        let rules = Rules {
            model: &checked.reading.model,
            built,
        };
        let target = Target {
            folder: &job,
            now: jiff::civil::date(2026, 11, 25).at(10, 14, 0, 0),
            again: false,
        };
        let mut line = cable.line();
        let fetched = fetch(&mut line, rules, target, |_, _| {}).unwrap();
        let lines = record(&job);
        let expected = expected.get_or_insert_with(|| lines.clone());
        assert_eq!(*expected, lines, "{name}");
        assert_eq!(
            (fetched.notes, cable.unfetched()),
            (notes.len(), 0),
            "{name}"
        );
        let small = built.bytes.clone();
        let sent = send(&mut line, &pack, small.bytes(), false, |_| {}).unwrap();
        let there = cable.board.lock().unwrap().packs.current_bytes() == Some(small.bytes());
        assert!(there && !sent.had_it, "{name}");
        let again = if line.tally().again > 0 { "yes" } else { "no" };
        table.push_str(&format!(
            "{name:15} {:5} {:>8} {again:>11} {:>10}\n",
            fetched.notes, "yes", "yes"
        ));
        cable.pull_out();
    }
    insta::assert_snapshot!(table);
}
