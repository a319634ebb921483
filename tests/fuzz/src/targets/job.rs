//! A job's folder: `job.txt`, `record.txt` and `bench-unit.txt`, read and gone by with
//! the standard rules, then added to.

use super::{Form, Seen, Target, file, files, notes, scratch, sum};
use jiff::civil::date;
use std::cell::RefCell;
use std::fs;
use std::path::PathBuf;
use tellmark_compile::check::Checked;
use tellmark_device::unit::{Rules, Target as Into, put_into_words};
use tellmark_job::open_job::{CannotOpen, OpenJob};
use tellmark_job::record::Job;
use tellmark_language::Reading;
use tellmark_tests::screen;

pub(super) const TARGET: Target = Target {
    name: "job",
    form: Form::Text,
    longest: 4_000,
    memory: 0,
    run,
    seeds,
    words: dictionary,
};

/// What stands between the files of a folder in an input.
const BETWEEN: &[u8] = b"\n=====\n";
const FILES: [&str; 3] = ["job.txt", "record.txt", "bench-unit.txt"];

thread_local! {
    static FOLDER: RefCell<Option<PathBuf>> = const { RefCell::new(None) };
    /// The standard rules. A job that is open has them; then they go back.
    static RULES: RefCell<Option<Checked>> = const { RefCell::new(None) };
}

fn rules() -> Checked {
    let kept = RULES.with_borrow_mut(Option::take);
    kept.unwrap_or_else(|| {
        let (checked, built) = screen::rules();
        Checked {
            reading: Reading::clone(&checked.reading),
            built: Some(built.clone()),
        }
    })
}

fn run(input: &[u8], seen: &mut Seen) {
    let folder =
        FOLDER.with_borrow_mut(|folder| folder.get_or_insert_with(|| scratch("job")).clone());
    let mut rest = input;
    for name in FILES {
        let at = rest.windows(BETWEEN.len()).position(|w| w == BETWEEN);
        let (bytes, after) = match at {
            Some(at) => (&rest[..at], &rest[at + BETWEEN.len()..]),
            None => (rest, &[][..]),
        };
        rest = after;
        fs::write(folder.join(name), bytes).expect("scratch");
    }
    let open = match OpenJob::open(&folder, rules()) {
        Ok(open) => open,
        Err(why) => {
            if let CannotOpen::UnknownPiece(message) = &why {
                seen.note(1, u64::from(message.number()));
            }
            assert!(!why.to_string().is_empty());
            seen.note_words(
                2,
                why.to_string().split(' ').next_back().unwrap_or_default(),
            );
            return;
        }
    };
    gone_by(&open, input, seen);
    added_to(&open.job, seen);
    // What a bench unit sent is only as good as the file that keeps it.
    let into = Into {
        folder: &folder,
        now: date(2026, 11, 28).at(9, 30, 0, 0),
        again: sum(input).is_multiple_of(2),
    };
    let (checked, built) = screen::rules();
    let rules = Rules {
        model: &checked.reading.model,
        built,
    };
    if fs::metadata(folder.join(FILES[2])).is_ok_and(|m| m.len() > 0) {
        match put_into_words(rules, into) {
            Ok(fetched) => seen.note_size(3, fetched.notes),
            Err(why) => seen.note_size(4, why.to_string().len()),
        }
    }
    RULES.with_borrow_mut(|rules| *rules = Some(open.rules));
}

fn gone_by(open: &OpenJob, input: &[u8], seen: &mut Seen) {
    seen.note_size(5, open.findings.len());
    seen.note_size(6, open.left_out.len());
    for unread in open.job.unread() {
        seen.note_words(7, &unread.why.in_words());
        assert!(!unread.to_string().is_empty());
    }
    let Ok(view) = open.view() else { return };
    let progress = match view.progress() {
        Ok(progress) => progress,
        Err(why) => return seen.note_words(8, &format!("{why:?}")),
    };
    for told in &progress.not_understood {
        assert!(!told.what.is_empty());
    }
    seen.note_size(9, progress.not_understood.len());
    seen.note_size(10, progress.marks.len());
    // Each of these takes milliseconds, so an input gets one.
    match sum(input) % 8 {
        0 | 1 => seen.note_size(11, view.triage().map_or(0, |t| t.groups.len())),
        2 | 3 => seen.note_size(12, view.plan(&progress).map_or(0, |p| p.steps.len())),
        4 | 5 => seen.note_size(13, view.date(None, 2026).map_or(0, |d| d.held.len())),
        6 => {
            let quote = view.quote(&progress);
            seen.note(14, u64::from(quote.is_ok()));
        }
        _ => {}
    }
}

/// Whatever the record is like, a line goes in whole and nothing is lost.
fn added_to(job: &Job, seen: &mut Seen) {
    let path = job.folder().join(FILES[1]);
    let before = fs::read(&path).expect("scratch");
    let mut job = job.clone();
    let now = date(2026, 11, 28).at(9, 30, 0, 0);
    let added = job
        .append("drawer 2 is stiff", now)
        .expect("a sound folder");
    seen.note(15, u64::from(added.ended_a_torn_line));
    let after = fs::read(&path).expect("scratch");
    assert!(after.starts_with(&before), "something was lost");
    assert!(after.ends_with(b"2026-11-28 09:30  drawer 2 is stiff\n"));
    let last = job.lines().last().map(|line| line.text.as_str());
    assert_eq!(last, Some("drawer 2 is stiff"));
}

fn seeds() -> Vec<Vec<u8>> {
    let folder =
        |job: &[u8], record: &[u8], unit: &[u8]| [job, BETWEEN, record, BETWEEN, unit].concat();
    let lines = |record: &[u8], from: usize, number: usize| -> Vec<u8> {
        let lines = record.split_inclusive(|b| *b == b'\n');
        lines.skip(from).take(number).flatten().copied().collect()
    };
    let mut seeds = Vec::new();
    for name in ["landing-chest", "landing-chest-finished"] {
        let job = file(&format!("tests/jobs/{name}/job.txt"));
        let record = file(&format!("tests/jobs/{name}/record.txt"));
        seeds.push(folder(&job, &record, b""));
        for from in (0..90).step_by(18) {
            let some = lines(&record, from, 9);
            if !some.is_empty() {
                seeds.push(folder(&job, &some, b""));
            }
        }
    }
    let job = b"job folder: 1\npiece: drop-leaf table with 2 leaves\n";
    seeds.push(folder(job, b"leaf 1 is stained\n", b""));
    for unit in units() {
        seeds.push(folder(job, b"", &unit));
    }
    seeds
}

/// What a bench unit sent, as it is kept.
fn units() -> Vec<Vec<u8>> {
    use std::fmt::Write as _;
    use tellmark_core::log::Entry;
    use tellmark_tests::dice::Dice;
    let pack = screen::pack();
    (0..4)
        .map(|seed| {
            let noted = tellmark_tests::unit::inspection(&pack, &mut Dice::new(seed), 12);
            let mut text = String::new();
            let mut last = 0;
            for (noted, sequence) in noted.into_iter().zip(1..) {
                let _ = write!(text, "note 5eed0001 {sequence} ");
                for byte in (Entry { sequence, noted }).to_slot() {
                    let _ = write!(text, "{byte:02x}");
                }
                text.push('\n');
                last = sequence;
            }
            let _ = writeln!(text, "kept 5eed0001 {last}");
            text.into_bytes()
        })
        .collect()
}

fn dictionary() -> Vec<Vec<u8>> {
    let mut words = notes::dictionary();
    let labels = [
        "wish:",
        "limit:",
        "leave:",
        "not leave:",
        "agreed:",
        "refused:",
        "done:",
        "not done:",
        "photo:",
        "heeded:",
        "finished:",
        "#",
        "2026-11-25",
        "10:14",
        "2026-13-40",
        "25:61",
        " <cut short here, not read>",
        "note 5eed0001 ",
        "line 5eed0001 ",
        "done 5eed0001 ",
        "kept 5eed0001 ",
        "ffffffff",
        "; ",
        "piece:",
        "job folder:",
    ];
    words.extend(labels.map(|label| label.as_bytes().to_vec()));
    words.push(BETWEEN.to_vec());
    let jobs = files("rules", "jobs.rules.txt").concat();
    let jobs = String::from_utf8_lossy(&jobs).into_owned();
    let names = jobs.lines().filter_map(|line| line.strip_prefix("Job: "));
    words.extend(names.filter_map(|name| Some(name.split_once('.')?.0.as_bytes().to_vec())));
    words
}
