//! A job folder through power cuts, two writers, full disks and careless hands.

use jiff::civil::{DateTime, date};
use std::fs;
use std::path::{Path, PathBuf};
use tellmark_job::record::{self, CUT_SHORT, Header, Job, JobError, Says, When, Why};
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
    assert_eq!(again.lines()[1].when, When::Minute(at(10, 15), None));
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
        let unread = |job: &Job| -> Vec<(usize, Why)> {
            job.unread().iter().map(|u| (u.number, u.why)).collect()
        };
        let expected = |why| if torn { vec![(ended + 1, why)] } else { vec![] };
        assert_eq!(unread(&job), expected(Why::NotEnded), "cut at {cut}");

        let added = job.append("drawer 4 is stiff", at(11, 0)).unwrap();
        assert_eq!(added.ended_a_torn_line, torn);
        let mut all = said[..ended].to_vec();
        all.push("drawer 4 is stiff");
        assert_eq!(texts(&job), all, "cut at {cut}");
        assert_eq!(unread(&job), expected(Why::CutShort), "cut at {cut}");
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
    assert_eq!(job.unread()[0].why, Why::NotEnded);
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
    assert!(matches!(Job::open(job.folder()), Err(JobError::NoPiece(_))));
    fs::write(&path, "job folder: 2\npiece: table\n").unwrap();
    assert!(matches!(
        Job::open(job.folder()),
        Err(JobError::TooNew { layout, .. }) if layout == "2"
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
            matches!(job.append(text, at(10, 14)), Err(JobError::NotOneLine)),
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

/// A program that was stopped leaves the file, but not the lock.
#[test]
fn a_lock_ends_with_its_program() {
    let (_parent, mut job) = new_job();
    let lock = job.folder().join("record.lock");
    fs::write(&lock, "program number 7 since 2026-11-25 09:00\n").unwrap();
    job.append("drawer 2 is stiff", at(10, 14)).unwrap();
    assert_eq!(texts(&job), ["drawer 2 is stiff"]);

    fs::write(&lock, "program number 7 since 2026-11-25 09:00\n").unwrap();
    let held = fs::File::open(&lock).unwrap();
    held.lock().unwrap();
    let trouble = job.append("drawer 3 is stiff", at(10, 14)).unwrap_err();
    assert!(trouble.is_of_the_disk());
    assert_eq!(
        trouble.to_string(),
        "Somebody else is writing in this job (program number 7 since 2026-11-25 09:00). \
         Nothing was written. Try again in a moment."
    );
    drop(held);
    job.append("drawer 3 is stiff", at(10, 14)).unwrap();
    assert_eq!(texts(&job), ["drawer 2 is stiff", "drawer 3 is stiff"]);
}

/// As editors leave it. What may be a line of ours that was cut is never taken for whole:
/// "3 m" may have been going to be "3 mm".
#[test]
fn a_last_line_that_a_hand_left_without_an_end_is_read() {
    let first = "2026-11-25 10:14  drawer 1 is stiff\n";
    let (by_hand, perhaps_ours) = (
        [
            "runner 1 of drawer 2 is worn 3 mm",
            "2026-11-25 runner 1 of drawer 2 is worn 3 mm",
            "2026-11-25 10:15 runner 1 of drawer 2 is worn 3 mm",
            "2026-11-25\t10:15  runner 1 of drawer 2 is worn 3 mm",
            "  2026-11-25 10:15  runner 1 of drawer 2 is worn 3 mm\r",
        ],
        [
            "#",
            "# 2026-11-25 10:15  bench unit: note 3 was dam",
            "2",
            "2026-11-2",
            "2026-11-25 10:1",
            "2026-11-25 10:15 ",
            "2026-11-25 10:15  runner 1 of drawer 2 is worn 3 m",
            "2026-11-25 10:15  runner 1 of drawer 2 is worn 3 mm",
            "runner 1 of drawer 2 is worn 3 \0\0",
        ],
    );
    let both = by_hand.iter().map(|line| (line, true));
    for (line, is_whole) in both.chain(perhaps_ours.iter().map(|line| (line, false))) {
        let (_parent, job) = new_job();
        fs::write(record(&job), format!("{first}{line}")).unwrap();
        let mut job = Job::open(job.folder()).unwrap();
        let expected: &[&str] = if is_whole {
            &["drawer 1 is stiff", "runner 1 of drawer 2 is worn 3 mm"]
        } else {
            &["drawer 1 is stiff"]
        };
        assert_eq!(texts(&job), expected, "{line:?}");
        let added = job.append("drawer 3 is stiff", at(11, 0)).unwrap();
        assert_eq!((added.number, added.ended_a_torn_line), (3, !is_whole));
        assert_eq!(texts(&job), [expected, &["drawer 3 is stiff"]].concat());
        let text = fs::read_to_string(record(&job)).unwrap();
        assert!(
            text.starts_with(&format!("{first}{line}")),
            "no byte is lost"
        );
        assert_eq!(text.contains(CUT_SHORT), !is_whole, "{line:?}");
        assert_eq!(texts(&Job::open(job.folder()).unwrap()), texts(&job));
    }
}

/// What is acknowledged reads as it was said.
#[test]
fn what_would_be_read_as_something_else_is_refused() {
    let (_parent, mut job) = new_job();
    let torn = format!("use it{CUT_SHORT}");
    let odd = Says::Done {
        job: "wax; polish".to_owned(),
        parts: vec!["drawer 2, drawer 3".to_owned()],
        took: String::new(),
        mends: Vec::new(),
    };
    for says in [Says::Wish(torn.clone()), Says::Wish(String::new()), odd] {
        let trouble = job.append_entry(&says, at(10, 14)).unwrap_err();
        assert!(matches!(trouble, JobError::NotAsSaid(_)), "{says:?}");
        assert!(!trouble.is_of_the_disk());
    }
    for text in [torn.as_str(), "done:", "photo: a.jpg"] {
        let trouble = job.append(text, at(10, 14)).unwrap_err();
        assert!(matches!(trouble, JobError::NotAsSaid(_)), "{text}");
    }
    assert_eq!(fs::read(record(&job)).unwrap(), b"");

    let leave = Says::Leave {
        part: "the top".to_owned(),
        because: "rings; and ; ;".to_owned(),
    };
    for (line, says) in (1..).zip([Says::Wish(";".to_owned()), leave]) {
        assert_eq!(job.append_entry(&says, at(10, 14)).unwrap().number, line);
        assert_eq!(
            Job::open(job.folder()).unwrap().entries()[line - 1].says,
            says
        );
    }
}

/// A folder that came from elsewhere may have links to any place.
#[cfg(unix)]
#[test]
fn no_link_in_a_job_is_followed() {
    use std::os::unix::fs::symlink;
    let link_said = "it is a link to another place, and I follow none. Put the file itself there.";
    for name in ["record.txt", "record.lock", "job.txt"] {
        let (parent, mut job) = new_job();
        let outside = parent.path().join("outside");
        fs::write(&outside, "piece: table\ndrawer 1 is stiff\n").unwrap();
        let path = job.folder().join(name);
        for target in [outside.clone(), parent.path().join("new")] {
            let _ = fs::remove_file(&path);
            symlink(target, &path).unwrap();
            if name == "job.txt" {
                let trouble = Job::open(job.folder()).unwrap_err().to_string();
                assert!(trouble.ends_with(link_said), "{trouble}");
                continue;
            }
            let trouble = job.append("drawer 2 is stiff", at(10, 14)).unwrap_err();
            assert_eq!(
                trouble.to_string(),
                format!("I could not write {}: {link_said}", path.display())
            );
        }
        assert_eq!(
            fs::read_to_string(&outside).unwrap(),
            "piece: table\ndrawer 1 is stiff\n"
        );
        assert_eq!(names(parent.path()), ["chest", "outside"]);
    }
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
    assert!(matches!(Job::open(&gone), Err(JobError::NoFolder(_))));

    let file = parent.path().join("a file");
    fs::write(&file, "").unwrap();
    let trouble = Job::create(&file, "chest", &header()).unwrap_err();
    assert!(matches!(trouble, JobError::NoFolder(_)));
    assert!(matches!(
        Job::open(parent.path()),
        Err(JobError::NotAJob(_))
    ));
}

#[test]
fn nothing_is_written_over() {
    let (parent, mut job) = new_job();
    job.append("drawer 2 is stiff", at(10, 14)).unwrap();
    let again = Job::create(parent.path(), "chest", &header());
    assert!(matches!(again, Err(JobError::Taken(_))));
    fs::create_dir(parent.path().join("empty")).unwrap();
    let empty = Job::create(parent.path(), "empty", &header());
    assert!(matches!(empty, Err(JobError::Taken(_))));
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
    assert!(
        trouble.contains("it is a link to another place"),
        "{trouble}"
    );
    fs::remove_file(record(&job)).unwrap();
    let made = std::process::Command::new("mkfifo")
        .arg(record(&job))
        .status();
    assert!(made.unwrap().success());
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
