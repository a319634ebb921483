//! At the ends of a range several ways of saying a thing mean the same: of up to three
//! supports, "has 3" and "has at least 3". Every chance and every plan is the same then,
//! and what is so over the whole range needs no looking.

use tellmark_compile::room::Room;
use tellmark_core::truth::Truth;
use tellmark_job::advice::{self, Progress};
use tellmark_tests::said::{house, with_found};

/// Rules in which something depends on a clause about a leaf.
fn rules(clause: &str) -> String {
    format!(
        "House rules for the bench of ends, version 1.\n\
         Pieces: table.\n\
         Parts: leaf (plural leaves), support, hinge.\n\
         A table has a leaf.\n\
         A leaf has 0 to 3 supports (usually 1) and 2 to 3 hinges (usually 2).\n\
         You can count the supports of a leaf.\n    On its own: sometimes\n\
         You can count the hinges of a leaf.\n    On its own: sometimes\n\
         You can measure how much a leaf is worn, in mm, from 0 to 15.\n    On its own: sometimes\n\
         You can see whether a leaf is sagging.  On its own: sometimes\n\
         A leaf may be strained without showing it.  On its own: rarely\n\
         If a leaf has at least 2 supports then it is often sagging.  From: house\n\
         If all of these are true of a leaf:\n    - it is sagging\n    - {clause}\n    \
             then it is often strained.  From: house\n\
         Job: look again.  Takes: 1 hour\n\
         When {about} then plan to look again.  From: house\n",
        about = clause.replacen("it ", "a leaf ", 1)
    )
}

/// Everything that follows from rules with this clause, before and after something was
/// found: chances, what is planned, and how long it takes on average.
fn outcome(clause: &str) -> Vec<(Vec<String>, Option<Truth>, f64)> {
    let checked = house(&rules(clause));
    let found = [
        vec![],
        vec!["the leaf is sagging"],
        vec!["the leaf has 3 supports", "the leaf is worn 15 mm"],
        vec!["the leaf has no supports", "the leaf has 2 hinges"],
        vec!["the leaf has 3 hinges", "the leaf is worn 0 mm"],
    ];
    let of = |found: &Vec<&str>| {
        with_found(&checked, "table", found, |set_up, _| {
            let pack = set_up.built.bytes.open().expect("opens");
            let mut room = Room::<f64>::default();
            let mut case = set_up.case(pack, &mut room).expect("set up");
            let mut chances = Vec::new();
            for phrase in ["sagging", "strained"] {
                let mut states = set_up.built.states.states.iter();
                let row = states.position(|row| row.phrase == phrase);
                let row = u16::try_from(row.expect("declared")).expect("few");
                let chance = case.inspection.chance(1, row).expect("no clash").as_f64();
                chances.push(format!("{phrase} {chance:.9}"));
            }
            let called = case.inspection.holds(pack.plan(0).condition, 1);
            let quote = advice::quote(set_up, pack, &Progress::default()).expect("small");
            (chances, called, (quote.mean * 1e9).round())
        })
    };
    found.iter().map(of).collect()
}

#[test]
fn at_the_ends_of_a_range_the_same_is_said_in_several_ways() {
    for same in [
        &[
            "it has 3 supports",
            "it has at least 3 supports",
            "it has more than 2 supports",
        ][..],
        &[
            "it has no supports",
            "it has fewer than 1 support",
            "it has at most 0 supports",
        ],
        &[
            "it has 2 hinges",
            "it has at most 2 hinges",
            "it has fewer than 3 hinges",
        ],
        &[
            "it has 3 hinges",
            "it has at least 3 hinges",
            "it has more than 2 hinges",
        ],
        &["it is worn between 5 and 15 mm", "it is worn at least 5 mm"],
        &["it is worn between 0 and 5 mm", "it is worn at most 5 mm"],
        &[
            "it has at most 3 supports",
            "it has at least 2 hinges",
            "it is worn at least 0 mm",
        ],
    ] {
        let first = outcome(same[0]);
        for other in &same[1..] {
            assert_eq!(outcome(other), first, "{other} / {}", same[0]);
        }
    }
}

#[test]
fn what_is_always_so_needs_no_looking() {
    for always in ["it has at most 3 supports", "it is worn at most 15 mm"] {
        for (_, called, mean) in outcome(always) {
            assert_eq!(called, Some(Truth::True), "{always}");
            assert!((mean - 1e9).abs() < 2.0, "{always}: {mean}");
        }
    }
    let open = outcome("it has 3 supports");
    assert_eq!(open[0].1, Some(Truth::NotKnown));
}
