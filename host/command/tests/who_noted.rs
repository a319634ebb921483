//! Who noted a line, and by which clock.

use crate::user::{Ran, User};
use tellmark_job::record::{Job, When};

/// The last line of the record as it stands there.
fn last(user: &User) -> String {
    let record = user.text("chest/record.txt");
    record.lines().last().expect("a line").to_owned()
}

#[test]
fn a_line_says_who_noted_it() {
    let user = User::with_demonstration();
    user.works(&["note", "chest", "drawer 2 is stiff"]);
    assert!(!last(&user).contains('['), "{}", last(&user));
    assert_eq!(
        user.works(&["me"]),
        "No name is set, so lines say nobody's. To set one: tellmark me \"NAME\"\n"
    );
    user.works(&["me", "A. Joiner"]);
    assert_eq!(user.works(&["me"]), "Lines are noted by A. Joiner.\n");
    user.works(&["brief", "chest", "--wish", "in use again"]);
    let line = last(&user);
    assert!(line.ends_with(" [A. Joiner]  wish: in use again"), "{line}");
    user.works(&[
        "remark",
        "chest",
        "from the mill",
        "--by",
        "the other bench",
    ]);
    let line = last(&user);
    assert!(line.contains(" [the other bench]  remark: "), "{line}");
    user.works(&["done", "chest", "photograph", "--took", "20 min"]);
    let plan = user.works(&["plan", "chest", "--certain"]);
    assert!(plan.contains(", A. Joiner)"), "{plan}");
    user.works(&["me", "--forget"]);
    user.works(&["note", "chest", "drawer 1 is stiff"]);
    assert!(!last(&user).contains("Joiner"), "{}", last(&user));
}

#[test]
fn a_name_that_a_line_cannot_hold_is_refused() {
    let user = User::with_demonstration();
    let before = user.text("chest/record.txt");
    for name in ["", "  ", "[x]", "a\u{202e}b", &"w".repeat(61)] {
        let ran = user.run(&["note", "chest", "drawer 2 is stiff", "--by", name]);
        assert_eq!(ran.code, Some(2), "{name:?}");
        assert!(ran.err.contains("will not do as a name"), "{}", ran.err);
    }
    assert_eq!(user.text("chest/record.txt"), before);
}

/// A machine that travels: later lines are later, whatever the clock on the wall says.
#[test]
fn times_carry_how_far_the_clock_is_before_utc() {
    let user = User::with_demonstration();
    for (zone, text) in [
        ("UTC-9", "drawer 1 is stiff"),
        ("UTC", "drawer 2 is stiff"),
        ("UTC+3:30", "drawer 3 is stiff"),
    ] {
        let mut command = user.command(&["note", "chest", text]);
        let ran = Ran::of(command.env("TZ", zone).output().expect("it runs"));
        assert_eq!(ran.code, Some(0), "{}", ran.err);
    }
    let job = Job::open(&user.path("chest")).expect("it opens");
    let utc = jiff::tz::Offset::UTC;
    let noted: Vec<_> = job.lines().iter().rev().take(3).collect();
    let offsets: Vec<i32> = noted
        .iter()
        .map(|line| match line.when {
            When::Minute(_, Some(offset)) => offset.seconds() / 60,
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(offsets, [-210, 0, 540]);
    let instants: Vec<_> = noted.iter().map(|line| line.when.instant(utc)).collect();
    assert!(instants.is_sorted_by(|later, earlier| later >= earlier));
    let wall: Vec<String> = noted.iter().map(|line| line.when.to_string()).collect();
    assert!(
        !wall.is_sorted_by(|later, earlier| later >= earlier),
        "{wall:?}"
    );
}

/// What earlier programs and hands wrote reads as before.
#[test]
fn lines_without_an_offset_are_read_as_before() {
    let user = User::with_demonstration();
    user.add("2026-11-25 10:14  drawer 1 is stiff");
    user.add("2026-11-25  drawer 2 is stiff");
    user.add("drawer 3 is stiff");
    user.add("2026-11-25 10:14+01:00 [A. Joiner]  drawer 4 is stiff");
    user.add("2026-11-25 10:14+99:00  drawer 4 is stiff");
    user.add("2026-11-25 10:14 [x]  drawer 4 is stiff");
    let job = Job::open(&user.path("chest")).expect("it opens");
    let read: Vec<(String, Option<String>, &str)> = job
        .lines()
        .iter()
        .skip(24)
        .map(|line| {
            let by = line.by.as_ref().map(ToString::to_string);
            (line.when.to_string(), by, line.text.as_str())
        })
        .collect();
    let minute = "2026-11-25 10:14".to_owned();
    assert_eq!(
        read,
        [
            (minute.clone(), None, "drawer 1 is stiff"),
            ("2026-11-25".to_owned(), None, "drawer 2 is stiff"),
            ("no date".to_owned(), None, "drawer 3 is stiff"),
            (
                minute.clone(),
                Some("A. Joiner".to_owned()),
                "drawer 4 is stiff"
            ),
            (minute, None, "[x]  drawer 4 is stiff"),
        ]
    );
    assert_eq!(job.unread().len(), 1);
}
