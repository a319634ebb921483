//! The complete example of the rule language, from text to chances.

use tellmark_compile::check::{Checked, Depth, check};
use tellmark_language::{Level, SourceFile, read};
use tellmark_tests::said::chance;

fn mill_lane() -> Checked {
    let files = vec![SourceFile {
        name: "mill-lane.rules.txt".to_owned(),
        text: include_str!("packs/mill-lane.rules.txt").to_owned(),
        standard: false,
    }];
    check(read(files), Depth::Full)
}

#[test]
fn it_checks_with_nothing_to_mend_and_its_examples_hold() {
    let checked = mill_lane();
    let stops: Vec<&str> = checked
        .reading
        .messages
        .iter()
        .filter(|m| m.level == Level::Stop)
        .map(|m| m.text.as_str())
        .collect();
    assert_eq!(stops, Vec::<&str>::new());
    assert!(checked.is_sound());
}

/// A hinge is under strain on its own in 1 of 10 cases; a fall without supports
/// usually (8 in 10) strains its hinges: 1 − 0.9 × 0.2 = 0.82.
#[test]
fn a_fall_with_nothing_under_it() {
    let checked = mill_lane();
    let table = "drop-leaf table with 1 fall";
    let found = ["fall 1 has no supports"];
    let strain = "hinge 1 of fall 1 is under strain";
    assert_eq!(chance(&checked, table, &found, strain), 82.0);
    let found = ["fall 1 has 2 supports"];
    assert_eq!(chance(&checked, table, &found, strain), 10.0);
}

/// One loose screw, seen for certain: 0.1 × 0.64 / (0.1 × 0.64 + 0.9 × 0.1) =
/// 0.416. An ordinary look allows for a slip of 1 in 100 and says a little less.
#[test]
fn a_loose_screw_is_a_hint() {
    let checked = mill_lane();
    let table = "drop-leaf table with 1 fall";
    let supports = "fall 1 has 3 supports";
    let strain = "hinge 1 of fall 1 is under strain";
    let certain = "screw 1 of hinge 1 of fall 1 is certainly loose";
    let seen = "screw 1 of hinge 1 of fall 1 is loose";
    assert_eq!(chance(&checked, table, &[supports, certain], strain), 41.6);
    assert_eq!(chance(&checked, table, &[supports, seen], strain), 39.6);
}

/// What has not been looked at is not taken for no.
#[test]
fn a_later_finding_puts_an_earlier_one_right() {
    let checked = mill_lane();
    let table = "drop-leaf table with 1 fall";
    let strain = "hinge 1 of fall 1 is under strain";
    let found = ["fall 1 has no supports", "fall 1 has 2 supports"];
    assert_eq!(chance(&checked, table, &found, strain), 10.0);
}

/// The sentence of the user who asked for all this, as it was written.
#[test]
fn the_first_sentence_of_all_reads_as_written() {
    let pack = include_str!("packs/mill-lane.rules.txt").replace(
        "If a fall has no supports then the hinges are usually under strain.",
        "If a fall has no supports then the hinges are under strain.",
    );
    let files = vec![SourceFile {
        name: "one.rules.txt".to_owned(),
        text: pack,
        standard: false,
    }];
    let checked = check(read(files), Depth::Build);
    let found = ["fall 1 has no supports"];
    let strain = "hinge 1 of fall 1 is under strain";
    let table = "drop-leaf table with 1 fall";
    // No strength word is "always", 99 in 100: 1 − 0.9 × 0.01 = 0.991.
    assert_eq!(chance(&checked, table, &found, strain), 99.1);
}

/// With "0 to 3 supports (usually 2)" too few and too many cannot both be.
#[test]
fn a_count_is_never_short_and_over_at_once() {
    let rules = "House rules for counting, version 1.\nPieces: table.\nParts: support.\n\
                 A table has 0 to 3 supports (usually 1).\nSource house: our own.\n\
                 You can count the supports of a table.  On its own: in 2 of 10 cases\n\
                 A table may be strained without showing it.  On its own: rarely  Missed: 1 hour, risk 1\n\
                 A table may be crowded without showing it.  On its own: rarely  Missed: 1 hour, risk 1\n\
                 A table may be odd without showing it.  On its own: rarely  Missed: 1 hour, risk 1\n\
                 If a table has no supports then it is by definition strained.  From: house\n\
                 If a table has at least 2 supports then it is by definition crowded.  From: house\n\
                 If all of these are true of a table:\n    - it is strained\n    - it is crowded\n    then it is by definition odd.  From: house\n";
    let files = vec![SourceFile {
        name: "counting.rules.txt".to_owned(),
        text: rules.replace("On its own: rarely", "On its own: in 0 of 10 cases"),
        standard: false,
    }];
    let checked = check(read(files), Depth::Build);
    let texts: Vec<_> = checked.reading.messages.iter().map(|m| &m.text).collect();
    assert!(checked.built.is_some(), "{texts:?}");
    assert_eq!(chance(&checked, "table", &[], "the table is odd"), 0.0);
    assert_eq!(
        chance(&checked, "table", &[], "the table is strained"),
        20.0
    );
    // Over what is usual in 2 of 10 cases; of those, none is short.
    assert_eq!(chance(&checked, "table", &[], "the table is crowded"), 20.0);
}
