//! Notes in a restorer's own words, by the command: what is written, kept, asked, settled.

use crate::user::{Ran, User};
use std::io::Write as _;
use std::process::Stdio;

fn chest() -> User {
    let user = User::new();
    user.works(&["open", "chest of drawers with 4 drawers", "--name", "chest"]);
    user
}

/// The record without its times.
fn record(user: &User) -> Vec<String> {
    record_of(user, "chest")
}

/// A chest of drawers with nothing noted, beside others of the same user: the rules are kept.
fn another_chest(user: &User, number: usize) -> String {
    let job = format!("chest-{number}");
    user.works(&["open", "chest of drawers with 4 drawers", "--name", &job]);
    job
}

fn record_of(user: &User, job: &str) -> Vec<String> {
    let text = user.text(&format!("{job}/record.txt"));
    let lines = text.lines().map(|line| {
        line.split_once("  ")
            .map_or(line, |(_, text)| text)
            .to_owned()
    });
    lines.collect()
}

#[test]
fn a_note_becomes_findings_in_the_houses_words_beside_what_was_typed() {
    let user = chest();
    user.works(&["note", "chest", "drawr 2: stif, scraping, lock missing"]);
    assert_eq!(
        record(&user),
        [
            "drawer 2 is stiff",
            "drawer 2 is scraping below",
            "drawer 2 has no locks",
            "typed for 3: drawr 2: stif, scraping, lock missing",
        ]
    );
}

/// Every thing that is then known of the part stands in the record, and nothing that was noted
/// before is put right by it.
#[test]
fn a_part_that_is_sound_answers_what_can_be_seen_of_it() {
    let user = chest();
    user.works(&[
        "note",
        "chest",
        "drawer 1: stiff; can't see if drawer 1 creaks",
    ]);
    let noted = user.works(&["note", "chest", "the rest of drawer 1 is sound"]);
    assert!(
        noted.starts_with("Lines 4 to 22: Drawer 1 is not sitting low, not tipping, "),
        "{noted}"
    );
    assert!(!noted.contains("puts right"), "{noted}");
    let lines = record(&user);
    assert_eq!(lines.len(), 23, "{lines:?}");
    assert!(lines.contains(&"drawer 1 is not recessed".to_owned()));
    assert!(lines.contains(&"typed for 19: the rest of drawer 1 is sound".to_owned()));
    for other in ["drawer 1 is not stiff", "drawer 1 is not creaking"] {
        assert!(!lines.contains(&other.to_owned()), "{other}");
    }
    // Said again, there is nothing left to answer.
    let again = user.run(&["note", "chest", "the rest of drawer 1 is sound"]);
    assert_eq!(again.code, Some(1), "{}", again.all());
    // As sure as it is said, and of its parts where that is said.
    let looks = user.works(&["note", "chest", "lock of drawer 2 seems fine"]);
    assert!(looks.contains("does not look stiff to the key"), "{looks}");
    let whole = user.works(&["note", "chest", "the whole base is sound"]);
    assert!(
        whole.contains("foot 4 of the base is not leaning"),
        "{whole}"
    );
    let mended = user.run(&["triage", "chest", "--json"]).json();
    assert_eq!(mended["clash"], serde_json::Value::Null);
}

#[test]
fn what_is_not_said_to_be_sound_is_not_answered() {
    let user = User::new();
    for (number, typed) in [
        "all fine",
        "drawer 2 ok?",
        "was drawer 2 fine",
        "owner says drawer 2 is fine",
        "lock of drawer 1 no good",
        "drawer 1 right",
        "drawer 1 or drawer 2 is fine",
        "drawer 2 runs fine",
        "drawer 2 runs well",
        "stiff or drawer 1 is fine",
        "all sound but drawer 3",
        "all drawers sound but drawer 3",
        "drawers sound but 3",
        "all but the lock of drawer 1 is sound",
        "everything but the bottom of drawer 1 is sound",
        "everything on drawer 1 is fine but the lock",
        "whole drawer 1 is sound, not the bottom",
        "all the drawers are sound, except for drawer 3",
        "drawer 1 sound, to be checked",
        "drawer 1 anything but sound",
        "drawer 1 should be sound",
        "most of drawer 1 is sound",
        "two drawers are sound",
        "both drawers sound",
        "the other drawers are sound",
        "nothing obviously wrong with drawer 1",
        "there isn't nothing wrong with drawer 1",
        "drawer 1 stiff, now fine",
        "drawer 1 looked fine",
        "drawer 1 seemed ok",
    ]
    .into_iter()
    .enumerate()
    {
        let job = another_chest(&user, number);
        let ran = user.run(&["note", &job, typed]);
        assert_eq!(ran.code, Some(1), "{typed}: {}", ran.all());
        let lines = record_of(&user, &job);
        assert_eq!(lines.len(), 1, "{typed}: {lines:?}");
    }
}

/// An exception, a "too", a part before a comma: nothing of it is dropped, and nothing written
/// that was not meant.
#[test]
fn nothing_of_a_list_is_dropped() {
    let user = User::new();
    for (number, (typed, lines)) in [
        ("drawer 1, drawer 2 stiff", 3),
        ("drawer 1 stiff, drawer 2 too", 3),
        ("drawer 1 stiff and drawer 2", 3),
        ("second from top drawer stiff", 2),
        ("all drawers stiff but drawer 4", 1),
        ("sides cracked but the left", 1),
        ("the drawers are stiff, the bottom one isn't", 1),
        ("drawer 1 not just stiff, it creaks", 1),
        ("drawer 1 nowhere near stiff", 1),
    ]
    .into_iter()
    .enumerate()
    {
        let job = another_chest(&user, number);
        user.run(&["note", &job, typed]);
        let written = record_of(&user, &job);
        assert_eq!(written.len(), lines, "{typed}: {written:?}");
    }
    user.works(&["open", "wardrobe with 2 doors", "--name", "chest"]);
    user.works(&[
        "note",
        "chest",
        "left door shuts badly, right door doesn't shut",
    ]);
    let lines = record(&user);
    assert!(
        lines.contains(&"right door is shutting badly".to_owned()),
        "{lines:?}"
    );
    // A part that nobody has counted is told, and no other taken for it.
    let ran = user.run(&["note", "chest", "drawer 2: stif, scraping"]);
    assert_eq!(ran.code, Some(1));
    assert!(ran.out.contains("note first: "), "{}", ran.all());
}

#[test]
fn parts_with_names_of_several_words_are_found_as_people_say_them() {
    let user = User::new();
    user.works(&["open", "dining chair", "--name", "chest"]);
    for (typed, legs) in [
        ("front left leg loose", "front left"),
        ("left front leg: loose", "front left"),
        ("rear right leg loose", "back right"),
        ("bk right leg loose", "back right"),
        ("front legs loose", "front left, front right"),
        (
            "front left and back right legs loose",
            "front left, back right",
        ),
    ] {
        let noted = user.run(&["note", "chest", typed, "--json"]).json();
        let understood = noted["understood"].as_array().expect("a list").iter();
        let understood: Vec<String> = understood
            .map(|one| one.as_str().expect("words").to_lowercase())
            .map(|one| {
                let end = one.find(" joined leg").or(one.find(" seat rail"));
                one[..end.unwrap_or(one.len())].to_owned()
            })
            .collect();
        assert_eq!(understood.join(", "), legs, "{typed}: {noted}");
    }
}

#[test]
fn what_is_not_clear_is_kept_and_asked() {
    let user = chest();
    let ran = user.run(&["note", "chest", "rings on the top"]);
    assert_eq!(ran.code, Some(1));
    insta::assert_snapshot!("not_clear", ran.all());
    assert_eq!(record(&user), ["remark: the top; rings on the top"]);

    let asked = user.run(&["note", "chest", "--settle"]);
    insta::assert_snapshot!("settle", asked.all());
    let taken = user.run(&["note", "chest", "--settle", "--line", "1", "--as", "1"]);
    assert_eq!(taken.code, Some(0), "{}", taken.all());
    assert_eq!(
        record(&user)[1..],
        [
            "the top shows white rings",
            "typed: rings on the top",
            "settled: the top; rings on the top",
        ]
    );
    let none = user.run(&["note", "chest", "--settle", "--line", "1", "--as", "1"]);
    assert_eq!(none.code, Some(2));
}

/// What is joined with "or" is offered one by one, never together.
#[test]
fn one_of_two_things_is_asked() {
    let user = chest();
    let ran = user.run(&["note", "chest", "drawer 1 is stiff or drawer 2 is stiff"]);
    assert_eq!(ran.code, Some(1));
    let offered: Vec<&str> = ran.out.lines().filter(|l| l.starts_with("  ")).collect();
    assert_eq!(
        offered,
        ["  1  drawer 1 is stiff", "  2  drawer 2 is stiff"]
    );
}

/// The number of a reading means the same later, whatever was noted in between.
#[test]
fn a_number_that_was_shown_means_the_same_later() {
    let user = chest();
    let shown = user.run(&["note", "chest", "drawer: stiff"]).out;
    let first = shown
        .lines()
        .find_map(|line| line.trim().strip_prefix("1  "));
    let first = first.expect("a first reading").to_owned();
    let line = shown.split("--line ").nth(1).expect("a command");
    let line = line.split(' ').next().expect("its line").to_owned();
    for noted in ["drawer 4 is stiff", "drawer 3 is certainly stiff"] {
        user.works(&["note", "chest", noted]);
    }
    let took = user.works(&["note", "chest", "--settle", "--line", &line, "--as", "1"]);
    let said = took.to_lowercase();
    assert!(said.contains(&first.to_lowercase()), "{first}\n{took}");
}

#[test]
fn what_no_rule_reads_stands_in_triage_and_is_told_by_what_is_nearest() {
    let user = chest();
    let ran = user.run(&["note", "chest", "belonged to her grandmother"]);
    assert_eq!(ran.code, Some(1));
    insta::assert_snapshot!("no_rule", ran.all());
    user.works(&["remark", "chest", "drawer 2 smells of fish glue"]);
    let triage = user.works(&["triage", "chest"]);
    let (_, remarks) = triage.split_once("\n2 remarks").expect("the remarks");
    insta::assert_snapshot!("triage_remarks", remarks);
}

#[test]
fn a_remark_never_changes_a_chance() {
    let user = chest();
    user.works(&["note", "chest", "drawer 2 is stiff"]);
    let faults = |user: &User| {
        let mut triage = user.run(&["triage", "chest", "--all", "--json"]).json();
        triage["remarks"] = serde_json::Value::Null;
        triage
    };
    let before = faults(&user);
    for words in [
        "left runner dodgy",
        "drawer 3 loose",
        "drawer 2 is not stiff",
        "rings on top",
    ] {
        user.works(&["remark", "chest", words]);
    }
    user.run(&["note", "chest", "nice old piece"]);
    assert_eq!(faults(&user), before);
}

#[test]
fn what_is_typed_is_in_the_record_to_the_byte() {
    for typed in [
        "l/h side split 1/8\" 🪑",
        "  drawer 2   stif ",
        "\"musty\"",
        "tab\there",
        "one line\nand another",
        "it ends <cut short here, not read>",
        "2026-11-25 10:14  drawer 1 is stiff",
        "# drawer 1 stiff",
        "back\\slash \u{7f}",
    ] {
        let user = chest();
        let ran = user.run(&["note", "chest", typed]);
        assert!(matches!(ran.code, Some(0 | 1)), "{typed:?}: {}", ran.all());
        let kept = user.run(&["note", "chest", "--settle", "--json"]).json();
        let in_remark = kept["remarks"][0]["words"] == typed;
        let record = user.text("chest/record.txt");
        let quoted = serde_json::to_string(typed).expect("text");
        let in_typed = ["typed", "typed for 0"].iter().any(|label| {
            let has = |words: &str| record.contains(&format!("  {label}: {words}\n"));
            has(typed) || has(&quoted)
        });
        assert!(in_remark || in_typed, "{typed:?}: {record}");
    }
}

/// Notes on standard input.
fn piped(user: &User, arguments: &[&str], lines: &str) -> Ran {
    let mut child = user
        .command(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it starts");
    let mut stdin = child.stdin.take().expect("a pipe");
    stdin.write_all(lines.as_bytes()).expect("it reads");
    drop(stdin);
    Ran::of(child.wait_with_output().expect("it ends"))
}

#[test]
fn lines_of_standard_input_are_notes_and_one_goes_on_from_the_other() {
    let user = chest();
    let ran = piped(
        &user,
        &["note", "chest", "-"],
        "drawer 2 stiff\nl/h runner worn 3mm\n\nnice handles though\n",
    );
    assert_eq!(ran.code, Some(1), "{}", ran.all());
    assert_eq!(
        record(&user),
        [
            "drawer 2 is stiff",
            "typed: drawer 2 stiff",
            "left runner of drawer 2 is worn 3 mm",
            "typed: l/h runner worn 3mm",
            "remark: every handle of drawer 2; nice handles though",
        ]
    );
    let json = piped(&user, &["note", "chest", "-", "--json"], "back rattles\n").json();
    assert_eq!(json["notes"][0]["understood"][0], "the back is rattling");
    let nothing = piped(&user, &["note", "chest"], "");
    assert_eq!(nothing.code, Some(2));
}

/// A disk that is full half way: what was noted is told, and from where to begin again.
#[cfg(unix)]
#[test]
fn notes_that_the_disk_takes_no_more_say_how_far_they_came() {
    let user = chest();
    let lines: Vec<String> = (1..200).map(|n| format!("drawer 2 stiff {n}mm")).collect();
    user.write("lines.txt", lines.join("\n"));
    let limited = |more: &str| {
        let mut sh = std::process::Command::new("sh");
        let tellmark = env!("CARGO_BIN_EXE_tellmark");
        sh.arg("-c").arg(format!(
            "trap '' XFSZ; ulimit -f 4; exec '{tellmark}' note chest - {more} < lines.txt"
        ));
        sh.current_dir(user.path("."))
            .env("TELLMARK_CACHE", crate::user::cache());
        Ran::of(sh.output().expect("it starts"))
    };
    let ran = limited("");
    assert_eq!(ran.code, Some(3), "{}", ran.all());
    let typed = record(&user)
        .iter()
        .filter(|l| l.starts_with("typed"))
        .count();
    let said = format!(
        "Begin again with this note: \"drawer 2 stiff {}mm\". The {typed} before it are noted.\n",
        typed + 1
    );
    assert!(typed > 3 && ran.err.ends_with(&said), "{}", ran.err);
    let ran = limited("--json");
    assert_eq!(ran.code, Some(3), "{}", ran.all());
    assert!(ran.err.ends_with("Nothing was noted.\n"), "{}", ran.err);
    assert!(ran.out.starts_with("{\n  \"notes\": []"), "{}", ran.out);
}

#[test]
fn new_words_are_offered_old_remarks() {
    let user = chest();
    user.run(&["note", "chest", "back hums in the wind"]);
    user.make("house");
    user.write(
        "house/mine.rules.txt",
        "House rules for us, version 1.\nYou can hear whether a back is humming in the wind.\n    \
         Ask: \"Back hums?\"  Takes: 1 minute\n",
    );
    let settle = user.run(&["note", "chest", "--settle", "--rules", "house", "--json"]);
    let settle: serde_json::Value = serde_json::from_str(&settle.out).expect("JSON");
    assert_eq!(
        settle["remarks"][0]["readings"][0],
        "the back is humming in the wind"
    );
}

#[test]
fn a_remark_is_settled_once_however_many_take_it() {
    let user = chest();
    user.run(&["note", "chest", "rings on the top"]);
    let settle = || user.run(&["note", "chest", "--settle", "--line", "1", "--as", "1"]);
    let codes: Vec<Option<i32>> = std::thread::scope(|scope| {
        let all: Vec<_> = (0..6).map(|_| scope.spawn(settle)).collect();
        let ran = all.into_iter().map(|one| one.join().expect("it runs"));
        ran.map(|ran| ran.code).collect()
    });
    let took = codes.iter().filter(|code| **code == Some(0)).count();
    assert_eq!(took, 1, "{codes:?}");
    let found = |line: &&String| line.as_str() == "the top shows white rings";
    assert_eq!(record(&user).iter().filter(found).count(), 1);
}

#[test]
fn what_cannot_be_seen_beside_a_finding_leaves_nothing_over() {
    let user = chest();
    user.works(&["note", "chest", "drawer 1: stiff, can't see the lock"]);
    assert_eq!(
        record(&user),
        [
            "drawer 1 is stiff",
            "the lock of drawer 1 cannot be seen",
            "typed for 2: drawer 1: stiff, can't see the lock",
        ]
    );
}

#[test]
fn what_is_noted_again_puts_nothing_right() {
    let user = chest();
    user.works(&["note", "chest", "drawer 2 is stiff"]);
    let again = user.works(&["note", "chest", "drawer 2 stiff"]);
    assert!(again.contains("It was noted before: line 1."), "{again}");
    assert!(!again.contains("puts right"), "{again}");
    let other = user.works(&["note", "chest", "drawer 2 is not stiff"]);
    assert!(other.contains("This puts right line 2."), "{other}");
}

/// What a chosen reading leaves over stays a remark, and what nobody wants to be asked about again
/// stays in the report.
#[test]
fn nothing_of_a_remark_is_lost_when_it_is_settled() {
    let user = chest();
    user.run(&[
        "note",
        "chest",
        "handles might be wrong, painted by a great aunt",
    ]);
    let remarks = user.run(&["note", "chest", "--settle", "--json"]).json();
    let readings = remarks["remarks"][0]["readings"]
        .as_array()
        .expect("a list");
    let line = remarks["remarks"][0]["line"].to_string();
    if !readings.is_empty() {
        user.works(&["note", "chest", "--settle", "--line", &line, "--as", "1"]);
    }
    let also = |user: &User| {
        let report = user.run(&["report", "chest", "--json"]).json();
        report["also_noted"].to_string()
    };
    assert!(also(&user).contains("great aunt"), "{}", also(&user));

    user.run(&["note", "chest", "smells of fish glue or so"]);
    let remarks = user.run(&["note", "chest", "--settle", "--json"]).json();
    let last = remarks["remarks"]
        .as_array()
        .and_then(|all| all.last())
        .cloned();
    let line = last.expect("one")["line"].to_string();
    let told = user.works(&["note", "chest", "--settle", "--line", &line, "--as", "0"]);
    assert!(told.contains("The report keeps it."), "{told}");
    assert!(also(&user).contains("fish glue"), "{}", also(&user));
    let triage = user.works(&["triage", "chest"]);
    assert!(!triage.contains("fish glue"), "{triage}");
}

/// Single words that a chosen reading leaves over are no remark to be asked about: the report keeps
/// the note as it was typed.
#[test]
fn scraps_of_a_settled_note_are_not_asked_about_again() {
    let user = chest();
    let typed = "drawer 3 used to stick upstairs";
    user.run(&["note", "chest", typed]);
    let remarks = user.run(&["note", "chest", "--settle", "--json"]).json();
    let line = remarks["remarks"][0]["line"].to_string();
    let told = user.works(&["note", "chest", "--settle", "--line", &line, "--as", "1"]);
    let said = "stands in no finding; the report keeps the note as it was typed.";
    assert!(told.contains(said), "{told}");
    let remarks = user.run(&["note", "chest", "--settle", "--json"]).json();
    assert_eq!(remarks["remarks"].as_array().map(Vec::len), Some(0));
    let report = user.run(&["report", "chest", "--json"]).json();
    assert!(report["also_noted"].to_string().contains(typed));
}

/// "Not sure whether the one or the other" says neither.
#[test]
fn a_doubt_between_two_things_is_no_finding() {
    let user = chest();
    for typed in [
        "not sure whether drawer 2 is stiff or sitting low",
        "don't know if drawer 2 is stiff or sitting low",
    ] {
        let ran = user.run(&["note", "chest", typed]);
        assert_eq!(ran.code, Some(1), "{}", ran.out);
    }
    assert!(
        record(&user)
            .iter()
            .all(|line| line.starts_with("remark: ") || line.starts_with("typed")),
        "{:?}",
        record(&user)
    );
}

/// What is said of a part, and can only be said of the whole piece, is not written of the piece
/// without asking; where something lies is another matter.
#[test]
fn what_is_said_of_a_part_is_not_written_of_the_whole() {
    let user = chest();
    let ran = user.run(&["note", "chest", "left side smells of mould"]);
    assert_eq!(ran.code, Some(1), "{}", ran.out);
    user.works(&["note", "chest", "fresh frass under the base"]);
    user.works(&["note", "chest", "drawer 3 is not stiff or sitting low"]);
    let record = record(&user);
    assert!(
        record.contains(&"the piece shows fresh frass".to_owned()),
        "{record:?}"
    );
    // "Or" goes on denying what was denied in the exact words of the rules.
    assert!(
        record.contains(&"drawer 3 is not sitting low".to_owned()),
        "{record:?}"
    );
}

/// Of several parts that were counted, one that is missing is one fewer, and it is asked whether.
#[test]
fn one_missing_of_several_is_one_fewer() {
    let user = User::new();
    user.works(&["open", "cupboard with 3 sliding trays", "--name", "chest"]);
    for (words, left) in [
        ("tray missing", "the cupboard has 2 sliding trays"),
        ("one tray missing", "the cupboard has 2 sliding trays"),
        ("tray 2 missing", "the cupboard has 2 sliding trays"),
        ("2 trays missing", "the cupboard has 1 sliding tray"),
    ] {
        let told = user.run(&["note", "chest", words]).out;
        assert!(told.contains(&format!("1  {left}")), "{words}: {told}");
    }
    // It is not the drawer that is missing.
    let told = user.run(&["note", "chest", "lever missing on tray 1"]).out;
    assert!(!told.contains("has 2 sliding trays"), "{told}");
}

/// A swab that was negative is no finding of lead.
#[test]
fn a_test_that_was_negative_is_not_taken_for_the_finding() {
    let user = chest();
    for words in ["lead test negative", "swab negative for lead"] {
        let told = user.run(&["note", "chest", words]).out;
        assert!(!told.contains("is painted with lead"), "{words}: {told}");
        assert!(told.contains("is not painted with lead"), "{words}: {told}");
    }
}

#[test]
fn why_understands_the_words_of_a_note() {
    let user = chest();
    user.works(&["note", "chest", "drawer 2 runners worn 4mm"]);
    let why = user.works(&["why", "chest", "racked"]);
    assert!(why.starts_with("The chest of drawers is "), "{why}");
    let ran = user.run(&["why", "chest", "drawer 2 runners worn"]);
    assert_eq!(ran.code, Some(1), "{}", ran.out);
    assert!(
        ran.err
            .contains("tellmark why chest \"left runner of drawer 2 is worn thin\""),
        "{}",
        ran.err
    );
    let ran = user.run(&["why", "chest", "top drawer"]);
    assert_eq!(ran.code, Some(1), "{}", ran.out);
    assert!(
        ran.err.contains("tellmark why chest \"drawer 1 is "),
        "{}",
        ran.err
    );
}

/// The number by which a reading is taken is the one that was shown.
#[test]
fn a_reading_keeps_its_number() {
    let user = User::new();
    user.works(&["open", "bureau with 4 drawers", "--name", "chest"]);
    for words in ["wobbly", "lock loose on fall, stiff"] {
        user.run(&["note", "chest", "interior shelf bad"]);
        let shown = user.run(&["note", "chest", words, "--json"]).out;
        let shown: serde_json::Value = serde_json::from_str(&shown).expect("JSON");
        for remark in shown["remarks"].as_array().expect("a list") {
            let line = remark["line"].to_string();
            let listed = ["note", "chest", "--settle", "--line", &line, "--json"];
            let listed = user.run(&listed).json();
            assert_eq!(
                remark["choices"], listed["remarks"][0]["readings"],
                "{words}"
            );
        }
    }
}

/// "Level" is not "out of level".
#[test]
fn what_turns_a_saying_into_its_opposite_must_be_said() {
    let user = User::new();
    user.works(&["open", "bureau with 4 drawers", "--name", "chest"]);
    for words in [
        "fall is level",
        "fall lies level now",
        "veneer lies flat on the fall",
    ] {
        let told = user.run(&["note", "chest", words]).out;
        assert!(
            !told.contains("sloping.") && !told.contains("off the flat"),
            "{words}: {told}"
        );
    }
    let told = user.works(&["note", "chest", "fall not level"]);
    assert!(told.contains("The fall is sloping."), "{told}");
}

/// What is not clear of a note is asked thing by thing, each in its own words; what was typed is
/// kept whole.
#[test]
fn each_thing_that_is_not_clear_is_a_remark_of_its_own() {
    let user = User::new();
    user.works(&["open", "gate-leg table", "--name", "chest"]);
    let typed = "leg 2 is loose; rear leg cracked; grandmother loved it; front leg loose";
    let told = user.run(&["note", "chest", typed, "--json"]).out;
    let told: serde_json::Value = serde_json::from_str(&told).expect("JSON");
    let remarks = told["remarks"].as_array().expect("a list");
    let words: Vec<&str> = remarks
        .iter()
        .filter_map(|one| one["words"].as_str())
        .collect();
    assert_eq!(
        words,
        [
            "rear leg cracked",
            "grandmother loved it",
            "front leg loose"
        ],
        "{told}"
    );
    let choices = |at: usize| remarks[at]["choices"].as_array().map_or(0, Vec::len);
    assert!(
        choices(0) > 1 && choices(1) == 0 && choices(2) > 1,
        "{told}"
    );
    assert_eq!(remarks[1]["part"], "the piece", "it names no part: {told}");
    let record = user.text("chest/record.txt");
    assert!(record.contains(&format!("typed: {typed}")), "{record}");
    // One is taken, the others stay.
    let line = remarks[0]["line"].to_string();
    let take = ["note", "chest", "--settle", "--line", &line, "--as", "1"];
    user.works(&take);
    let left = user.run(&["note", "chest", "--settle", "--json"]).json();
    assert_eq!(left["remarks"].as_array().map(Vec::len), Some(2), "{left}");

    // Nothing of it clear: it is kept whole as well.
    let typed = "rear leg cracked; front leg cracked";
    user.run(&["note", "chest", typed]);
    let record = user.text("chest/record.txt");
    assert!(
        record.contains(&format!("typed for 0: {typed}")),
        "{record}"
    );
}

/// What is asked of a part is not answered by "the top is fine", and "fine elsewhere" is not said
/// of the part before it.
#[test]
fn what_is_sound_answers_nothing_that_is_open() {
    let user = chest();
    user.run(&["note", "chest", "rings on the top"]);
    let told = user.works(&["note", "chest", "the top is sound"]);
    assert!(
        told.contains("not sliding") && !told.contains("rings"),
        "{told}"
    );
    let user = chest();
    let told = user.run(&["note", "chest", "the top is cracked, fine elsewhere"]);
    assert!(told.out.contains("The top is cracked."), "{}", told.out);
    assert!(!told.out.contains(" not "), "{}", told.out);
}

/// A number goes with the noun that is in a saying as well; what is said in full is offered of
/// what stands next to the part; and a loss by itself is of something that nobody named.
#[test]
fn what_is_missing_is_found_where_it_is() {
    let header = "job folder: 1\npiece: glazed bookcase\n";
    let user = User::with_chest(header, "");
    user.works(&["note", "chest", "left door pane 3 missing"]);
    let written = user.added_after(0);
    assert_eq!(
        written[0],
        "pane 3 of the glazing of left glazed door is broken out"
    );
    let asked = user.run(&["note", "chest", "right door key lost"]);
    assert_eq!(asked.code, Some(1), "{}", asked.all());
    assert!(
        asked.out.contains("  1  door lock 1 shows lost keys\n"),
        "{}",
        asked.out
    );
    let glass = User::with_chest("job folder: 1\npiece: gilt glass\n", "");
    let asked = glass.run(&["note", "chest", "abt 12 cm lost"]);
    assert_eq!(asked.code, Some(1), "{}", asked.all());
    let record = glass.text("chest/record.txt");
    assert!(!record.contains("shows lost detail\n"), "{record}");
}

/// "No fresh frass now" would put the finding right, as if there had never been any.
#[test]
fn what_is_said_to_be_otherwise_now_is_asked_until_something_is_ticked() {
    let user = chest();
    user.works(&["note", "chest", "fresh frass under the base"]);
    let ran = user.run(&["note", "chest", "no fresh frass now"]);
    assert_eq!(ran.code, Some(1), "{}", ran.all());
    let said = "Line 1 says \"the piece shows fresh frass\". If that was a slip, the reading below puts \
                it right.";
    assert!(ran.out.contains(said), "{}", ran.out);
    assert_eq!(
        record(&user).last().map(String::as_str),
        Some("remark: the piece; no fresh frass now")
    );
    let taken = user.works(&["note", "chest", "--settle", "--line", "3", "--as", "1"]);
    assert!(taken.contains("This puts right line 1."), "{taken}");
    user.works(&["note", "chest", "fresh frass under the base"]);
    // Without the word of time it is a correction, and both ways out work as they are said.
    let corrected = user.works(&["note", "chest", "no fresh frass"]);
    assert!(corrected.contains("This puts right line"), "{corrected}");
    user.works(&["note", "chest", "fresh frass under the base"]);
    let mends = ["--mends", "the piece shows fresh frass", "--took", "1 h"];
    user.works(
        &[
            &["done", "chest", "treated by a specialist", "--own"],
            &mends[..],
        ]
        .concat(),
    );
    let now = user.works(&["note", "chest", "no fresh frass now"]);
    assert!(now.contains("does not show fresh frass"), "{now}");
    let found = user.works(&["triage", "chest", "--as-found"]);
    assert!(found.contains("shows fresh frass"), "{found}");
}

/// What is read otherwise among other words is still asked by itself, as it is settled later.
#[test]
fn unclear_things_of_a_long_note_are_asked_one_by_one() {
    let user = User::new();
    user.works(&["open", "looking-glass", "--name", "glass"]);
    let note =
        "frame racks; gilding flaking; plate loose; ornament loose; old holes with fresh frass";
    let ran = user.run(&["note", "glass", note]);
    assert_eq!(ran.code, Some(1), "{}", ran.all());
    let lines = record_of(&user, "glass");
    let remarks = lines.iter().filter(|line| line.starts_with("remark:"));
    assert_eq!(remarks.count(), 4, "{lines:?}");
    // What a plain one cannot have is said, with what can.
    let said = "By these rules a looking-glass has no gilt face; a gilt glass has.";
    assert!(ran.out.contains(said), "{}", ran.out);
    for words in [
        "gilding flaking",
        "plate loose",
        "ornament loose",
        "old holes with fresh frass",
    ] {
        let is_it = |line: &String| line.starts_with("remark:") && line.ends_with(words);
        assert!(lines.iter().any(is_it), "{words}: {lines:?}");
    }
}

/// A correction after work has begun may be what the work has changed: both ways out are said,
/// and work.
#[test]
fn a_correction_after_work_says_what_becomes_of_the_finding() {
    let user = chest();
    user.works(&["note", "chest", "the top shows white rings"]);
    user.run(&["done", "chest", "photograph the piece", "--took", "20 min"]);
    let slip = user.works(&["note", "chest", "no white rings on the top"]);
    assert!(slip.contains("This puts right line 1."), "{slip}");
    assert!(!slip.contains("If your work has changed it"), "{slip}");
    user.works(&["note", "chest", "the top shows white rings"]);
    let cleaned = ["clean the piece damp", "--took", "1 h", "--anyway"];
    user.run(&[&["done", "chest"], &cleaned[..]].concat());
    let told = user.works(&["note", "chest", "no white rings on the top"]);
    assert!(
        told.contains("If your work has changed it instead"),
        "{told}"
    );
    user.works(&["note", "chest", "the top shows white rings"]);
    let mends = [
        "rubbed the rings out",
        "--own",
        "--mends",
        "the top shows white rings",
    ];
    user.works(&[&["done", "chest"], &mends[..]].concat());
    let found = user.works(&["triage", "chest", "--as-found"]);
    assert!(found.contains("white rings"), "{found}");
}

/// "Rings gone": that they are not there comes first.
#[test]
fn what_is_gone_is_offered_as_not_there() {
    let user = chest();
    let ran = user.run(&["note", "chest", "white rings on the top gone"]);
    assert_eq!(ran.code, Some(1), "{}", ran.all());
    assert!(
        ran.out.contains("  1  the top does not show white rings"),
        "{}",
        ran.out
    );
    assert!(ran.out.contains("the top shows white rings"), "{}", ran.out);
}
