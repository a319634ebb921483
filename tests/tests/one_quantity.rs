//! A measure is one quantity, and a choice one observation, however many marks and
//! values the rules speak of.

use tellmark_tests::said::{chance, house, share};

/// How damp a base is: softened wood is usually wet, more than 20 %.
const DAMP: &str = "\
House rules for damp, version 1.
Pieces: chest.
Parts: base.
A chest has a base.
Source house: our own.
You can measure how much a base is wetted, in %, from 6 to 60.  Reads to: 2 %  On its own: in 2 of 10 cases
A base counts as wet when it is wetted more than 20 %.  On its own: in 1 of 10 cases
A base may be softened without showing it.  On its own: in 2 of 10 cases  Missed: 1 hour, risk 1
If a base is softened then it is usually wet.  From: house
";

const ASKED: &str = "the base is softened";

fn damp(more: &str, found: &[&str]) -> f64 {
    share(&house(&format!("{DAMP}{more}")), "chest", found, ASKED)
}

#[test]
fn a_mark_that_is_only_read_changes_nothing_else() {
    let signs = "You can see whether a base is dripping.  On its own: in 1 of 10 cases\n";
    let readings: [&[&str]; 6] = [
        &[],
        &["the base is wetted 40 %"],
        &["the base is wetted 22 %"],
        &["the base is wetted 8 %"],
        &["the base is wet"],
        &["the base is wetted 31 %", "the base is not wet"],
    ];
    for found in readings {
        let alone = damp("", found);
        for mark in [8, 14, 19, 21, 22, 30, 41, 59] {
            for percent in ["usually", "sometimes", "by definition"] {
                let rule = format!(
                    "{signs}If a base is wetted more than {mark} % then it is {percent} dripping.  From: house\n"
                );
                let with = damp(&rule, found);
                assert!(
                    (alone - with).abs() < 1e-12,
                    "{found:?}, {mark} %: {alone} {with}"
                );
            }
        }
        let many: String = [8, 14, 19, 22, 30, 41, 59]
            .map(|mark| format!("If a base is wetted more than {mark} % then it is sometimes dripping.  From: house\n"))
            .concat();
        let with = damp(&format!("{signs}{many}"), found);
        assert!((alone - with).abs() < 1e-12, "{found:?}: {alone} {with}");
    }
}

/// 40 % is far over the mark, so that the base is as good as certainly wet: softened in
/// 0.2 × (1 − 0.9 × 0.2), by chance alone in 0.8 × 0.1.
#[test]
fn a_reading_beyond_a_mark_counts_as_the_mark() {
    let expected = 0.2 * 0.82 / (0.2 * 0.82 + 0.8 * 0.1);
    assert!((damp("", &["the base is wetted 40 %"]) - expected).abs() < 1e-9);
}

/// A second name on the measure that nothing brings about only divides it; one that a
/// rule concludes is passed by what passes it.
#[test]
fn a_higher_mark_with_a_name_does_not_explain_the_reading_away() {
    let soaked = "A base counts as soaked when it is wetted more than 30 %.  On its own: in 5 of 100 cases\n";
    let found = ["the base is wetted 40 %"];
    let (alone, with) = (damp("", &found), damp(soaked, &found));
    assert!((alone - with).abs() < 1e-12, "{alone} {with}");
    let soaks = format!("{soaked}If a base is softened then it is usually soaked.  From: house\n");
    let softened = 0.2 * (1.0 - 0.95 * 0.2);
    let expected = softened / (softened + 0.8 * 0.05);
    let with = damp(&soaks, &found);
    assert!((with - expected).abs() < 1e-6, "{with} {expected}");
    // Between the two marks.
    let with = damp(&soaks, &["the base is wetted 25 %"]);
    assert!((0.35..0.45).contains(&with), "{with}");
}

#[test]
fn a_name_seen_by_eye_counts_beside_a_reading() {
    let both = damp(
        "",
        &["the base is wetted 20 %", "the base is certainly wet"],
    );
    let sure = damp("", &["the base is certainly wet"]);
    assert!((both - sure).abs() < 1e-9, "{both} {sure}");
    let other = damp(
        "",
        &["the base is certainly wet", "the base is wetted 20 %"],
    );
    assert!((both - other).abs() < 1e-12);
}

/// More than the least on its own in 2 of 10 cases, and of those as much as there is of
/// the measure above the mark: six marks begin no oftener than one.
#[test]
fn marks_that_are_only_read_start_as_the_measure_does() {
    let rules = |marks: &[i32]| {
        let mut text = "\
House rules for wear, version 1.
Pieces: rail.
Source house: our own.
You can measure how much a rail is worn, in mm, from 0 to 9.  On its own: in 2 of 10 cases
You can see whether a rail is thin.  On its own: in 0 of 10 cases
"
        .to_owned();
        for mark in marks {
            text.push_str(&format!(
                "If a rail is worn at least {mark} mm then it is by definition thin.  From: house\n"
            ));
        }
        chance(&house(&text), "rail", &[], "the rail is thin")
    };
    let at_least_5 = 20.0 * 4.0 / 9.0;
    assert!((rules(&[5]) - at_least_5).abs() < 0.1);
    assert_eq!(rules(&[5]), rules(&[5, 6, 7, 8, 9]));
}

/// A choice is one observation with one slip: other rules about its values change
/// nothing.
#[test]
fn a_choice_is_one_observation() {
    let rules = |more: &str| {
        let text = format!(
            "\
House rules for points, version 1.
Pieces: screw.
Source house: our own.
You can see which point a screw has: blunt, gimlet, cut or flat.  Slip: 4 in 100
You can see whether a screw is odd.  On its own: in 0 of 10 cases
You can see whether a screw is old.  On its own: in 0 of 10 cases
If a screw is gimlet then it is by definition old.  From: house
{more}"
        );
        house(&text)
    };
    let found = ["the screw is gimlet"];
    let one = rules("");
    let alone = share(&one, "screw", &found, "the screw is old");
    assert!((alone - 0.96).abs() < 1e-9, "{alone}");
    for values in ["blunt", "cut", "flat"] {
        let more = format!("If a screw is {values} then it is by definition odd.  From: house\n");
        let with = share(&rules(&more), "screw", &found, "the screw is old");
        assert!((alone - with).abs() < 1e-12, "{values}: {with}");
    }
}

/// Two levels at the same default do not make what lies between them impossible.
#[test]
fn levels_of_one_start_share_the_measure_evenly() {
    let rules = house(
        "\
House rules for rubbing, version 1.
Pieces: trolley.
Source house: our own.
Unless we say otherwise, a sign is there on its own: hardly ever.
You can measure how much a trolley is rubbed, in mm, from 0 to 20.  Reads to: 1 mm
A trolley counts as low when it is rubbed at least 5 mm.
A trolley counts as high when it is rubbed at least 15 mm.
A trolley may be soft without showing it.     On its own: in 2 of 10 cases
A trolley may be brittle without showing it.  On its own: in 1 of 1000 cases
If a trolley is soft then it is usually high.  From: house
If a trolley is brittle then it is sometimes low.  From: house
",
    );
    let high = share(
        &rules,
        "trolley",
        &["the trolley is certainly not soft"],
        "the trolley is high",
    );
    assert!((high - 0.03 * 5.0 / 15.0).abs() < 1e-5, "{high}");
    let found = ["the trolley is rubbed 10 mm"];
    let brittle = share(&rules, "trolley", &found, "the trolley is brittle");
    assert!(brittle < 0.05, "{brittle}");
}

/// Marks that are passed downwards are those that are passed upwards, seen in a mirror.
#[test]
fn falling_marks_are_rising_ones_in_a_mirror() {
    let rules = |way: &str, at: [u32; 6]| {
        let [wet, damp, low, lower, from, to] = at;
        house(&format!(
            "House rules for mirrors, version 1.
Pieces: chest.
Parts: base.
A chest has a base.
Unless we say otherwise, a sign is there on its own: in 1 of 10 cases.
You can measure how much a base is wetted, in %, from 10 to 50.  Reads to: 4 %  On its own: in 2 of 10 cases
You can see whether a base is dripping.
A base counts as wet when it is wetted {way} {wet} %.
A base counts as damp when it is wetted {way} {damp} %.
A base may be softened without showing it.  On its own: in 2 of 10 cases  Missed: 1 hour, risk 1
If a base is softened then it is usually wet.  From: house
If a base is wetted {way} {low} % then it is sometimes dripping.  From: house
If a base is wetted {way} {lower} % then it is often dripping.  From: house
If a base is wetted between {from} and {to} % then it is often dripping.  From: house
"
        ))
    };
    let rising = rules("at least", [40, 33, 30, 13, 36, 42]);
    let falling = rules("at most", [20, 27, 30, 47, 18, 24]);
    for reading in [10, 12, 14, 20, 27, 31, 33, 36, 40, 44, 50] {
        let found = |reading: u32| format!("the base is wetted {reading} %");
        let (up, down) = (found(reading), found(60 - reading));
        for asked in [
            "the base is softened",
            "the base is dripping",
            "the base is wet",
            "the base is damp",
        ] {
            let risen = share(&rising, "chest", &[&up], asked);
            let fallen = share(&falling, "chest", &[&down], asked);
            assert!(
                (risen - fallen).abs() < 1e-12,
                "{up}, {asked}: {risen} {fallen}"
            );
        }
    }
}

/// With no slip an answer settles which value it is, and that it is none of the others.
#[test]
fn a_choice_without_slips_is_exact() {
    let rules = house(
        "House rules for choices, version 1.
Pieces: screw.
You can see which point a screw has: blunt, gimlet or cut.  Slip: 0 in 100
You can see whether a screw is old.  On its own: in 0 of 10 cases
If a screw is gimlet then it is by definition old.  From: house
",
    );
    let old = |found: &str| share(&rules, "screw", &[found], "the screw is old");
    assert_eq!(old("the screw is gimlet"), 1.0);
    assert_eq!(old("the screw is blunt"), 0.0);
    assert_eq!(old("the screw is cut"), 0.0);
}

/// A count that stands at a mark has passed it.
#[test]
fn a_count_at_its_mark_is_at_least_that() {
    let rules = house(
        "House rules for counts, version 1.
Pieces: chest.
Parts: drawer.
A chest has 1 to 5 drawers.
You can count the drawers of a chest.  On its own: in 5 of 10 cases
You can see whether a chest is tall.  On its own: in 0 of 10 cases
If a chest has at least 3 drawers then it is by definition tall.  From: house
",
    );
    let tall = |found: &str| share(&rules, "chest", &[found], "the chest is tall");
    assert_eq!(tall("the chest has 3 drawers"), 1.0);
    assert_eq!(tall("the chest has 4 drawers"), 1.0);
    assert_eq!(tall("the chest has 2 drawers"), 0.0);
}
