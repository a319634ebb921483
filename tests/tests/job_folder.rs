//! A job folder through power cuts, two writers, full disks and careless hands.

use jiff::civil::{DateTime, date};
use std::fs;
use std::path::{Path, PathBuf};
use tellmark_job::record::{self, CUT_SHORT, Header, Job, Trouble, When, Why};
use tempfile::TempDir;

fn at(hour: i8, minute: i8) -> DateTime {
    date(2026, 11, 25).at(hour, minute, 0, 0)
}

fn header() -> Header {
    Header::new(
        "chest of drawers with 4 drawers",
        at(10, 2),
        "the bench at Mill Lane",
        3,
    )
}

fn new_job() -> (TempDir, Job) {
    let parent = tempfile::tempdir().unwrap();
    let job = Job::create(parent.path(), "chest", &header()).unwrap();
    (parent, job)
}

fn record(job: &Job) -> PathBuf {
    job.folder().join("record.txt")
}

fn texts(job: &Job) -> Vec<&str> {
    job.lines().iter().map(|l| l.text.as_str()).collect()
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn a_new_folder_can_be_read_without_the_tool() {
    let (parent, mut job) = new_job();
    job.append("runner 1 of drawer 2 is worn 3 mm", at(10, 14))
        .unwrap();
    assert_eq!(names(parent.path()), ["chest"]);
    assert_eq!(names(job.folder()), ["README.txt", "job.txt", "record.txt"]);
    assert_eq!(
        fs::read_to_string(job.folder().join("job.txt")).unwrap(),
        "job folder: 1\n\
         piece: chest of drawers with 4 drawers\n\
         opened: 2026-11-25 10:02\n\
         house rules: the bench at Mill Lane\n\
         version: 3\n"
    );
    assert_eq!(
        fs::read_to_string(record(&job)).unwrap(),
        "2026-11-25 10:14  runner 1 of drawer 2 is worn 3 mm\n"
    );
    let readme = fs::read_to_string(job.folder().join("README.txt")).unwrap();
    assert!(readme.contains(CUT_SHORT.trim()), "it explains the mark");
}

#[test]
fn what_was_written_is_read_again() {
    let (_parent, mut job) = new_job();
    let added = job.append("drawer 2 is stiff", at(10, 14)).unwrap();
    assert_eq!((added.number, added.ended_a_torn_line), (1, false));
    let added = job.append("  drawer 3 is not stiff ", at(10, 15)).unwrap();
    assert_eq!(added.number, 2);
    let again = Job::open(job.folder()).unwrap();
    assert_eq!(again.header(), &header());
    assert_eq!(again.lines(), job.lines());
    assert_eq!(
        texts(&again),
        ["drawer 2 is stiff", "drawer 3 is not stiff"]
    );
    assert_eq!(again.lines()[1].when, When::Minute(at(10, 15)));
}

/// The power fails after any byte: every line that was whole by then is read,
/// no part of a line ever is, and the next line goes in whole.
#[test]
fn power_may_fail_after_any_byte() {
    let (_parent, mut job) = new_job();
    let said = [
        "runner 1 of drawer 2 is worn 3 mm",
        "drawer 2 is stiff",
        "the “old” glue block cannot be seen",
    ];
    for (minute, text) in said.iter().enumerate() {
        let minute = i8::try_from(minute).unwrap();
        job.append(text, at(10, minute)).unwrap();
    }
    let whole = fs::read(record(&job)).unwrap();
    for cut in 0..=whole.len() {
        let left = &whole[..cut];
        fs::write(record(&job), left).unwrap();
        let ended = left.iter().filter(|b| **b == b'\n').count();
        let torn = cut > 0 && left[cut - 1] != b'\n';

        let mut job = Job::open(job.folder()).unwrap();
        assert_eq!(texts(&job), said[..ended], "cut at {cut}");
        let unread: Vec<(usize, Why)> = job.unread().iter().map(|u| (u.number, u.why)).collect();
        let expected = if torn {
            vec![(ended + 1, Why::CutShort)]
        } else {
            vec![]
        };
        assert_eq!(unread, expected, "cut at {cut}");

        let added = job.append("drawer 4 is stiff", at(11, 0)).unwrap();
        assert_eq!(added.ended_a_torn_line, torn);
        let mut all = said[..ended].to_vec();
        all.push("drawer 4 is stiff");
        assert_eq!(texts(&job), all, "cut at {cut}");
        let unread: Vec<(usize, Why)> = job.unread().iter().map(|u| (u.number, u.why)).collect();
        assert_eq!(unread, expected, "cut at {cut}");
        assert!(
            fs::read(record(&job)).unwrap().starts_with(left),
            "not one byte was lost at {cut}"
        );
    }
}

/// Some disks leave zeros where a last line was being written.
#[test]
fn zeros_at_the_end_are_a_torn_line() {
    let (_parent, job) = new_job();
    fs::write(
        record(&job),
        b"2026-11-25 10:14  drawer 2 is stiff\n\0\0\0\0",
    )
    .unwrap();
    let mut job = Job::open(job.folder()).unwrap();
    assert_eq!(texts(&job), ["drawer 2 is stiff"]);
    assert_eq!(job.unread()[0].why, Why::CutShort);
    job.append("drawer 3 is stiff", at(11, 0)).unwrap();
    assert_eq!(texts(&job), ["drawer 2 is stiff", "drawer 3 is stiff"]);
}

#[test]
fn hands_may_edit_the_record() {
    let (_parent, job) = new_job();
    let bytes = [
        "\u{feff}# my own remark\r\n".as_bytes(),
        b"2026-11-25 10:14\tdrawer 2 is stiff\r\n",
        b"\n",
        b"  drawer 3 is stiff\n",
        b"2026-11-25 drawer 4 is stiff\n",
        b"2026-11-25 10:14:59 drawer 1 is stiff\n",
        b"2026-02-30 10:14  drawer 1 is stiff\n",
        b"2026-11-25 25:14  drawer 1 is stiff\n",
        b"2026-11-25 10:14\n",
        b"drawer 1 \xff is stiff\n",
        b"2026-11-25 10:16  2 drawers are stiff\n",
    ]
    .concat();
    fs::write(record(&job), &bytes).unwrap();
    let mut job = Job::open(job.folder()).unwrap();
    let read: Vec<String> = job
        .lines()
        .iter()
        .map(|l| format!("{}: {}: {}", l.number, l.when, l.text))
        .collect();
    assert_eq!(
        read,
        [
            "2: 2026-11-25 10:14: drawer 2 is stiff",
            "4: no date: drawer 3 is stiff",
            "5: 2026-11-25: drawer 4 is stiff",
            "6: 2026-11-25 10:14: drawer 1 is stiff",
            "11: 2026-11-25 10:16: 2 drawers are stiff",
        ]
    );
    let unread: Vec<String> = job.unread().iter().map(ToString::to_string).collect();
    assert_eq!(
        unread,
        [
            "Line 7 of record.txt begins with a time that I cannot read (2026-11-25 10:14 would \
             do): 2026-02-30 10:14  drawer 1 is stiff",
            "Line 8 of record.txt begins with a time that I cannot read (2026-11-25 10:14 would \
             do): 2026-11-25 25:14  drawer 1 is stiff",
            "Line 9 of record.txt has a time and nothing after it.",
            "Line 10 of record.txt is not plain text: drawer 1 \u{fffd} is stiff",
        ]
    );
    job.append("drawer 4 is not stiff", at(12, 0)).unwrap();
    assert!(fs::read(record(&job)).unwrap().starts_with(&bytes));
}

#[test]
fn hands_may_edit_the_header() {
    let (_parent, job) = new_job();
    let path = job.folder().join("job.txt");
    fs::write(
        &path,
        "# mine\r\nOwner: a neighbour\r\n\r\nPIECE :  drop-leaf table \r\nopened: last week\r\n\
         version: three\r\nno label here\r\n",
    )
    .unwrap();
    let job = Job::open(job.folder()).unwrap();
    assert_eq!(job.header().piece, "drop-leaf table");
    assert_eq!(job.header().opened, None);
    let other: Vec<String> = job
        .header()
        .other
        .iter()
        .map(|(l, t)| format!("{l}={t}"))
        .collect();
    assert_eq!(
        other,
        ["Owner=a neighbour", "opened=last week", "version=three"]
    );

    fs::write(&path, "opened: 2026-11-25 10:02\n").unwrap();
    assert!(matches!(Job::open(job.folder()), Err(Trouble::NoPiece(_))));
    fs::write(&path, "job folder: 2\npiece: table\n").unwrap();
    assert!(matches!(
        Job::open(job.folder()),
        Err(Trouble::TooNew { layout, .. }) if layout == "2"
    ));
    fs::write(&path, b"piece: \xff\n").unwrap();
    let trouble = Job::open(job.folder()).unwrap_err().to_string();
    assert!(
        trouble.ends_with("it is not plain text (UTF-8)."),
        "{trouble}"
    );
}

#[test]
fn a_finding_is_one_line() {
    let (_parent, mut job) = new_job();
    for text in ["", "  ", "a\nb", "a\rb", "a\0b"] {
        assert!(
            matches!(job.append(text, at(10, 14)), Err(Trouble::NotOneLine)),
            "{text:?}"
        );
    }
    assert_eq!(fs::read(record(&job)).unwrap(), b"");
}

#[test]
fn two_writers_take_turns() {
    let (_parent, job) = new_job();
    let writers: Vec<_> = (1..=4)
        .map(|writer| {
            let mut job = Job::open(job.folder()).unwrap();
            std::thread::spawn(move || {
                (1..=25)
                    .map(|n| {
                        let text = format!("drawer {writer} is worn {n} mm");
                        let added = job.append(&text, at(10, 14)).unwrap();
                        (added.number, text)
                    })
                    .collect::<Vec<_>>()
            })
        })
        .collect();
    let mut told: Vec<(usize, String)> = writers
        .into_iter()
        .flat_map(|w| w.join().unwrap())
        .collect();
    told.sort();
    let job = Job::open(job.folder()).unwrap();
    assert!(job.unread().is_empty());
    let read: Vec<(usize, String)> = job
        .lines()
        .iter()
        .map(|l| (l.number, l.text.clone()))
        .collect();
    assert_eq!(read.len(), 100);
    assert_eq!(read, told, "each was told the line it stands on");
    assert!(!job.folder().join("record.lock").exists());
}

#[test]
fn a_lock_left_behind_is_explained() {
    let (_parent, mut job) = new_job();
    let lock = job.folder().join("record.lock");
    fs::write(&lock, "program number 7 since 2026-11-25 09:00\n").unwrap();
    let trouble = job.append("drawer 2 is stiff", at(10, 14)).unwrap_err();
    assert!(trouble.is_of_the_disk());
    assert_eq!(
        trouble.to_string(),
        format!(
            "Somebody else is writing in this job (program number 7 since 2026-11-25 09:00). \
             Nothing was written. If nobody is, a program was stopped half way: delete {} and \
             try again.",
            lock.display()
        )
    );
    assert_eq!(fs::read(record(&job)).unwrap(), b"");
    fs::remove_file(&lock).unwrap();
    job.append("drawer 2 is stiff", at(10, 14)).unwrap();
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_said_so_and_the_lock_is_let_go() {
    let (_parent, mut job) = new_job();
    fs::remove_file(record(&job)).unwrap();
    std::os::unix::fs::symlink("/dev/full", record(&job)).unwrap();
    let trouble = job.append("drawer 2 is stiff", at(10, 14)).unwrap_err();
    assert_eq!(
        trouble.to_string(),
        format!(
            "I could not write {}: the disk is full.",
            record(&job).display()
        )
    );
    assert!(!job.folder().join("record.lock").exists());
    assert!(job.lines().is_empty());
}

#[test]
fn where_nothing_can_be_written_it_says_so() {
    let (parent, mut job) = new_job();
    fs::remove_file(record(&job)).unwrap();
    fs::create_dir(record(&job)).unwrap();
    let trouble = job.append("drawer 2 is stiff", at(10, 14)).unwrap_err();
    assert!(
        trouble.to_string().ends_with("it is a folder, not a file."),
        "{trouble}"
    );
    let gone = job.folder().to_owned();
    fs::remove_dir_all(&gone).unwrap();
    let trouble = job.append("drawer 2 is stiff", at(10, 14)).unwrap_err();
    assert!(
        trouble.to_string().ends_with("it is not there."),
        "{trouble}"
    );
    assert!(matches!(Job::open(&gone), Err(Trouble::NoFolder(_))));

    let file = parent.path().join("a file");
    fs::write(&file, "").unwrap();
    let trouble = Job::create(&file, "chest", &header()).unwrap_err();
    assert!(matches!(trouble, Trouble::NoFolder(_)));
    assert!(matches!(Job::open(parent.path()), Err(Trouble::NotAJob(_))));
}

#[test]
fn nothing_is_written_over() {
    let (parent, mut job) = new_job();
    job.append("drawer 2 is stiff", at(10, 14)).unwrap();
    let again = Job::create(parent.path(), "chest", &header());
    assert!(matches!(again, Err(Trouble::Taken(_))));
    fs::create_dir(parent.path().join("empty")).unwrap();
    let empty = Job::create(parent.path(), "empty", &header());
    assert!(matches!(empty, Err(Trouble::Taken(_))));
    assert_eq!(names(parent.path()), ["chest", "empty"]);
    assert_eq!(texts(&Job::open(job.folder()).unwrap()).len(), 1);
}

#[test]
fn a_folder_is_named_after_the_piece_and_the_day() {
    let parent = tempfile::tempdir().unwrap();
    let day = date(2026, 11, 25);
    let name = || record::folder_name(parent.path(), "Chest of drawers, 4", day);
    assert_eq!(name(), "chest-of-drawers-4-2026-11-25");
    fs::create_dir(parent.path().join(name())).unwrap();
    assert_eq!(name(), "chest-of-drawers-4-2026-11-25-2");
    fs::create_dir(parent.path().join(name())).unwrap();
    assert_eq!(name(), "chest-of-drawers-4-2026-11-25-3");
    assert_eq!(
        record::folder_name(parent.path(), "../..//etc", day),
        "etc-2026-11-25"
    );
}

/// A folder from a stranger may hold a record that never ends.
#[cfg(target_os = "linux")]
#[test]
fn a_record_that_is_no_file_is_not_read() {
    let (_parent, job) = new_job();
    fs::remove_file(record(&job)).unwrap();
    std::os::unix::fs::symlink("/dev/zero", record(&job)).unwrap();
    let trouble = Job::open(job.folder()).unwrap_err().to_string();
    assert!(trouble.ends_with("it is not a file."), "{trouble}");
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(64))]

    /// Whatever stands in the two files, opening says so or works, and a line
    /// can be added without losing a byte.
    #[test]
    fn any_bytes_are_survived(
        header in ".{0,40}",
        bytes in proptest::collection::vec(
            proptest::prop_oneof![
                proptest::prelude::any::<u8>(),
                proptest::sample::select(b"\n\r\t #:-0123456789a".to_vec()),
            ],
            0..120,
        ),
    ) {
        let (_parent, job) = new_job();
        fs::write(job.folder().join("job.txt"), format!("{header}\npiece: chest\n")).unwrap();
        fs::write(record(&job), &bytes).unwrap();
        if let Ok(mut job) = Job::open(job.folder()) {
            let before = job.lines().to_vec();
            let added = job.append("drawer 2 is stiff", at(10, 14)).unwrap();
            let (last, earlier) = job.lines().split_last().unwrap();
            assert_eq!(earlier, before);
            assert_eq!((last.number, last.text.as_str()), (added.number, "drawer 2 is stiff"));
            assert!(fs::read(record(&job)).unwrap().starts_with(&bytes));
        }
    }
}
