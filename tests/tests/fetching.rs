//! What was noted on a unit, fetched into a job's record over a bad line and
//! with power failing at every byte: once, in order, in the words of the rules.

use jiff::civil::{DateTime, date};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;
use tellmark_compile::check::{Checked, Depth, check};
use tellmark_compile::room::Room;
use tellmark_compile::set_up::SetUp;
use tellmark_core::inspection::Inspection;
use tellmark_core::log::{Entry, Flash as _, Log, SLOT};
use tellmark_core::number::UFloat;
use tellmark_core::pack::Pack;
use tellmark_core::piece::{Answer, Part};
use tellmark_core::record::Noted;
use tellmark_core::work::Work;
use tellmark_device::unit::{
    FetchError, Fetched, LEDGER_FILE, Line, PATIENCE, Rules, Target, fetch, keep, put_into_words,
};
use tellmark_job::record::{CUT_SHORT, Findings, Header, Job};
use tellmark_language::model::Fact;
use tellmark_language::{AnswerReader, SourceFile, read};
use tellmark_tests::dice::Dice;
use tellmark_tests::unit::{Board, MemoryWire, MockFlash, Rates, inspection};

const LOG: u32 = 0x5EED_0002;

static RULES: LazyLock<Checked> = LazyLock::new(|| rules(""));

/// The rules of the bench at Mill Lane, and a sentence more.
fn rules(more: &str) -> Checked {
    let mut text = include_str!("../packs/v1/bench.rules.txt").to_owned();
    text.push_str(more);
    let files = vec![SourceFile {
        name: "bench.rules.txt".to_owned(),
        text,
        standard: false,
    }];
    let checked = check(read(files), Depth::Build);
    assert!(checked.built.is_some());
    checked
}

fn pack() -> Pack<'static> {
    RULES.built.as_ref().unwrap().bytes.open().unwrap()
}

/// A folder that is gone afterwards; in memory where there is such a place, for
/// a disk takes its time over every line that must be safe.
fn place_for_jobs() -> tempfile::TempDir {
    tempfile::tempdir_in("/dev/shm")
        .or_else(|_| tempfile::tempdir())
        .unwrap()
}

fn now() -> DateTime {
    date(2026, 11, 25).at(10, 14, 0, 0)
}

fn fetch_with(
    wire: &mut MemoryWire,
    rules: &Checked,
    folder: &Path,
    again: bool,
) -> Result<Fetched, FetchError> {
    let target = Target {
        again,
        ..target(folder)
    };
    fetch(
        &mut Line::new(wire, PATIENCE, 0),
        words_of(rules),
        target,
        |_, _| {},
    )
}

fn words_of(rules: &Checked) -> Rules<'_> {
    Rules {
        model: &rules.reading.model,
        built: rules.built.as_ref().unwrap(),
    }
}

fn target(folder: &Path) -> Target<'_> {
    Target {
        folder,
        now: now(),
        again: false,
    }
}

fn fetch_into(wire: &mut MemoryWire, folder: &Path) -> Result<Fetched, FetchError> {
    fetch_with(wire, &RULES, folder, false)
}

fn record(folder: &Path) -> String {
    fs::read_to_string(folder.join("record.txt")).unwrap()
}

/// A unit with these notes, at the end of a good line.
fn noted(notes: &[Noted]) -> MemoryWire {
    let mut board = Board::new(LOG);
    board.note(notes);
    MemoryWire::new(board, Rates::default(), 0)
}

fn random(seed: u64, answers: usize) -> Vec<Noted> {
    inspection(&pack(), &mut Dice::new(seed), answers)
}

/// "drop-leaf table": places in the tree of the pack.
fn place(pack: &Pack<'_>, owner: Option<usize>, name: &str) -> u16 {
    let is_it = |p: &usize| {
        let record = pack.place(*p);
        let kind = pack.kind(usize::from(record.kind));
        let owned = owner.map_or(record.owner == tellmark_core::pack::NONE, |owner| {
            usize::from(record.owner) == owner
        });
        owned && pack.text(kind.name) == name
    };
    u16::try_from((0..pack.places()).find(is_it).unwrap()).unwrap()
}

fn ask(pack: &Pack<'_>, question: &str) -> u16 {
    let asks = |a: &usize| pack.text(pack.ask(*a).question) == question;
    u16::try_from((0..pack.asks()).find(asks).unwrap()).unwrap()
}

/// A table whose first fall has other counts than usual, and a few answers.
fn table() -> Vec<Noted> {
    let pack = pack();
    let root = place(&pack, None, "drop-leaf table");
    let fall = place(&pack, Some(root.into()), "fall");
    let hinge = place(&pack, Some(fall.into()), "hinge");
    let sagging = ask(&pack, "Does the fall droop?");
    let heating = ask(&pack, "Kept near heating?");
    vec![
        Noted::Begun {
            root,
            pack: pack.id(),
        },
        Noted::Parts {
            owner: 0,
            place: fall,
            number: 1,
        },
        Noted::Parts {
            owner: 2,
            place: hinge,
            number: 2,
        },
        // The table, the top, the fall, two hinges with eight screws each, three
        // supports.
        Noted::SetUp { parts: 24 },
        Noted::Answered {
            part: 2,
            ask: sagging,
            answer: Answer::Seen(true),
        },
        Noted::Answered {
            part: 0,
            ask: heating,
            answer: Answer::Certain(false),
        },
        Noted::Heeded {
            caution: 0,
            part: 2,
        },
        Noted::OutOfSight {
            part: 1,
            out_of_sight: true,
        },
        Noted::OutOfSight {
            part: 1,
            out_of_sight: false,
        },
        Noted::Answered {
            part: 2,
            ask: sagging,
            answer: Answer::NotLooked,
        },
        Noted::Finished,
    ]
}

/// A folder that came from elsewhere may have links to any place.
#[cfg(unix)]
#[test]
fn no_link_is_followed() {
    let folder = place_for_jobs();
    let job = folder.path().join("table");
    fetch_into(&mut noted(&table()), &job).unwrap();
    let (ledger, outside) = (job.join(LEDGER_FILE), folder.path().join("outside"));
    fs::rename(&ledger, &outside).unwrap();
    let before = fs::read_to_string(&outside).unwrap();
    std::os::unix::fs::symlink(&outside, &ledger).unwrap();
    let trouble = fetch_into(&mut noted(&table()), &job).unwrap_err();
    assert!(
        trouble
            .to_string()
            .contains("it is a link to another place"),
        "{trouble}"
    );
    assert_eq!(fs::read_to_string(&outside).unwrap(), before);
}

#[test]
fn notes_become_dated_lines_of_a_new_job() {
    let folder = place_for_jobs();
    let job = folder.path().join("table");
    let mut wire = noted(&table());
    let fetched = fetch_into(&mut wire, &job).unwrap();
    assert_eq!((fetched.notes, fetched.unsaid, fetched.damaged), (11, 0, 0));
    assert!(fetched.created && !fetched.more && !fetched.being_begun);
    insta::assert_snapshot!("record", record(&job));
    // The first note names the pack, which changes with the compiler.
    let ledger = fs::read_to_string(job.join(LEDGER_FILE)).unwrap();
    let kept = ledger
        .lines()
        .filter(|l| !l.starts_with("note 5eed0002 1 "));
    let kept: Vec<&str> = kept.collect();
    assert_eq!(kept.len() + 1, ledger.lines().count());
    insta::assert_snapshot!("ledger", kept.join("\n"));
    assert_eq!(
        Job::open(&job).unwrap().header().piece,
        "drop-leaf table with 1 fall"
    );
    assert_eq!(wire.board.log.unfetched(), 0);
    // A second time there is nothing, and nothing changes.
    let before = record(&job);
    let fetched = fetch_into(&mut wire, &job).unwrap();
    assert_eq!((fetched.notes, fetched.lines.len()), (0, 0));
    assert_eq!(record(&job), before);
}

/// A slot whose number is wrong and whose seal is right is rare, and must not fill the
/// disk: the notes that seem to be missing before it are told in one line.
#[test]
fn however_many_notes_are_missing_takes_one_line() {
    let mut flash = MockFlash::new(8);
    let mut log = Log::open(&mut flash, LOG).unwrap();
    for noted in table() {
        log.append(noted).unwrap();
    }
    let slot = Entry {
        sequence: 4_000_000_000,
        noted: Noted::Finished,
    };
    let at = 32 + SLOT * table().len();
    flash.program(at, &slot.to_slot()).unwrap();
    let board = Board::with(flash, MockFlash::new(4), LOG);
    let mut wire = MemoryWire::new(board, Rates::default(), 0);
    let folder = place_for_jobs();
    let job = folder.path().join("table");
    let fetched = fetch_into(&mut wire, &job).unwrap();
    assert_eq!((fetched.notes, fetched.damaged), (12, 3_999_999_988));
    let said = "bench unit: notes 12 to 3999999999 were damaged on the unit and cannot be read\n";
    assert_eq!(record(&job).matches(said).count(), 1);
    assert_eq!(wire.board.log.unfetched(), 0);
}

/// Parts, and every answer by part and ask.
type Standing = (Vec<Part>, Vec<(usize, u16, Answer)>);

fn standing<N: tellmark_core::number::Number>(inspection: &Inspection<'_, '_, N>) -> Standing {
    let (piece, pack) = (inspection.piece(), inspection.pack());
    (piece.parts().to_vec(), piece.answered(pack).collect())
}

/// The piece as the unit has it, by the core alone.
fn on_the_unit(notes: &[Noted]) -> Standing {
    let mut room = tellmark_device::bench::Room::default();
    let mut work = Work::new(pack(), room.memory());
    for noted in notes {
        assert_eq!(work.play(*noted), Ok(()), "{noted:?}");
    }
    standing(work.inspection().unwrap())
}

/// The piece as the job has it, read from its record.
fn in_the_job(folder: &Path) -> Standing {
    let job = Job::open(folder).unwrap();
    let model = &RULES.reading.model;
    let reader = AnswerReader::new(model);
    let order = reader.piece(&job.header().piece).unwrap();
    let findings = Findings::read(model, job.lines(), |text| reader.facts(text));
    assert!(findings.not_understood.is_empty());
    let facts: Vec<&Fact> = findings.standing().map(|f| &f.fact).collect();
    let set_up = SetUp {
        model,
        built: RULES.built.as_ref().unwrap(),
        order: &order,
        facts: &facts,
        later: None,
    };
    let mut room = Room::<UFloat>::default();
    let case = set_up.case(pack(), &mut room).unwrap();
    standing(&case.inspection)
}

/// What both are to agree on. The numbers of parts are known on the host, and
/// what a hidden fault looks like when its part is opened is certain there.
fn comparable(all: &[(usize, u16, Answer)]) -> Vec<(usize, u16, Answer)> {
    let hidden = |ask: u16| pack().ask(ask.into()).way == tellmark_core::pack::Way::Open;
    let counts = |ask: u16| {
        let form = pack().ask(ask.into()).form;
        matches!(form, tellmark_core::pack::Form::HowMany { .. })
    };
    let mut all: Vec<_> = all
        .iter()
        .filter(|(_, ask, answer)| !counts(*ask) && answer.says_something())
        .map(|&(part, ask, answer)| match answer {
            Answer::Seen(yes) if hidden(ask) => (part, ask, Answer::Certain(yes)),
            answer => (part, ask, answer),
        })
        .collect();
    all.sort_unstable_by_key(|(part, ask, _)| (*part, *ask));
    all
}

#[test]
fn a_piece_comes_out_on_the_host_as_it_was_on_the_unit() {
    let folder = place_for_jobs();
    let mut compared = 0;
    for seed in 0..40 {
        let job = folder.path().join(format!("job-{seed}"));
        let notes = random(seed, 60);
        let fetched = fetch_into(&mut noted(&notes), &job).unwrap();
        let kept = fs::read_to_string(job.join(LEDGER_FILE)).unwrap();
        assert_eq!(
            (fetched.notes, fetched.unsaid),
            (notes.len(), 0),
            "seed {seed}:\n{kept}"
        );
        let ((unit, said), (host, read)) = (on_the_unit(&notes), in_the_job(&job));
        let tree = |parts: &[Part]| -> Vec<(u16, u16, u8)> {
            parts.iter().map(|p| (p.place, p.owner, p.number)).collect()
        };
        assert_eq!(tree(&unit), tree(&host), "seed {seed}");
        let (said, read) = (comparable(&said), comparable(&read));
        assert_eq!(said, read, "seed {seed}:\n{}", record(&job));
        compared += said.len();
    }
    assert!(compared > 700, "{compared} answers");
}

/// The record without what was cut short.
fn whole_lines(folder: &Path) -> Vec<String> {
    let text = record(folder);
    let lines = text.lines().filter(|line| !line.ends_with(CUT_SHORT));
    lines.map(str::to_owned).collect()
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        fs::copy(entry.path(), to.join(entry.file_name())).unwrap();
    }
}

#[test]
fn power_may_fail_at_every_byte_that_is_written() {
    let folder = place_for_jobs();
    let mut notes = table();
    notes.truncate(7);
    let whole = folder.path().join("whole");
    fetch_into(&mut noted(&notes), &whole).unwrap();
    let expected = whole_lines(&whole);
    let ledger = fs::read(whole.join(LEDGER_FILE)).unwrap();
    let lines = fs::read(whole.join("record.txt")).unwrap();
    // The order in which they are written: notes and what they will become, the
    // record, and that it is done.
    let done = ledger.len() - "done 5eed0002 7\n".len();
    assert!(ledger[done..].starts_with(b"done"));
    let states = (0..done)
        .map(|bytes| (bytes, 0))
        .chain((0..lines.len()).map(|bytes| (done, bytes)))
        .chain((done..=ledger.len()).map(|bytes| (bytes, lines.len())));
    let mut number = 0;
    for (of_ledger, of_record) in states {
        let job = folder.path().join("cut");
        copy(&whole, &job);
        fs::write(job.join(LEDGER_FILE), &ledger[..of_ledger]).unwrap();
        fs::write(job.join("record.txt"), &lines[..of_record]).unwrap();
        let said = format!("cut at byte {of_ledger} of the ledger, {of_record} of the record");
        let mut wire = noted(&notes);
        fetch_into(&mut wire, &job).expect(&said);
        assert_eq!(whole_lines(&job), expected, "{said}");
        assert_eq!(wire.board.log.unfetched(), 0, "{said}");
        let read = Job::open(&job).unwrap();
        assert!(read.unread().len() <= 1, "{said}");
        fs::remove_dir_all(&job).unwrap();
        number += 1;
    }
    assert!(number > 1_000, "{number} cuts");
}

#[test]
fn the_cable_may_be_pulled_out_after_every_frame() {
    let folder = place_for_jobs();
    let notes = random(3, 70);
    let whole = folder.path().join("whole");
    let mut wire = noted(&notes);
    fetch_into(&mut wire, &whole).unwrap();
    let frames = wire.sent.len();
    assert!(frames > 12, "{frames} frames");
    for frame in 0..frames {
        let job = folder.path().join(format!("job-{frame}"));
        let mut wire = noted(&notes);
        wire.frames_left = Some(frame);
        let cut = fetch_into(&mut wire, &job);
        assert!(matches!(cut, Err(FetchError::Line(_))), "{cut:?}");
        // What the unit was told to forget is in the record.
        let fetched = wire.board.log.acknowledged();
        if fetched > 0 {
            let ledger = fs::read_to_string(job.join(LEDGER_FILE)).unwrap();
            assert!(ledger.contains(&format!("done 5eed0002 {fetched}\n")));
        }
        wire.frames_left = None;
        fetch_into(&mut wire, &job).unwrap();
        assert_eq!(record(&job), record(&whole), "after {frame} frames");
    }
}

/// Each kind of fault alone, and all together: so many of 1,000 bytes.
fn grid() -> Vec<(String, Rates)> {
    let mut grid = vec![("a good line".to_owned(), Rates::default())];
    for n in [3, 10, 20] {
        let clean = Rates::default();
        grid.push((
            format!("{n} dropped"),
            Rates {
                dropped: n,
                ..clean
            },
        ));
        grid.push((
            format!("{n} damaged"),
            Rates {
                damaged: n,
                ..clean
            },
        ));
        grid.push((
            format!("{n} doubled"),
            Rates {
                doubled: n,
                ..clean
            },
        ));
    }
    let all = |n| Rates {
        dropped: n,
        damaged: n,
        doubled: n,
    };
    grid.push(("3 of each".to_owned(), all(3)));
    grid.push(("7 of each".to_owned(), all(7)));
    grid
}

#[test]
fn every_note_arrives_once_over_a_bad_line() {
    let folder = place_for_jobs();
    let notes = random(3, 200);
    let whole = folder.path().join("whole");
    fetch_into(&mut noted(&notes), &whole).unwrap();
    let expected = record(&whole);
    let mut table = format!(
        "{:14} {:>5} {:>8} {:>6} {:>6} {:>8} {:>7} {:>8}\n",
        "of 1,000 bytes", "notes", "in order", "sent", "again", "garbled", "silent", "seconds"
    );
    for (name, rates) in grid() {
        for seed in 1..=2 {
            let job = folder.path().join(format!("{name} {seed}"));
            let mut board = Board::new(LOG);
            board.note(&notes);
            let mut wire = MemoryWire::new(board, rates, seed);
            let mut line = Line::new(&mut wire, PATIENCE, 0);
            let rules = Rules {
                model: &RULES.reading.model,
                built: RULES.built.as_ref().unwrap(),
            };
            let target = Target {
                folder: &job,
                now: now(),
                again: false,
            };
            let fetched = fetch(&mut line, rules, target, |_, _| {}).unwrap();
            let tally = line.tally();
            let in_order = record(&job) == expected;
            let seconds = tellmark_device::unit::Wire::now(&wire) as f64 / 1000.0;
            table.push_str(&format!(
                "{name:14} {:5} {:>8} {:6} {:6} {:8} {:7} {seconds:8.1}\n",
                fetched.notes,
                if in_order { "yes" } else { "NO" },
                tally.sent,
                tally.again,
                tally.garbled,
                tally.silent,
            ));
            assert!(in_order, "{name}, seed {seed}");
            assert_eq!(fetched.notes, notes.len(), "{name}, seed {seed}");
            assert_eq!(wire.board.log.unfetched(), 0);
        }
    }
    insta::assert_snapshot!("bad_lines", table);
}

#[test]
fn notes_made_by_other_rules_are_kept_and_stay_on_the_unit() {
    let folder = place_for_jobs();
    let job = job_of_a_table(folder.path(), "table");
    let other = rules("Take care when a fall is sagging: \"Mind.\"  From: house\n");
    let mut wire = noted(&table());
    let trouble = fetch_with(&mut wire, &other, &job, false).unwrap_err();
    assert!(
        matches!(
            &trouble,
            FetchError::OtherRules { kept: Some((11, path)), .. } if *path == job.join(LEDGER_FILE)
        ),
        "{trouble}"
    );
    assert_eq!(wire.board.log.unfetched(), 11);
    assert_eq!(record(&job), "");
    let kept = fs::read_to_string(job.join(LEDGER_FILE)).unwrap();
    assert_eq!(kept.matches("note 5eed0002").count(), 11);
    // With the right rules they arrive after all.
    let fetched = fetch_into(&mut wire, &job).unwrap();
    assert_eq!((fetched.notes, wire.board.log.unfetched()), (11, 0));
    assert!(record(&job).contains("fall 1 is sagging"));
    // A folder that is not there is not made for nothing.
    let mut wire = noted(&table());
    let none = folder.path().join("none");
    let trouble = fetch_with(&mut wire, &other, &none, false).unwrap_err();
    assert!(
        trouble
            .to_string()
            .ends_with("Nothing was taken off the unit.")
    );
    assert!(!none.exists());
}

/// The folder of a job about a table, of which nothing is noted yet.
fn job_of_a_table(parent: &Path, name: &str) -> PathBuf {
    let header = Header::new("drop-leaf table with 1 fall", now(), "", 0);
    Job::create(parent, name, &header).unwrap();
    parent.join(name)
}

#[test]
fn notes_whose_rules_are_gone_can_be_kept() {
    let folder = place_for_jobs();
    let job = job_of_a_table(folder.path(), "kept");
    let mut wire = noted(&table());
    let kept = keep(&mut Line::new(&mut wire, PATIENCE, 0), &job).unwrap();
    assert_eq!((kept, wire.board.log.unfetched()), (11, 0));
    let text = fs::read_to_string(job.join(LEDGER_FILE)).unwrap();
    assert_eq!(text.matches("note 5eed0002").count(), 11);
    assert_eq!(record(&job), "");
    // Nothing is kept twice.
    let again = keep(&mut Line::new(&mut wire, PATIENCE, 0), &job).unwrap();
    assert_eq!(again, 0);

    // Rules that did not make them do not read them, and nothing is lost.
    let other = rules("Take care when a fall is sagging: \"Mind.\"  From: house\n");
    let trouble = put_into_words(words_of(&other), target(&job)).unwrap_err();
    assert!(
        matches!(trouble, FetchError::OtherRules { .. }),
        "{trouble}"
    );
    assert_eq!(record(&job), "");

    // With the right ones they are put into words after all, once.
    let fetched = put_into_words(words_of(&RULES), target(&job)).unwrap();
    assert_eq!((fetched.notes, fetched.unsaid), (11, 0));
    let mut other_way = noted(&table());
    let at_once = folder.path().join("at once");
    fetch_into(&mut other_way, &at_once).unwrap();
    assert_eq!(record(&job), record(&at_once));
    let fetched = put_into_words(words_of(&RULES), target(&job)).unwrap();
    assert_eq!(fetched.notes, 0);

    // What is noted after that goes on about the same piece.
    wire.board.note(&[table()[7]]);
    assert_eq!(fetch_into(&mut wire, &job).unwrap().notes, 1);
}

/// An editor or a way of copying files may change the line ends.
#[test]
fn what_was_kept_is_read_with_other_line_ends() {
    let folder = place_for_jobs();
    let job = job_of_a_table(folder.path(), "kept");
    let mut wire = noted(&table());
    keep(&mut Line::new(&mut wire, PATIENCE, 0), &job).unwrap();
    let text = fs::read_to_string(job.join(LEDGER_FILE)).unwrap();
    fs::write(job.join(LEDGER_FILE), text.replace('\n', "\r\n")).unwrap();
    let fetched = put_into_words(words_of(&RULES), target(&job)).unwrap();
    assert_eq!((fetched.notes, fetched.unsaid), (11, 0));
}

#[test]
fn what_was_only_kept_comes_before_what_is_fetched() {
    let folder = place_for_jobs();
    let job = job_of_a_table(folder.path(), "kept");
    let (notes, at_once) = (table(), folder.path().join("at once"));
    fetch_into(&mut noted(&notes), &at_once).unwrap();
    let mut wire = noted(&notes[..8]);
    keep(&mut Line::new(&mut wire, PATIENCE, 0), &job).unwrap();
    wire.board.note(&notes[8..]);
    assert_eq!(fetch_into(&mut wire, &job).unwrap().notes, 11);
    assert_eq!(record(&job), record(&at_once));
}

#[test]
fn a_job_about_another_piece_is_left_alone() {
    let folder = place_for_jobs();
    for (piece, said) in [
        (
            "chest of drawers with 4 drawers",
            "The job is about a chest of drawers with 4 drawers, and the notes are about a \
             drop-leaf table with 1 fall.",
        ),
        (
            "drop-leaf table with 2 falls",
            "The job is about a drop-leaf table with 2 falls, and the notes are about a \
             drop-leaf table with 1 fall.",
        ),
    ] {
        let name = piece.replace(' ', "-");
        let job = Job::create(folder.path(), &name, &Header::new(piece, now(), "", 0)).unwrap();
        let mut wire = noted(&table());
        let trouble = fetch_into(&mut wire, job.folder()).unwrap_err().to_string();
        assert!(trouble.starts_with(said), "{trouble}");
        assert_eq!(record(job.folder()), "");
        assert_eq!(wire.board.log.unfetched(), 11);
    }
}

#[test]
fn the_notes_of_two_pieces_go_into_two_jobs() {
    let folder = place_for_jobs();
    let (one, two) = (folder.path().join("one"), folder.path().join("two"));
    let mut notes = table();
    notes.pop();
    let mut wire = noted(&notes);
    assert_eq!(fetch_into(&mut wire, &one).unwrap().notes, 10);
    // The first goes on while it is on the bench, then another is begun.
    wire.board.note(&[Noted::Finished]);
    wire.board.note(&table()[..6]);
    let fetched = fetch_into(&mut wire, &one).unwrap();
    assert_eq!((fetched.notes, fetched.more), (1, true));
    // The second is not the first one's business.
    let trouble = fetch_into(&mut wire, &one).unwrap_err();
    assert!(matches!(&trouble, FetchError::BegunAgain { unit } if unit == "drop-leaf table"));
    let fetched = fetch_into(&mut wire, &two).unwrap();
    assert_eq!(
        (fetched.notes, fetched.more, fetched.created),
        (6, false, true)
    );
    // What goes on about the second does not go into the first.
    wire.board.note(&[table()[4]]);
    let trouble = fetch_into(&mut wire, &one).unwrap_err();
    assert!(matches!(trouble, FetchError::NoBeginning), "{trouble}");
    assert_eq!(fetch_into(&mut wire, &two).unwrap().notes, 1);
    // The first is looked over once more.
    wire.board.note(&table());
    let again = fetch_with(&mut wire, &RULES, &one, true).unwrap();
    assert_eq!((again.notes, again.more), (11, false));
    assert_eq!(wire.board.log.unfetched(), 0);
}

#[test]
fn a_piece_that_is_being_begun_waits_until_it_is_set_up() {
    let folder = place_for_jobs();
    let job = folder.path().join("table");
    let notes = table();
    // Begun, given up, and begun again.
    let mut wire = noted(&notes[..2]);
    wire.board.note(&notes[..3]);
    let fetched = fetch_into(&mut wire, &job).unwrap();
    assert!(fetched.being_begun && fetched.notes == 0);
    assert!(!job.exists());
    wire.board.note(&notes[3..]);
    let fetched = fetch_into(&mut wire, &job).unwrap();
    assert_eq!((fetched.notes, fetched.being_begun), (13, false));
    assert!(record(&job).contains("fall 1 has 2 hinges"));
}

#[test]
fn parts_counted_on_the_way_change_which_part_is_which() {
    let folder = place_for_jobs();
    let job = folder.path().join("table");
    let lopers = ask(&pack(), "Lopers under fall?");
    let loose = ask(&pack(), "Turns by hand?");
    let mut notes = table();
    notes.push(Noted::Answered {
        part: 2,
        ask: lopers,
        answer: Answer::Reading(0),
    });
    // Without the three supports the screws follow the hinges at once.
    notes.push(Noted::Answered {
        part: 5,
        ask: loose,
        answer: Answer::Seen(true),
    });
    let fetched = fetch_into(&mut noted(&notes), &job).unwrap();
    assert_eq!((fetched.notes, fetched.unsaid), (13, 0));
    let text = record(&job);
    assert!(text.contains("fall 1 has no supports"), "{text}");
    assert!(
        text.ends_with("screw 1 of hinge 1 of fall 1 is loose\n"),
        "{text}"
    );
}
