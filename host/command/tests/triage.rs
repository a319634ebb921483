//! `tellmark triage`, `why`, `next`, `date` and `plan`, as a user types them, on the
//! demonstration job and on jobs that go wrong.

use std::fs;
use std::path::Path;

use crate::user::{Ran, User};
use serde_json::Value;

#[test]
fn triage_of_the_demonstration() {
    let job = User::with_demonstration();
    let ran = job.run(&["triage", "chest"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    insta::assert_snapshot!("triage_brief", ran.out);
    let ran = job.run(&["triage", "chest", "--full"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    insta::assert_snapshot!("triage", ran.out);
}

/// In brief it says of every fault that the whole page has, and of no other.
#[test]
fn the_brief_page_leaves_out_no_fault() {
    let job = User::with_demonstration();
    let list = job.run(&["triage", "chest", "--json"]).json();
    let brief = job.works(&["triage", "chest"]);
    let faults = list["parts"].as_array().expect("a list").iter();
    let faults = faults.flat_map(|part| part["faults"].as_array().expect("a list"));
    let mut count = 0;
    for fault in faults {
        let said = fault["fault"].as_str().expect("words");
        let said = said.strip_prefix("is ").unwrap_or(said);
        assert!(brief.contains(&format!("{said}: ")), "{said}: {brief}");
        count += 1;
    }
    assert!(count > 20, "{count}");
    let all = job.works(&["triage", "chest", "--all"]);
    assert!(!all.contains("other faults are below"), "{all}");
}

/// The desk: what is found, what is to be done, and how old it is in spite of its knobs.
#[test]
fn the_desk_from_first_look_to_plan() {
    let desk = User::with_job_like("ferry-desk");
    for page in ["triage", "plan", "date"] {
        let ran = desk.run(&[page, "chest"]);
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{page}");
        insta::assert_snapshot!(format!("desk_{page}"), ran.out);
    }
}

#[test]
fn a_desk_is_found_by_the_names_that_people_have_for_it() {
    let user = User::new();
    for (number, name) in [
        "bureau",
        "writing bureau",
        "slope-front bureau",
        "fall-front bureau",
        "fall-front desk",
        "slant-front desk",
        "slant-top desk",
        "slant front",
        "drop-front desk",
        "writing desk",
        "secretary desk",
        "secretary",
        "escritoire",
    ]
    .into_iter()
    .enumerate()
    {
        let job = format!("job-{number}");
        let opened = user.works(&["open", name, "--name", &job]);
        assert!(opened.contains(": a fall-front desk"), "{name}: {opened}");
    }
}

#[test]
fn why_of_the_demonstration() {
    let job = User::with_demonstration();
    let ran = job.run(&["why", "chest", "drawer 3 is loose in the dovetails"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    insta::assert_snapshot!("why", ran.out);
}

#[test]
fn why_of_a_sign_that_no_rule_reads_says_what_was_found() {
    let user = User::with_demonstration();
    user.make("rules");
    user.write(
        "rules/house.rules.txt",
        "House rules for the bench of unread signs, version 1.\n\
         You can see whether a drawer is lined.  Ask: \"Lined?\"\n",
    );
    let why = |sign: &str| {
        let page = user.works(&["why", "chest", sign, "--rules", "rules"]);
        let (page, whose) = page.split_once("\nBy the rules of ").expect("whose");
        assert!(whose.starts_with("the bench of unread signs, version 1 (rules, "));
        page.to_owned()
    };
    let note = |finding: &str| user.works(&["note", "chest", finding, "--rules", "rules"]);
    let unread = "No rule reads it: it has no chance of its own, and it moves none.\n";
    assert_eq!(
        why("drawer 1 is lined"),
        format!("Nothing was found of whether drawer 1 is lined.\n{unread}")
    );
    note("drawer 1 looks lined");
    assert_eq!(
        why("drawer 1 is lined"),
        format!(
            "It is not settled whether drawer 1 is lined.\n  drawer 1 looks lined (line 25)\n\
             {unread}"
        )
    );
    note("drawer 1 is lined");
    let found = why("drawer 1 is lined");
    let line = "Drawer 1 is lined, as was found.\n  drawer 1 is lined (line 26)\n";
    assert_eq!(found, format!("{line}{unread}"));
    note("every drawer is not lined");
    let found = why("drawer 2 is lined");
    assert!(
        found.starts_with("Drawer 2 is not lined, as was found.\n"),
        "{found}"
    );
    let json = user.run(&[
        "why",
        "chest",
        "drawer 2 is lined",
        "--rules",
        "rules",
        "--json",
    ]);
    let json = json.json();
    assert_eq!(
        (&json["chance"], &json["found"]),
        (&Value::Null, &Value::Bool(false))
    );
}

#[test]
fn next_of_the_demonstration() {
    let job = User::with_demonstration();
    let ran = job.run(&["next", "chest", "--most", "6"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    insta::assert_snapshot!("next", ran.out);
    let list: Value =
        serde_json::from_str(&job.run(&["next", "chest", "--json"]).out).expect("JSON");
    let checks = list["checks"].as_array().expect("a list");
    assert_eq!(checks.len(), 8);
    let worth = |c: &Value| c["saves_minutes"].as_f64() > Some(0.0);
    assert!(checks.iter().all(worth));
}

/// A short look over keeps to its time, opens nothing, goes in the order of the round, and has
/// what is worth most.
#[test]
fn a_short_look_over_of_the_demonstration() {
    let job = User::with_demonstration();
    let ran = job.run(&["next", "chest", "--within", "20 min"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    insta::assert_snapshot!("next_within", ran.out);
    let list = job
        .run(&["next", "chest", "--within", "20 min", "--json"])
        .json();
    let checks = list["checks"].as_array().expect("a list");
    let minutes = |check: &Value| check["minutes"].as_u64().expect("minutes");
    assert!(checks.iter().map(minutes).sum::<u64>() <= 20);
    assert_eq!(list["within_minutes"], 20);
    let best = job.run(&["next", "chest", "--json", "--most", "1"]).json();
    assert!(checks.contains(&best["checks"][0]), "{best}");
    let refused = job.run(&["next", "chest", "--within", "soon"]);
    assert_eq!(refused.code, Some(2), "{}", refused.all());
    assert!(refused.err.contains("I cannot read \"soon\" as a time"));
}

/// The list for programs says the same as the one for people, and all of it
/// with `--all`.
#[test]
fn triage_for_programs() {
    let job = User::with_demonstration();
    let ran = job.run(&["triage", "chest", "--json", "--all"]);
    let list: Value = serde_json::from_str(&ran.out).expect("JSON");
    let parts = list["parts"].as_array().expect("a list");
    let faults = parts
        .iter()
        .flat_map(|part| part["faults"].as_array().expect("a list"));
    let mut count = 0;
    for fault in faults {
        let chance = fault["chance"].as_f64().expect("a number");
        assert!((0.0..=1.0).contains(&chance));
        count += 1;
    }
    assert!(count > 150, "{count} faults of 61 parts");
    assert_eq!(list["clash"], Value::Null);
    let text = job.run(&["triage", "chest"]).out;
    for caution in list["cautions"].as_array().expect("a list") {
        assert!(text.contains(caution["text"].as_str().expect("text")));
    }
}

/// Taking a finding back really gives the chance that `why` says it would.
#[test]
fn the_weights_are_what_taking_back_does() {
    let job = User::with_demonstration();
    let asked = ["why", "chest", "the chest of drawers is racked", "--json"];
    let before: Value = serde_json::from_str(&job.run(&asked).out).expect("JSON");
    let swaying = before["findings"]
        .as_array()
        .expect("a list")
        .iter()
        .find(|f| f["text"] == "the chest of drawers is swaying")
        .expect("it counts");
    job.add("have not looked whether the chest of drawers is swaying");
    let after: Value = serde_json::from_str(&job.run(&asked).out).expect("JSON");
    assert_eq!(swaying["chance_without"], after["chance"]);
    assert!(swaying["decibans"].as_f64() > Some(0.0));
}

/// The weights in the order of the record lead from the chance before anything
/// was found to the chance now; the fault explains away its rivals.
#[test]
fn the_weights_in_order_add_up() {
    let job = User::with_demonstration();
    let asked = [
        "why",
        "chest",
        "left runner of drawer 2 is worn thin",
        "--json",
    ];
    let why: Value = serde_json::from_str(&job.run(&asked).out).expect("JSON");
    let odds = |name: &str| {
        let p = why[name].as_f64().expect("a chance");
        p / (1.0 - p)
    };
    let whole = 10.0 * (odds("chance") / odds("before")).log10();
    let findings = why["findings"].as_array().expect("a list");
    let sum: f64 = findings
        .iter()
        .map(|f| f["decibans_in_order"].as_f64().expect("a weight"))
        .sum();
    // Weights that are not felt, below a tenth of a deciban each, are left out.
    assert!((sum - whole).abs() < 1.0, "{sum} of {whole}");
    for rival in why["rivals"].as_array().expect("a list") {
        assert!(rival["chance_then"].as_f64() < rival["chance"].as_f64());
    }
}

/// A measure and an opened-up fact that the rules cannot join: the lines are
/// named, no chances are made up, and the exit code says no.
#[test]
fn findings_that_clash_are_named() {
    let job = User::with_demonstration();
    fs::create_dir(job.path("rules")).expect("made");
    fs::write(
        job.path("rules/sure.rules.txt"),
        "House rules for sure, version 1.\nSource sure: our own.\n\
         A back may be pulled off without showing it.  On its own: rarely\n    Missed: 1 hour, risk 1\n\
         If a back is pulled off then it is by definition rattling.  From: sure\n",
    )
    .expect("written");
    job.add("the back is pulled off");
    job.add("the back is certainly not rattling");
    let ran = job.run(&["triage", "chest", "--rules", "rules"]);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    insta::assert_snapshot!("clash", ran.out);
    let why = job.run(&["why", "chest", "the back is pulled off", "--rules", "rules"]);
    assert_eq!(why.code, Some(2));
    assert!(why.err.contains("cannot all be true"), "{}", why.err);
}

/// What was opened up is a finding, not a guess.
#[test]
fn an_opened_fault_is_shown_as_seen() {
    let job = User::with_demonstration();
    job.add("the bottom of drawer 1 is held fast");
    let ran = job.run(&["triage", "chest"]);
    let line = "           held fast: the bottom of drawer 1\n";
    assert!(
        ran.out.contains(&format!("Found so\n{line}")),
        "{}",
        ran.out
    );
    let full = job.works(&["triage", "chest", "--full"]);
    assert!(full.contains("is held fast (found so)"));
}

/// Lines that are not understood, or that leave open which part is meant, are
/// told and stop nothing.
#[test]
fn odd_lines_of_the_record_are_left_out_and_told() {
    let job = User::with_demonstration();
    let before = job.run(&["triage", "chest"]).out;
    job.add("2026-11-25 09:00  the drawer is stiff");
    job.add("2026-11-25 09:01  drawer 2 is bewitched");
    job.add("2026-11-25 09:02  drawer 7 is stiff");
    let ran = job.run(&["triage", "chest"]);
    assert_eq!(ran.code, Some(1));
    let told = "\nLines 25, 26 and 27 of the record are not known to these rules, and left out.\n";
    assert_eq!(ran.out, before + told);
    insta::assert_snapshot!("left_out", ran.err);
}

#[test]
fn why_refuses_what_it_cannot_place() {
    let job = User::with_demonstration();
    let mut said = String::new();
    for words in [
        "drawer 2 is bewitched",
        "drawer 9 is stiff",
        "the drawer is stiff",
        "every drawer is stiff",
        "stiff",
        "",
    ] {
        let ran = job.run(&["why", "chest", words]);
        // Where it may be one of several, they are named.
        let is_open = ran.err.starts_with("It may mean");
        assert_eq!(
            ran.code,
            Some(if is_open { 1 } else { 2 }),
            "{words}: {}",
            ran.out
        );
        said.push_str(&format!("{words}\n  {}", ran.err));
    }
    insta::assert_snapshot!("why_refuses", said);
}

/// The second run goes by what the first has kept, and says the same; damage to
/// what was kept is not even noticed.
#[test]
fn what_is_kept_changes_nothing_but_the_time() {
    let job = User::with_demonstration();
    let triage = || {
        let mut command = job.command(&["triage", "chest"]);
        command.env("XDG_CACHE_HOME", job.path("cache"));
        Ran::of(command.output().expect("it runs")).out
    };
    let first = triage();
    let kept = fs::read_dir(job.path("cache/tellmark"))
        .expect("something is kept")
        .next()
        .expect("one file")
        .expect("readable")
        .path();
    assert_eq!(triage(), first);
    let mut bytes = fs::read(&kept).expect("readable");
    let middle = bytes.len() / 2;
    bytes[middle] ^= 1;
    fs::write(&kept, &bytes).expect("written");
    assert_eq!(triage(), first);
    fs::write(&kept, b"short").expect("written");
    assert_eq!(triage(), first);
}

const ABOUT_ITS_AGE: [&str; 8] = [
    "drawer 1 is fine-dovetailed",
    "drawer 2 is fine-dovetailed",
    "drawer 3 is machine-dovetailed",
    "the front of drawer 1 is cockbeaded",
    "handle 1 of drawer 2 is swan-neck",
    "the lock of drawer 1 is iron-nailed",
    "handle 1 of drawer 2 is fresh-seated",
    "front of drawer 2 shows plugged holes",
];

#[test]
fn date_of_the_demonstration() {
    let job = User::with_demonstration();
    for line in ABOUT_ITS_AGE {
        job.add(line);
    }
    let ran = job.run(&["date", "chest"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    insta::assert_snapshot!("date", ran.out);
    let ran = job.run(&["date", "chest", "--json"]);
    let said: Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(said["later"]["parts"], serde_json::json!(["drawer 3"]));
}

/// A fitting that fits no trace weighs with the dates; a trace that no fitting
/// fits weighs nothing. Both are told with their lines.
#[test]
fn date_tells_fittings_and_traces_that_do_not_belong_together() {
    let job = User::with_demonstration();
    fs::write(job.path("chest/record.txt"), "").expect("written");
    job.add("front of drawer 2 shows plugged holes");
    job.add("front of drawer 4 looks as if it shows plugged holes");
    let alone = job.run(&["date", "chest"]);
    assert!(
        alone
            .out
            .starts_with("Nothing that was found speaks of when it was made.\n")
    );
    assert!(!alone.out.contains("drawer 4"), "{}", alone.out);

    job.add("every handle of drawer 2 is swan-neck; handle 1 of drawer 2 is fresh-seated");
    job.add("the lock of drawer 1 is old-seated");
    job.add("lock place of front of drawer 3 is empty-mortised");
    let ran = job.run(&["date", "chest"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    let ran = job.run(&["date", "chest", "--json"]);
    let said: Value = serde_json::from_str(&ran.out).expect("JSON");
    let fittings = &said["fittings_without_trace"];
    assert_eq!(fittings[0]["part"], "handle 1 of drawer 2");
    assert_eq!(fittings[0]["record"][0]["line"], 3);
    assert_eq!(fittings[1], Value::Null);
    let original = |part: &str| {
        let all = said["parts"].as_array().expect("parts");
        let found = all.iter().find(|p| p["part"] == part).expect("dated");
        found["original"].as_f64().expect("a chance")
    };
    assert!(original("handle 1 of drawer 2") < original("handle 2 of drawer 2") / 2.0);
    let traces = &said["traces_without_fitting"];
    assert_eq!(
        (&traces[0]["part"], &traces[0]["lost"]),
        (&"the front of drawer 2".into(), &"handle".into())
    );
    assert_eq!(traces[0]["record"][0]["line"], 1);
    assert_eq!(traces[1]["lost"], "lock");
    assert_eq!(said["later"]["agree"], true);
}

/// What cannot be true of one part, whatever is later, is said.
#[test]
fn dates_that_contradict_each_other() {
    let job = User::with_demonstration();
    job.add("the piece shows country marks");
    job.add("the lock of drawer 1 is iron-nailed");
    job.add("the bottom of drawer 1 is front-to-back");
    let ran = job.run(&["date", "chest"]);
    assert_eq!(ran.code, Some(1), "{}", ran.out);
    assert!(
        ran.out
            .contains("The dates do not agree, whichever parts are later")
    );
}

#[test]
fn nothing_that_speaks_of_age() {
    let job = User::with_demonstration();
    fs::write(job.path("chest/record.txt"), "").expect("written");
    let ran = job.run(&["date", "chest", "--made-in", "unknown"]);
    assert_eq!(ran.code, Some(0));
    assert_eq!(
        ran.out,
        "Nothing that was found speaks of when it was made.\n"
    );
    let ran = job.run(&["date", "chest", "--made-in", "france"]);
    assert_eq!(ran.code, Some(2), "{}", ran.err);
}

#[test]
fn plan_of_the_demonstration() {
    let job = User::with_demonstration();
    let ran = job.run(&["plan", "chest"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    insta::assert_snapshot!("plan", ran.out);
}

#[test]
fn why_a_job_stands_where_it_does() {
    let job = User::with_demonstration();
    let ran = job.run(&["plan", "chest", "--why", "renew the running edges"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    insta::assert_snapshot!("plan_why", ran.out);
    let ran = job.run(&["plan", "chest", "--why", "the"]);
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err.starts_with("\"the\" could be any of these: "),
        "{}",
        ran.err
    );
    let ran = job.run(&["plan", "chest", "--why", "gild it"]);
    assert_eq!(ran.err, "No job of these rules is called \"gild it\".\n");
}

#[test]
fn only_what_is_certain() {
    let job = User::with_demonstration();
    let ran = job.run(&["plan", "chest", "--certain", "--json"]);
    let said: Value = serde_json::from_str(&ran.out).expect("JSON");
    let steps = said["steps"].as_array().expect("steps");
    assert!(!steps.is_empty());
    for step in steps {
        assert_ne!(step["certain"], serde_json::json!([]));
        assert_eq!(step["perhaps"], serde_json::json!([]));
    }
}

/// The way from a finding to a fault never leads through something that both bring about
/// and nobody has looked at: that tells nothing (d-separation).
#[test]
fn why_leads_through_nothing_that_both_bring_about() {
    let user = User::new();
    user.make("house");
    let mut rules = String::from(
        "House rules for the bench of ways, version 1.\n\
         Pieces: stand.\n\
         Source house: our own notes.\n\
         A stand may be warped without showing it.  Missed: 1 hour, risk 2\n",
    );
    for sign in ["bent", "split", "loose", "noisy"] {
        rules += &format!("You can see whether a stand is {sign}.  Ask: \"{sign}?\"\n");
    }
    let because = [
        ("warped", "bent"),
        ("bent", "split"),
        ("split", "loose"),
        ("warped", "noisy"),
        ("loose", "noisy"),
    ];
    for (cause, effect) in because {
        rules += &format!("If a stand is {cause} then it is often {effect}.  From: house\n");
    }
    user.write("house/ways.rules.txt", rules);
    user.make("chest");
    user.write("chest/job.txt", "job folder: 1\npiece: stand\n");
    user.write("chest/record.txt", "2026-03-02 09:12  the stand is loose\n");
    let asked = [
        "why",
        "chest",
        "the stand is warped",
        "--json",
        "--rules",
        "house",
    ];
    let ran = user.run(&asked);
    let why: Value = serde_json::from_str(&ran.out).unwrap_or_else(|_| panic!("{}", ran.err));
    let sentences = why["sentences"].as_array().expect("a list");
    let words: Vec<&str> = sentences
        .iter()
        .filter_map(|s| s["words"].as_str())
        .collect();
    assert_eq!(words.len(), 3, "{words:?}");
    assert!(
        words.iter().all(|words| !words.contains("noisy")),
        "{words:?}"
    );
    // What both bring about leads from one to the other once it is known.
    user.add("2026-03-02 09:13  the stand is noisy");
    let why: Value = serde_json::from_str(&user.run(&asked).out).expect("JSON");
    assert!(why["sentences"].to_string().contains("noisy"));
}

const SLIDES: &str = "\
House rules for the bench of level slides, version 1.
Pieces: tea table.
Parts: slide.
A tea table has two slides.
You can feel whether a tea table is jamming.  Ask: \"Jams?\"
You can measure how much a slide is worn, in mm, from 0 to 15.  Ask: \"Wear?\"  Reads to: 0.2 mm
A slide counts as thin when it is worn at least 2 mm.  On its own: hardly ever
If any slide of a tea table is thin then the table is nearly always jamming.  From: house
For tea table we also say table.
";

/// `note` says at once what `triage` says as long as it stands.
#[test]
fn what_sits_oddly_is_told_by_note_and_triage() {
    let user = User::new();
    user.make("rules");
    user.write("rules/house.rules.txt", SLIDES);
    user.works(&["open", "tea table", "--name", "table", "--rules", "rules"]);
    let note = |finding: &str| user.works(&["note", "table", finding, "--rules", "rules"]);
    note("slide 1 is worn 9 mm");
    note("the table is jamming");
    insta::assert_snapshot!("oddly", note("slide 1 is certainly not thin"));
    let triage = user.works(&["triage", "table", "--rules", "rules"]);
    assert!(triage.contains("These sit oddly together"), "{triage}");
    let json = user.works(&["triage", "table", "--rules", "rules", "--json"]);
    let json: Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(json["sit_oddly"][0][0]["line"], 1, "{json}");
    // Put right, it is odd no more.
    let right = note("slide 1 is worn 1 mm");
    assert!(
        right.contains("puts right line 1") && !right.contains("oddly"),
        "{right}"
    );
    let triage = user.works(&["triage", "table", "--rules", "rules"]);
    assert!(!triage.contains("oddly"), "{triage}");
}

#[test]
fn findings_that_clash_are_told_by_note() {
    let user = User::new();
    user.make("rules");
    user.write(
        "rules/house.rules.txt",
        SLIDES.replace("  Reads to: 0.2 mm", ""),
    );
    user.works(&["open", "tea table", "--name", "table", "--rules", "rules"]);
    let note = |finding: &str| user.works(&["note", "table", finding, "--rules", "rules"]);
    note("slide 1 is worn 9 mm");
    insta::assert_snapshot!("clashing", note("slide 1 is certainly not thin"));
}

/// Of two things on one line that cannot both count, none is noted.
#[test]
fn a_line_at_odds_with_itself_is_refused() {
    let user = User::with_demonstration();
    let before = user.text("chest/record.txt");
    for line in [
        "drawer 1 is certainly stiff; drawer 1 is certainly not stiff",
        "the chest of drawers is swaying. the chest of drawers is not swaying",
        "left runner of drawer 1 is worn 2 mm; left runner of drawer 1 is worn 3 mm",
    ] {
        let ran = user.run(&["note", "chest", line]);
        assert_eq!(ran.code, Some(1), "{line}: {}", ran.err);
        assert!(
            ran.out.contains("different things of the same"),
            "{}",
            ran.out
        );
    }
    // Nothing is found, and nothing that was typed is lost.
    let after = user.text("chest/record.txt");
    let added = after.strip_prefix(&before).expect("only added to");
    assert!(added.lines().all(|line| line.contains("  remark: ")));
    // An exception to what is said of all is none.
    user.works(&[
        "note",
        "chest",
        "every drawer is stiff; drawer 1 is not stiff",
    ]);
    user.works(&["note", "chest", "drawer 1 is stiff; drawer 1 is stiff"]);
}

/// What README shows of the first answer is what it says today.
#[test]
fn readme_shows_the_first_answer_as_it_is() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let readme = fs::read_to_string(root.join("README.md")).expect("there");
    let shown = readme.split("```text\n").nth(1).expect("a block of text");
    let shown: Vec<&str> = shown
        .lines()
        .take_while(|line| line.trim() != "…")
        .collect();
    let user = User::with_job_like("landing-chest");
    let said = user.works(&["triage", "chest"]);
    let said: Vec<&str> = said.lines().take(shown.len()).collect();
    assert_eq!(shown, said);
}
