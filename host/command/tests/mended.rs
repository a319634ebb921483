//! The piece as it was found and as it is now, as a user types the commands.

use crate::user::User;

const HEADER: &str = "job folder: 1\npiece: table\n";

const HOUSE: &str = "\
House rules for the test of mending, version 1.
Pieces: table.
Parts: leaf (plural leaves), hinge.
A table has 2 leaves.
A leaf has 2 hinges.
You can see whether a leaf is sagging.  Ask: \"Sagging?\"  Takes: 1 minute  On its own: rarely
You can see whether a leaf shows ink.   Ask: \"Ink?\"
You can see whether a leaf shows a number.  Ask: \"A number?\"  In order: yes or no
You can see which grain a leaf has: straight or curled.  Ask: \"Grain?\"  In order: straight
A hinge may be split at the bed without showing it.  Missed: 2 hours, risk 4  On its own: rarely
If any hinge of a leaf is split at the bed then the leaf is usually sagging.  From: house
Stop when a hinge is probably split at the bed: \"Do not load the leaf.\"  From: house
When a hinge is probably split at the bed then plan to let in a new bed.  From: house
Job: let in a new bed.  Takes: 2 hours  Mends: a hinge is split at the bed
";

/// A user with a table on the bench, its hinge opened up and split.
fn table() -> User {
    let record = "2026-03-02 09:10  leaf 1 is sagging\n\
                  2026-03-02 09:11  hinge 1 of leaf 1 is certainly not split at the bed\n\
                  2026-03-02 09:12  hinge 2 of leaf 1 is certainly split at the bed\n";
    let user = User::with_chest(HEADER, record);
    user.write("house.rules.txt", HOUSE);
    user
}

fn with_house<'a>(arguments: &[&'a str]) -> Vec<&'a str> {
    [arguments, &["--rules", "house.rules.txt"]].concat()
}

fn works(user: &User, arguments: &[&str]) -> String {
    let ran = user.run(&with_house(arguments));
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    ran.out
}

#[test]
fn ticking_mends_and_taking_back_brings_it_back() {
    let user = table();
    let before = works(&user, &["triage", "chest"]);
    assert!(
        before.contains("STOP (hinge 2 of leaf 1): Do not load the leaf."),
        "{before}"
    );
    works(
        &user,
        &["done", "chest", "let in a new bed", "--took", "2 hours"],
    );
    let now = works(&user, &["triage", "chest"]);
    assert!(!now.contains("STOP"), "{now}");
    insta::assert_snapshot!("triage_now", now);
    assert!(works(&user, &["triage", "chest", "--as-found"]).contains("Do not load the leaf."));
    assert!(!works(&user, &["plan", "chest"]).contains(". let in a new bed"));
    insta::assert_snapshot!(
        "why_now",
        works(
            &user,
            &["why", "chest", "hinge 2 of leaf 1 is split at the bed"]
        )
    );
    works(&user, &["done", "chest", "let in a new bed", "--undo"]);
    assert_eq!(works(&user, &["triage", "chest"]), before);
}

#[test]
fn what_is_noted_after_a_mend_is_said_to_speak_of_now() {
    let user = table();
    works(&user, &["done", "chest", "let in a new bed"]);
    let again = "look again\n  leaf 1 is sagging";
    assert!(works(&user, &["triage", "chest"]).contains(again));
    let noted = works(&user, &["note", "chest", "leaf 1 is sagging"]);
    assert!(!works(&user, &["triage", "chest"]).contains("look again"));
    insta::assert_snapshot!("noted_sign", noted);
    let again = works(
        &user,
        &["note", "chest", "hinge 2 of leaf 1 is split at the bed"],
    );
    insta::assert_snapshot!("noted_again", again);
    assert!(works(&user, &["triage", "chest"]).contains("Do not load the leaf."));
    let plan = works(&user, &["plan", "chest"]);
    let is_planned = |line: &str| line.contains(". let in a new bed: hinge 2 of leaf 1");
    assert!(plan.lines().any(is_planned), "{plan}");
}

#[test]
fn a_sign_that_is_still_there_puts_the_mend_in_doubt() {
    let user = table();
    let house = HOUSE.replace(
        "Takes: 2 hours  Mends",
        "Takes: 2 hours  Holds: often  Mends",
    );
    user.write("house.rules.txt", &house);
    let fault = "hinge 2 of leaf 1 is split at the bed";
    works(&user, &["done", "chest", "let in a new bed"]);
    let ticked = works(&user, &["triage", "chest"]);
    assert!(
        !ticked.contains("in doubt") && !ticked.contains("STOP"),
        "{ticked}"
    );
    let noted = works(&user, &["note", "chest", "leaf 1 is sagging"]);
    insta::assert_snapshot!("noted_in_doubt", noted);
    insta::assert_snapshot!("triage_in_doubt", works(&user, &["triage", "chest"]));
    insta::assert_snapshot!("why_in_doubt", works(&user, &["why", "chest", fault]));
    let plan = works(&user, &["plan", "chest"]);
    assert!(
        plan.contains(". let in a new bed: hinge 2 of leaf 1"),
        "{plan}"
    );
    let plan = works(&user, &["plan", "chest"]);
    assert!(plan.contains("in doubt: 67 in 100 that hinge 2"), "{plan}");
    let no = format!("note chest {}", fault.replace("is split", "is not split"));
    works(&user, &no.split(' ').collect::<Vec<_>>());
    let looked = works(&user, &["triage", "chest"]);
    assert!(
        !looked.contains("in doubt") && !looked.contains("STOP"),
        "{looked}"
    );
    let found = works(&user, &["triage", "chest", "--as-found"]);
    assert!(found.contains("STOP (hinge 2 of leaf 1)"), "{found}");
}

#[test]
fn work_of_one_s_own_mends_what_it_says() {
    let user = table();
    let own = [
        "done",
        "chest",
        "pin the hinge",
        "--part",
        "hinge 2 of leaf 1",
        "--took",
        "1 hour",
        "--mends",
        "hinge 2 of leaf 1 is split at the bed",
    ];
    works(&user, &own);
    let added = user.added_after(3);
    let line = "done: pin the hinge; hinge 2 of leaf 1; 1 hour; mends hinge 2 of leaf 1 is split \
                at the bed";
    assert_eq!(added, [line]);
    assert!(!works(&user, &["triage", "chest"]).contains("STOP"));
    let odd = [
        "done",
        "chest",
        "pin the hinge",
        "--mends",
        "hinge 9 of leaf 1 is split at the bed",
    ];
    let refused = user.run(&with_house(&odd));
    assert_eq!(refused.code, Some(2), "{}", refused.out);
    assert_eq!(user.added_after(3).len(), 1);
    works(&user, &["done", "chest", "pin the hinge", "--undo"]);
    assert!(works(&user, &["triage", "chest"]).contains("STOP"));
}

#[test]
fn the_report_handed_back_says_nothing_mended_in_the_present() {
    let user = table();
    works(
        &user,
        &["done", "chest", "let in a new bed", "--took", "2 hours"],
    );
    let report = user.run(&with_house(&["report", "chest", "--json"])).json();
    assert_eq!(report["mended"], true);
    assert_eq!(report["cautions"], serde_json::json!([]));
    assert_eq!(report["faults"]["likely"], serde_json::json!([]));
    let of = |what: &str| {
        let parts = report["condition"].as_array().expect("a list").iter();
        let mut found = parts.flat_map(|part| part["found"].as_array().expect("a list"));
        let found = found.find(|found| found["what"] == what).expect(what);
        found["since"].as_str().expect("words").to_owned()
    };
    assert!(of("is split at the bed").starts_with("mended "), "{report}");
    assert_eq!(of("is sagging"), "not looked at since");
    assert_eq!(of("is not split at the bed"), "as found");
}

#[test]
fn what_no_rule_reads_is_found_all_the_same() {
    let user = User::with_chest(HEADER, "");
    user.write("house.rules.txt", HOUSE);
    let found = |record: &str| {
        user.write("chest/record.txt", record);
        let report = user.run(&with_house(&["report", "chest", "--json"])).json();
        let looked = &report["looked"];
        (
            looked["parts_found"].clone(),
            looked["parts_in_order"].clone(),
        )
    };
    assert_eq!(found("leaf 1 shows ink\n"), (1.into(), 0.into()));
    assert_eq!(found("leaf 1 does not show ink\n"), (0.into(), 1.into()));
    // The house says what is in order.
    assert_eq!(found("leaf 1 shows a number\n"), (0.into(), 1.into()));
    assert_eq!(found("grain of leaf 1 is straight\n"), (0.into(), 1.into()));
    assert_eq!(found("grain of leaf 1 is curled\n"), (1.into(), 0.into()));
    assert_eq!(found(""), (0.into(), 0.into()));
}

#[test]
fn what_is_in_order_is_read_back_and_refused_where_it_does_not_fit() {
    let user = User::new();
    user.write("house.rules.txt", HOUSE);
    let read = works(&user, &["read", "grain"]);
    assert!(read.contains("straight is in order"), "{read}");
    let wrong = HOUSE.replace("In order: straight", "In order: wavy");
    user.write("house.rules.txt", wrong);
    let checked = user.run(&with_house(&["check"]));
    assert!(
        checked.out.contains("wavy") || checked.err.contains("wavy"),
        "{}",
        checked.all()
    );
    assert_eq!(checked.code, Some(1), "{}", checked.all());
}

/// A bookcase with these findings and ticks, and the record's word on each of the parts now.
fn bookcase(record: &str) -> (User, Vec<(String, String, String)>) {
    let header = "job folder: 1\npiece: glazed bookcase\n";
    let user = User::with_chest(header, record);
    let report = user.run(&["report", "chest", "--json"]).json();
    let mut now = Vec::new();
    for part in report["condition"].as_array().expect("a list") {
        for found in part["found"].as_array().expect("a list") {
            let text = |value: &serde_json::Value| value.as_str().expect("text").to_owned();
            now.push((
                text(&part["part"]),
                text(&found["what"]),
                text(&found["since"]),
            ));
        }
    }
    (user, now)
}

/// Several findings may stand on one line: each is mended by itself.
#[test]
fn of_several_findings_on_one_line_one_is_mended() {
    let (user, now) = bookcase(
        "2026-03-02 09:10  left glazed door shows lost escutcheons. right glazed door shows lost \
         escutcheons\n\
         2026-03-03 09:10  done: make the lost door fittings; right glazed door\n",
    );
    let since: Vec<&str> = now.iter().map(|(_, _, since)| since.as_str()).collect();
    assert_eq!(since, ["as found", "mended 3 Mar 2026"]);
    let letter = user.run(&["report", "chest", "--json"]).json()["letter"].clone();
    assert_eq!(letter["found"].as_array().expect("a list").len(), 1);
    assert_eq!(letter["found"][0]["part"], "The left glazed door");
}

/// Of what was said of every part, one is mended: the rest is as it was.
#[test]
fn of_every_part_one_is_mended() {
    let (user, now) = bookcase(
        "2026-03-02 09:10  every glazed door shows lost escutcheons\n\
         2026-03-03 09:10  done: make the lost door fittings; left glazed door\n",
    );
    assert_eq!(
        now[0].2,
        "Left glazed door: mended 3 Mar 2026; right glazed door: as found".replacen('L', "l", 1)
    );
    let letter = user.run(&["report", "chest", "--json"]).json()["letter"].clone();
    assert_eq!(letter["found"].as_array().expect("a list").len(), 1);
    assert_eq!(letter["found"][0]["part"], "The right glazed door");
    let plan = user.run(&["plan", "chest"]).out;
    assert!(
        plan.contains("make the lost door fittings: right glazed door"),
        "{plan}"
    );
}

/// What a job mends besides, and nobody had seen, is new when it is seen after it.
#[test]
fn what_was_never_seen_is_not_there_again() {
    let (user, now) = bookcase(
        "2026-03-02 09:10  left glazed door shows lost escutcheons\n\
         2026-03-03 09:10  done: make the lost door fittings; left glazed door\n\
         2026-03-04 09:10  left glazed door shows lost knobs\n",
    );
    let of = |what: &str| now.iter().find(|(_, found, _)| found.contains(what));
    assert_eq!(of("escutcheons").expect("told").2, "mended 3 Mar 2026");
    // It is called for once more, and charged.
    let quote = user.run(&["quote", "chest"]).out;
    assert!(!quote.contains("(again)"), "{quote}");
    let plan = user.run(&["plan", "chest"]).out;
    assert!(
        plan.contains("make the lost door fittings: left glazed door"),
        "{plan}"
    );
    let letter = user.run(&["report", "chest", "--json"]).json()["letter"].to_string();
    assert!(
        letter.contains("The left glazed door has lost its knob."),
        "{letter}"
    );
    assert!(!letter.contains("did not hold"), "{letter}");
    // And a sign that was there before the mend is there again.
    let noted = user.works(&["note", "chest", "left glazed door shows lost escutcheons"]);
    assert!(
        noted.contains("lost escutcheons again: it was mended in line 2"),
        "{noted}"
    );
}

/// A check that a mend answers was made by nobody.
#[test]
fn what_was_mended_is_no_check_that_was_made() {
    let user = User::with_chest(
        "job folder: 1\npiece: chest of drawers with 3 drawers\n",
        "",
    );
    user.works(&["note", "chest", "the piece shows flaking paint"]);
    let before = user.works(&["triage", "chest"]);
    assert!(before.contains(" checks 1 are made, and "), "{before}");
    let tick = ["lay down the loose paint", "--took", "2 h", "--anyway"];
    user.run(&[&["done", "chest"], &tick[..]].concat());
    let now = user.works(&["triage", "chest"]);
    let said = " checks 0 are made, 1 is settled by what was mended, and ";
    assert!(now.contains(said), "{now}");
    let found = user.works(&["triage", "chest", "--as-found"]);
    assert!(found.contains(" checks 1 are made, and "), "{found}");
}
