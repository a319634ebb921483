//! The `tellmark` command from outside: arguments and files in, text and exit
//! codes out.
//!
//! These tests stand here, and not with the others in the `tests` crate,
//! because cargo builds a program for the tests of its own package only; there
//! `CARGO_BIN_EXE_tellmark` names it, also on a clean checkout.

use crate::user::{Ran, User};
use std::fs;
use std::ops::Deref;
use std::path::Path;
use std::process::{Command, Stdio};

const RULES: &str = include_str!("house/stand.rules.txt");

/// A folder to run in, with the stand maker's rules in `rules`.
struct Bench {
    user: User,
}

impl Deref for Bench {
    type Target = User;

    fn deref(&self) -> &User {
        &self.user
    }
}

impl Bench {
    fn new() -> Bench {
        let user = User::new();
        user.make("rules");
        user.write("rules/stand.rules.txt", RULES);
        Bench { user }
    }

    /// Runs with the house's rules.
    fn house(&self, arguments: &[&str]) -> Ran {
        let mut all = vec!["--rules", "rules"];
        all.extend(arguments);
        self.run(&all)
    }

    /// A job for a stand with two swivels, in `job`.
    fn with_job() -> Bench {
        let bench = Bench::new();
        let ran = bench.house(&["open", "music stand with 2 swivels", "--name", "job"]);
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        bench
    }

    /// The findings in the record, without their times.
    fn record(&self) -> Vec<String> {
        self.text("job/record.txt")
            .lines()
            .map(|line| {
                let (time, text) = line.split_at("2026-11-25 10:14+00:00  ".len());
                assert!(is_a_time(time), "{line}");
                text.to_owned()
            })
            .collect()
    }
}

/// "2026-11-25 10:14+00:00  ", with any figures.
fn is_a_time(text: &str) -> bool {
    let shape: String = text
        .chars()
        .map(|c| if c.is_ascii_digit() { '0' } else { c })
        .collect();
    shape == "0000-00-00 00:00+00:00  "
}

fn is_empty(folder: &Path) -> bool {
    fs::read_dir(folder).unwrap().next().is_none()
}

#[test]
fn help_shows_an_example_for_each_command() {
    let bench = Bench::new();
    insta::assert_snapshot!("help", bench.run(&["--help"]).all());
    for command in [
        "check", "read", "build", "open", "note", "remark", "triage", "next", "why", "sum",
    ] {
        let ran = bench.run(&[command, "--help"]);
        assert_eq!(ran.code, Some(0));
        assert!(ran.out.contains("Example"), "{command}: {}", ran.out);
        assert!(ran.out.contains(&format!("tellmark {command} ")));
        assert!(ran.err.is_empty());
    }
    insta::assert_snapshot!("help_note", bench.run(&["note", "--help"]).all());
    let version = bench.run(&["--version"]);
    assert_eq!(
        version.out,
        format!("tellmark {}\n", env!("CARGO_PKG_VERSION"))
    );
}

#[test]
fn wrong_use_is_explained() {
    let bench = Bench::new();
    let said: Vec<String> = [
        &["chek"][..],
        &["check", "--jsn"],
        &["check", "--colour", "pink"],
        &["check", "--colour"],
        &["note"],
        &["open"],
        &["check", "extra"],
    ]
    .iter()
    .map(|arguments| {
        let ran = bench.run(arguments);
        format!("tellmark {}\n{}", arguments.join(" "), ran.all())
    })
    .collect();
    insta::assert_snapshot!("wrong_use", said.join("\n\n"));
}

#[test]
fn with_no_command_it_says_what_to_do_next() {
    let empty = tempfile::tempdir().unwrap();
    let ran = Ran::of(
        Command::new(env!("CARGO_BIN_EXE_tellmark"))
            .current_dir(empty.path())
            .env("XDG_CONFIG_HOME", empty.path())
            .env_remove("TELLMARK_RULES")
            .output()
            .unwrap(),
    );
    assert_eq!(ran.code, Some(0));
    assert!(
        ran.out.starts_with("There is no job in this folder yet."),
        "{}",
        ran.out
    );
    assert!(ran.err.is_empty());

    let bench = Bench::with_job();
    bench.write("own.rules.txt", "");
    bench.house(&["note", "job", "swivel 1 is seized"]);
    let ran = bench.house(&[]);
    assert_eq!(ran.code, Some(0));
    for line in [
        "job: music stand with 2 swivels, 1 finding",
        "  tellmark note job \"...\" --rules rules",
        "  tellmark triage job --rules rules",
        "  tellmark read --rules rules",
    ] {
        assert!(ran.out.lines().any(|l| l == line), "{line}: {}", ran.out);
    }
    assert!(bench.run(&[]).out.contains("tellmark check --rules ."));
    let json = bench.run(&["--json"]).json();
    assert_eq!(json["jobs"][0]["folder"], "job");
    assert_eq!(json["jobs"][0]["piece"], "music stand with 2 swivels");
    assert_eq!(json["jobs"][0]["lines"], 1);
    assert_eq!(json["rules_here"], true);
    assert!(json["pieces"].is_array());
}

/// Every sentence is altered in turn; what no example notices is named, with how.
#[test]
fn check_says_which_sentences_no_example_notices() {
    let bench = Bench::new();
    let asks = ["check", "--tests", "--families", "none"];
    let ran = bench.house(&asks);
    assert_eq!(ran.code, Some(1), "{}", ran.all());
    for said in [
        "Of 9 alterations, 8 would be noticed by no example",
        "stand.rules.txt, line 40: Take care when a swivel is seized: \"Do not force it.\"",
        "left out, \"usually\" made \"often\" and \"unless it has no thumbscrews\" dropped",
    ] {
        assert!(ran.out.contains(said), "{said}: {}", ran.all());
    }
    // An example for the caution, and one more in which it just misses.
    let more = "\nExample: a seized swivel.\n    Given a music stand with 1 swivel\n    \
                Given swivel 1 is certainly seized\n    Expect take care\n";
    bench.write("rules/stand.rules.txt", format!("{RULES}{more}"));
    let ran = bench.house(&[&asks[..], &["--json"]].concat());
    let json: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(json["altered"]["tried"], 9, "{json}");
    let unnoticed = json["altered"]["unnoticed"].as_array().expect("a list");
    assert_eq!(unnoticed.len(), 7);
    assert!(unnoticed.iter().all(|one| one["line"] != 40), "{json}");
    // Rules that have errors are not altered.
    bench.write(
        "rules/stand.rules.txt",
        RULES.replace("any collar", "any colar"),
    );
    let ran = bench.house(&asks);
    assert!(!ran.out.contains("alterations"), "{}", ran.all());
    assert!(
        ran.out
            .contains("No sentence was altered: the errors come first.")
    );
    // A word is no sentence that an example could notice.
    let words = "House rules for the bench of words, version 1.\n\
                 For back we also say hind panel.\n";
    bench.write("rules/stand.rules.txt", words);
    let ran = bench.house(&asks);
    assert_eq!(ran.code, Some(0), "{}", ran.all());
    assert!(
        ran.out.contains("There is no sentence here"),
        "{}",
        ran.all()
    );
}

#[test]
fn check_is_content_with_good_rules() {
    let bench = Bench::new();
    let ran = bench.house(&["check"]);
    assert_eq!(ran.code, Some(0), "{}", ran.out);
    assert!(ran.out.contains("of your own."), "{}", ran.out);
    let json = bench.house(&["check", "--json"]).json();
    assert_eq!(json["to_mend"], 0);
    assert!(json["sentences"]["house"].as_u64().unwrap() > 20);
}

#[test]
fn check_counts_what_is_to_mend() {
    let bench = Bench::new();
    let broken = RULES.replace("If any collar of a swivel", "If any colar of a swivel");
    bench.write("rules/stand.rules.txt", broken);
    let ran = bench.house(&["check"]);
    assert_eq!(ran.code, Some(1));
    assert!(ran.out.contains("\"colar\""), "{}", ran.out);
    assert!(ran.out.contains("1 error"), "{}", ran.out);
    let ran = bench.house(&["check", "--json"]);
    assert_eq!(ran.code, Some(1));
    let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(json["to_mend"], 1);
    assert!(!ran.out.contains('\u{1b}'), "no colour in JSON");
}

#[test]
fn check_lists_what_the_house_changes() {
    let bench = Bench::new();
    let own = "Job: wax the runners.  Takes: 2 hours\nLeave out creaking drawer, because ours all creak.\nLeave out example a creak is only a hint, because ours all creak.\n";
    bench.write("rules/own.rules.txt", own);
    let ran = bench.house(&["check"]);
    assert_eq!(ran.code, Some(0), "{}", ran.all());
    let from = ran.out.find("What your rules change").unwrap();
    insta::assert_snapshot!("check_changes", &ran.out[from..]);
    let json = bench.house(&["check", "--json"]).json();
    assert_eq!(json["changes"].as_array().unwrap().len(), 3);
    assert_eq!(json["changes"][0]["how"], "given anew");
    assert_eq!(json["changes"][1]["how"], "left out");
    assert_eq!(json["changes"][1]["because"], "ours all creak");
    let ran = bench.house(&["read", "creaking drawer", "--json"]);
    assert!(ran.out.contains("left out here, because ours all creak"));
    let read = bench.run(&["read", "creaking drawer"]);
    assert!(
        read.out.contains("(called “creaking drawer”)"),
        "{}",
        read.out
    );
}

#[test]
fn of_very_many_errors_the_first_are_shown_and_the_rest_counted() {
    let bench = Bench::new();
    let many = "If a drawer is stif then it is often creaking.  From: house\n".repeat(1_234);
    bench.write("rules/own.rules.txt", many);
    let ran = bench.house(&["check"]);
    assert_eq!(ran.code, Some(1));
    assert!(
        ran.out.contains("… and 1134 more. Mend these first"),
        "{}",
        ran.out
    );
    assert!(ran.out.contains("1234 errors."), "{}", ran.out);
    assert!(ran.out.lines().count() < 1_000);
    let ran = bench.house(&["check", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(json["messages"].as_array().unwrap().len(), 1_234);
}

#[test]
fn colour_follows_the_option() {
    let bench = Bench::new();
    let broken = RULES.replace("If any collar of a swivel", "If any colar of a swivel");
    bench.write("rules/stand.rules.txt", broken);
    let plain = bench.house(&["check"]);
    assert!(!plain.out.contains('\u{1b}'), "a pipe gets no colour");
    let never = bench.house(&["check", "--colour", "never"]);
    assert_eq!(plain.out, never.out);
    let always = bench.house(&["check", "--colour", "always"]);
    assert!(always.out.contains('\u{1b}'));
}

#[test]
fn read_says_every_sentence_as_understood() {
    let bench = Bench::new();
    let ran = bench.house(&["read", "--file", "stand.rules.txt"]);
    insta::assert_snapshot!("read", ran.all());
    let ran = bench.house(&["read", "VERDIGRIS", "--lines"]);
    insta::assert_snapshot!("read_filtered", ran.all());
    let ran = bench.house(&["read", "--figures", "--file", "stand.rules.txt", "swivel"]);
    insta::assert_snapshot!("read_figures", ran.all());
    let json = bench
        .house(&["read", "--figures", "--json", "perished collars seize"])
        .json();
    let comes_to = &json["sentences"][0]["comes_to"];
    assert!(comes_to["certainly_yes"].as_f64().unwrap() >= 0.8);
    assert!(comes_to["reading_at_the_mark"].is_null());
    let ran = bench.house(&["read", "no such words anywhere"]);
    assert_eq!(ran.out, "No sentence says that.\n");
    let json = bench
        .house(&["read", "--json", "--file", "stand.rules.txt", "verdigris"])
        .json();
    let first = &json["sentences"][0];
    assert_eq!(first["file"], "stand.rules.txt");
    assert_eq!(first["line"], 14);
    let ran = bench.house(&["read", "--file", "nowhere.rules.txt"]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.err.contains("stand.rules.txt"), "{}", ran.err);
}

#[test]
fn rules_that_cannot_be_read_are_named() {
    let bench = Bench::new();
    let missing = bench.run(&["check", "--rules", "nowhere"]);
    assert_eq!(missing.code, Some(2));
    assert_eq!(missing.err, "There is no folder of rules nowhere.\n");

    fs::create_dir(bench.path("none")).unwrap();
    bench.write("none/rules.txt", "House rules for nobody.");
    let none = bench.run(&["check", "--rules", "none"]);
    assert_eq!(none.code, Some(2));
    assert_eq!(
        none.err,
        "There are no rules in none: no file there has a name that ends in .rules.txt.\n"
    );

    bench.write("rules/old.rules.txt", b"# one\n# two\n# caf\xe9\n");
    let old = bench.house(&["check"]);
    assert_eq!(old.code, Some(3));
    assert_eq!(
        old.err,
        "I could not read rules/old.rules.txt: line 3 is not plain text. Save the file as UTF-8.\n"
    );
    let one_file = bench.run(&["read", "--rules", "rules/stand.rules.txt", "verdigris"]);
    assert_eq!(one_file.code, Some(0), "{}", one_file.err);
    assert!(one_file.out.contains("verdigris"), "{}", one_file.out);

    fs::remove_file(bench.path("rules/old.rules.txt")).unwrap();
    fs::create_dir(bench.path("rules/odd.rules.txt")).unwrap();
    let odd = bench.house(&["check"]);
    assert_eq!(odd.code, Some(3));
    assert_eq!(
        odd.err,
        "I could not read rules/odd.rules.txt: it is a folder, not a file.\n"
    );
}

#[test]
fn build_writes_a_pack_that_the_core_opens() {
    let bench = Bench::new();
    let ran = bench.house(&["build"]);
    assert_eq!(ran.code, Some(0), "{}", ran.all());
    let bytes = fs::read(bench.path("house.pack")).unwrap();
    assert!(
        ran.out
            .starts_with(&format!("Wrote house.pack: {} bytes.", bytes.len()))
    );
    assert!(ran.out.contains("swivel of a music stand "), "{}", ran.out);
    let pack = tellmark_compile::room::PackBytes::new(&bytes);
    assert!(pack.open().is_ok());

    let json = bench
        .house(&["build", "--json", "--out", "other.pack"])
        .json();
    assert_eq!(json["file"], "other.pack");
    assert_eq!(json["bytes"], bytes.len());
    assert!(json["kinds"].as_array().unwrap().len() >= 5);
    assert_eq!(fs::read(bench.path("other.pack")).unwrap(), bytes);
}

#[test]
fn build_leaves_the_old_pack_when_it_cannot_make_a_new_one() {
    let bench = Bench::new();
    bench.write("house.pack", "old");
    let broken = RULES.replace("If any collar of a swivel", "If any colar of a swivel");
    bench.write("rules/stand.rules.txt", broken);
    let ran = bench.house(&["build"]);
    assert_eq!(ran.code, Some(1));
    assert!(ran.err.contains("\"colar\""), "{}", ran.err);
    assert!(
        ran.err
            .ends_with("\nNothing was built: these rules have 1 error.\n"),
        "{}",
        ran.err
    );
    assert_eq!(bench.text("house.pack"), "old");

    bench.write("rules/stand.rules.txt", RULES);
    let ran = bench.house(&["build", "--out", "nowhere/house.pack"]);
    assert_eq!(ran.code, Some(3));
    assert_eq!(
        ran.err,
        "I could not write nowhere/house.pack: it is not there.\n"
    );
    fs::create_dir(bench.path("folder.pack")).unwrap();
    let ran = bench.house(&["build", "--out", "folder.pack"]);
    assert_eq!(ran.code, Some(3));
    assert!(!bench.path("folder.pack.unfinished").exists());
}

#[test]
fn open_makes_a_folder_and_says_what_is_next() {
    let bench = Bench::new();
    let ran = bench.house(&[
        "open", "music", "stand", "with", "2", "swivels", "--name", "job",
    ]);
    insta::assert_snapshot!("open", ran.all());
    let header = bench.text("job/job.txt");
    let lines: Vec<&str> = header.lines().collect();
    assert_eq!(lines[0], "job folder: 1");
    assert_eq!(lines[1], "piece: music stand with 2 swivels");
    assert!(is_a_time(&format!(
        "{}+00:00  ",
        &lines[2]["opened: ".len()..]
    )));
    assert_eq!(lines[3], "house rules: the stand makers' bench");
    assert_eq!(lines[4], "version: 2");

    fs::create_dir(bench.path("jobs")).unwrap();
    let json = bench
        .house(&["open", "a music stand", "--in", "jobs", "--json"])
        .json();
    let folder = json["folder"].as_str().unwrap();
    assert!(folder.contains("music-stand-"), "{folder}");
    assert_eq!(json["piece"], "music stand");
    assert!(bench.path(folder).join("record.txt").is_file());
}

#[test]
fn open_understands_a_piece_as_people_write_it() {
    let bench = Bench::new();
    for (at, (asked, piece)) in [
        ("drop leaf table", "drop-leaf table"),
        ("the old Drop Leaf Table", "drop-leaf table"),
        ("dropleaf table", "drop-leaf table"),
        ("a chest of 4 drawers", "chest of drawers with 4 drawers"),
        (
            "five-drawer chest of drawers",
            "chest of drawers with 5 drawers",
        ),
        ("3 drawer dresser", "chest of drawers with 3 drawers"),
        ("drop leaf table with 1 leaf", "drop-leaf table with 1 leaf"),
        ("40 drawer chest of drawers", ""),
        ("georgian oak chest of drawers", "chest of drawers"),
        ("chest on chest of drawers", ""),
        ("pine kitchen table", "plain table"),
        ("mirror", "looking-glass"),
    ]
    .into_iter()
    .enumerate()
    {
        let name = format!("job-{at}");
        let opened = bench.house(&["open", asked, "--name", &name, "--json"]);
        if piece.is_empty() {
            assert_eq!(opened.code, Some(2), "{asked}");
        } else {
            assert_eq!(opened.json()["piece"], piece, "{asked}");
        }
    }
}

/// What stands before the name of a piece is a note: read if rules have the words, kept if not.
#[test]
fn open_notes_what_is_said_of_the_piece() {
    let bench = Bench::new();
    let opened = bench.house(&[
        "open",
        "a victorian walnut chest of drawers",
        "--name",
        "chest",
    ]);
    assert_eq!(opened.code, Some(0), "{}", opened.err);
    let noted = "Noted, from \"victorian walnut\": Main wood of the piece is walnut.";
    assert!(opened.out.contains(noted), "{}", opened.out);
    let kept = "Kept as a remark, since no rule reads all of it: \"victorian walnut\".";
    assert!(opened.out.contains(kept), "{}", opened.out);
    let record = fs::read_to_string(bench.path("chest/record.txt")).unwrap();
    assert!(
        record.contains("main wood of the piece is walnut"),
        "{record}"
    );
    assert!(record.contains("victorian walnut"), "{record}");
    let several = bench.house(&["open", "set of six oak chairs"]);
    assert_eq!(several.code, Some(2));
    assert!(
        several.err.contains("more than one piece"),
        "{}",
        several.err
    );
}

#[test]
fn open_refuses_what_it_cannot_make() {
    let bench = Bench::new();
    fs::create_dir(bench.path("jobs")).unwrap();
    let unknown = bench.house(&["open", "a grand piano", "--in", "jobs"]);
    assert_eq!(unknown.code, Some(2));
    let said = "These rules know no piece \"a grand piano\". They know: chest of drawers, drop-leaf \
                table, ";
    assert!(unknown.err.starts_with(said), "{}", unknown.err);
    let said = "and music stand.\nFor another piece write rules of your own (\"Pieces: grand \
                piano.\"), or open it as one of these that is built like it, and keep the rest as \
                remarks.\n";
    assert!(unknown.err.ends_with(said), "{}", unknown.err);
    for (asked, nearest) in [
        ("chest on chest", "\"chest of drawers\""),
        ("dressing-table on castors", "\"drop-leaf table\""),
        ("wheelchair", "\"chair\""),
    ] {
        let unknown = bench.house(&["open", asked, "--in", "jobs"]);
        let said = format!("as what is nearest, {nearest}");
        assert!(unknown.err.contains(&said), "{asked}: {}", unknown.err);
    }
    let nowhere = bench.house(&["open", "music stand", "--in", "nowhere"]);
    assert_eq!(nowhere.code, Some(2));
    assert_eq!(nowhere.err, "There is no folder nowhere.\n");
    for name in [
        "../out", "", ".hidden", "a/b", "a:b", "con", "LPT1.old", "chest.", "chest ",
    ] {
        let odd = bench.house(&["open", "music stand", "--in", "jobs", "--name", name]);
        assert_eq!(odd.code, Some(2), "{name:?}");
    }
    assert!(is_empty(&bench.path("jobs")));
    for code in [0, 2] {
        let again = bench.house(&["open", "music stand", "--name", "twice"]);
        assert_eq!(again.code, Some(code), "{}", again.err);
    }
}

#[test]
fn note_says_how_it_understood_and_what_it_puts_right() {
    let bench = Bench::with_job();
    let said: Vec<String> = [
        "swivel 1 is seized",
        "the ledge is split 2 mm wide",
        "upper collar of swivel 2 cannot be seen",
        "swivel 1 is not seized",
        "no swivel shows verdigris",
        "swivel 2 has 2 thumbscrews",
        "thumbscrew 2 of swivel 2 is winged",
        "have not looked whether swivel 1 is seized",
    ]
    .iter()
    .map(|finding| {
        let ran = bench.house(&["note", "job", finding]);
        format!("note job \"{finding}\"\n{}", ran.all())
    })
    .collect();
    insta::assert_snapshot!("note", said.join("\n\n"));
    assert_eq!(bench.record().len(), 8);
    assert_eq!(bench.record()[0], "swivel 1 is seized");

    let json = bench
        .house(&[
            "note", "job", "the", "ledge", "is", "split", "3 mm", "wide", "--json",
        ])
        .json();
    assert_eq!(json["line"], 9);
    assert_eq!(
        json["understood"][0],
        "the ledge is split 3 mm (about 1/8 in) wide"
    );
    assert_eq!(json["puts_right"], serde_json::json!([2]));
}

#[test]
fn note_keeps_what_it_cannot_read_as_a_remark_and_says_why() {
    for (finding, said) in [
        ("the ledge is split 2 wide", "the ledge is split"),
        ("swivel 1 has 9 thumbscrews", "a remark on "),
        ("it hums at night", "a remark on the piece"),
        (
            "swivel 3 is seized",
            "As far as this job says the music stand has 2 swivels, so there is no swivel 3. The \
             rules allow no more.",
        ),
        (
            "thumbscrew 2 of swivel 1 is winged",
            "As far as this job says swivel 1 has 1 thumbscrew, so there is no thumbscrew 2 of \
             swivel 1. If it has more, note first: swivel 1 has 2 thumbscrews.",
        ),
    ] {
        let bench = Bench::with_job();
        let ran = bench.house(&["note", "job", finding]);
        assert_eq!(ran.code, Some(1), "{finding}: {}", ran.all());
        assert!(ran.out.contains(said), "{finding}: {}", ran.out);
        assert!(bench.text("job/record.txt").contains(finding), "{finding}");
    }
}

#[test]
fn note_understands_slips_and_keeps_what_was_typed() {
    let bench = Bench::with_job();
    for (typed, line) in [
        ("swivel 1 is siezed", "swivel 1 is seized"),
        ("swivl 2 seized", "swivel 2 is seized"),
        ("ledge split 2mm", "the ledge is split 2 mm wide"),
    ] {
        let ran = bench.house(&["note", "job", typed]);
        assert_eq!(ran.code, Some(0), "{typed}: {}", ran.all());
        let record = bench.text("job/record.txt");
        assert!(record.contains(&format!("  {line}\n")), "{record}");
        assert!(record.ends_with(&format!("  typed: {typed}\n")), "{record}");
    }
    let empty = bench.house(&["note", "job", "   "]);
    assert_eq!(empty.code, Some(2));
    assert!(empty.out.is_empty());
}

#[test]
fn note_goes_on_past_a_torn_line_and_says_so() {
    let bench = Bench::with_job();
    bench.write(
        "job/record.txt",
        "2026-11-25 10:14  swivel 1 is seized\n2026-11-25 10:15  swivel 1 is not",
    );
    let ran = bench.house(&["note", "job", "swivel 2 is seized"]);
    insta::assert_snapshot!("note_after_a_torn_line", ran.all());
    let record = bench.text("job/record.txt");
    let lines: Vec<&str> = record.lines().collect();
    assert_eq!(
        lines[1],
        "2026-11-25 10:15  swivel 1 is not <cut short here, not read>"
    );
    assert!(lines[2].ends_with("  swivel 2 is seized"));
}

#[test]
fn a_folder_that_is_no_job_is_said_so() {
    let bench = Bench::new();
    let missing = bench.house(&["note", "nowhere", "swivel 1 is seized"]);
    assert_eq!(missing.code, Some(2));
    assert_eq!(missing.err, "There is no folder nowhere.\n");
    let not_a_job = bench.house(&["note", "rules", "swivel 1 is seized"]);
    assert_eq!(not_a_job.code, Some(2));
    assert_eq!(
        not_a_job.err,
        "rules is not a job folder: there is no job.txt in it.\n"
    );
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_ends_with_3() {
    let bench = Bench::new();
    let full = fs::File::options().write(true).open("/dev/full").unwrap();
    let ran = Ran::of(
        bench
            .command(&["read", "--rules", "rules"])
            .stdout(full)
            .output()
            .unwrap(),
    );
    assert_eq!(ran.code, Some(3));
    assert_eq!(ran.err, "I could not print this: the disk is full.\n");
}

/// What is written down is not undone by a screen that takes nothing: whoever is told of
/// a failure would do it again.
#[cfg(target_os = "linux")]
#[test]
fn what_is_written_down_ends_with_0_though_it_cannot_be_said() {
    let bench = Bench::with_job();
    let commands: [&[&str]; 4] = [
        &["note", "job", "swivel 1 is seized"],
        &["brief", "job", "--wish", "music again"],
        &["open", "music stand", "--name", "other"],
        &["report", "job", "--out", "page.html"],
    ];
    for arguments in commands {
        for json in [&[][..], &["--json"]] {
            if arguments[0] == "report" && !json.is_empty() {
                continue;
            }
            if arguments[0] == "open" {
                let _ = fs::remove_dir_all(bench.path("other"));
            }
            let full = fs::File::options().write(true).open("/dev/full").unwrap();
            let rules = ["--rules", "rules"];
            let mut command = bench.command(&[arguments, json, &rules].concat());
            let ran = Ran::of(command.stdout(full).output().unwrap());
            assert_eq!(ran.code, Some(0), "{arguments:?}: {}", ran.err);
            assert_eq!(
                ran.err,
                "I could not print this: the disk is full. All the same it is written down; do \
                 not do it again.\n"
            );
        }
    }
    assert_eq!(bench.record().len(), 4);
    assert!(bench.path("other/job.txt").is_file());
    assert!(bench.path("page.html").is_file());
}

/// A file that an editor or a system hides is not the house's.
#[test]
fn hidden_files_of_rules_are_passed_over() {
    let bench = Bench::new();
    bench.write("rules/.#stand.rules.txt", "no rules at all");
    let ran = bench.house(&["check"]);
    assert_eq!(ran.code, Some(0), "{}", ran.all());
}

/// `tellmark read | head -1`: the reader has had enough, and that is no error.
#[cfg(unix)]
#[test]
fn a_closed_pipe_is_no_error() {
    let bench = Bench::new();
    // Enough rules to fill any pipe.
    let mut many = RULES.to_owned();
    for n in 0..2000 {
        many.push_str(&format!(
            "You can see whether a ledge is marked {n}.  Takes: 1 minute  On its own: rarely\n"
        ));
    }
    bench.write("rules/stand.rules.txt", many);
    let mut child = bench
        .command(&["read", "--rules", "rules"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let ran = Ran::of(child.wait_with_output().unwrap());
    assert_eq!(ran.err, "");
    assert_eq!(ran.code, Some(0));
}

#[test]
fn the_bench_screen_keeps_the_same_record() {
    let bench = Bench::with_job();
    bench.house(&["note", "job", "swivel 1 is seized"]);
    let ran = bench.house(&["bench", "job", "--frames", "pictures", "--keys", "3 1 2 4~"]);
    assert_eq!(ran.code, Some(0), "{}", ran.all());
    assert_eq!(
        ran.out,
        "Made 5 pictures in pictures, and added 3 lines to the record.\n"
    );
    assert_eq!(
        bench.record(),
        [
            "swivel 1 is seized",
            "heeded: swivel 1; Do not force it.",
            "swivel 1 shows verdigris",
            "swivel 2 is not seized",
        ]
    );
    for number in 0..5 {
        let png = fs::read(bench.path(&format!("pictures/{number:03}.png"))).unwrap();
        assert!(png.starts_with(b"\x89PNG"), "picture {number}");
    }
    // What it wrote is a record like any other, and is there when it starts.
    let ran = bench.house(&["triage", "job"]);
    assert_eq!(ran.code, Some(0), "{}", ran.all());
    assert!(ran.err.is_empty(), "{}", ran.err);
    let ran = bench.house(&["bench", "job", "--frames", "pictures", "--json"]);
    let json = ran.json();
    assert_eq!(json["added"], 0);
    assert_eq!(json["pictures"].as_array().unwrap().len(), 1);
}

#[test]
fn the_bench_screen_needs_a_terminal_or_a_script() {
    let bench = Bench::with_job();
    let ran = bench.house(&["bench", "job"]);
    assert_eq!(ran.code, Some(2));
    assert_eq!(
        ran.err,
        "The bench screen needs a terminal to be drawn in. \"--frames DIR\" makes pictures of it \
         instead.\n"
    );
    let ran = bench.house(&["bench", "job", "--frames", "pictures", "--keys", "1 5"]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.err.starts_with("\"5\" is no key."), "{}", ran.err);
    let ran = bench.house(&["bench", "nowhere", "--frames", "pictures"]);
    assert_eq!(ran.code, Some(2));
    bench.write("taken", "");
    let ran = bench.house(&["bench", "job", "--frames", "taken"]);
    assert_eq!(ran.code, Some(3), "{}", ran.err);
}

/// A piece of very many parts is refused in words, and no fault of the program is spoken of.
#[test]
fn a_piece_of_too_many_parts_is_told_in_words() {
    let user = User::new();
    user.make("rules");
    user.write(
        "rules/own.rules.txt",
        "House rules for trolleys, version 1.\nPieces: trolley.\nParts: rail, pin.\n\
         A trolley has 0 to 250 rails (usually 200).\nA rail has 0 to 250 pins (usually 200).\n\
         Source house: our own.\nYou can see whether a pin is odd.  Ask: \"Odd?\"\n",
    );
    let opened = user.run(&["open", "trolley", "--name", "big", "--rules", "rules"]);
    assert_eq!(opened.code, Some(0), "{}", opened.err);
    for command in ["triage", "next", "plan", "quote", "date"] {
        let ran = user.run(&[command, "big", "--rules", "rules"]);
        assert_eq!(ran.code, Some(2), "{command}: {}", ran.out);
        assert!(ran.err.contains("has more parts"), "{command}: {}", ran.err);
        assert!(!ran.err.contains("internal"), "{command}: {}", ran.err);
    }
}
