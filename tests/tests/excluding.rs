//! One of several results, and states of which there is at most one.

use tellmark_language::Level;
use tellmark_tests::said::{house, share};

const BOARDS: &str = "\
House rules for boards, version 1.
Pieces: press.
Parts: board.
A press has two boards.
Source house: our own.
You can ask whether a press is kept in damp air.  On its own: in 3 of 10 cases
You can see whether a board is lifted.      On its own: in 0 of 10 cases
You can see whether a board is blistered.   On its own: in 0 of 10 cases
You can see whether a board is stained.     On its own: in 0 of 10 cases
You can see whether a board is dull.        On its own: in 1 of 10 cases
";

fn close(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-12, "{found}, not {wanted}");
}

#[test]
fn a_rule_with_two_results_brings_about_one_of_them() {
    let rule = "If a board is dull then it is usually lifted or blistered.  From: house\n";
    let rules = house(&format!("{BOARDS}{rule}"));
    let of = |found: &[&str], asked: &str| share(&rules, "press", found, asked);
    let dull = "board 1 is certainly dull";
    close(of(&[dull], "board 1 is lifted"), 0.4);
    close(of(&[dull], "board 1 is blistered"), 0.4);
    // One of them, never both.
    let lifted = "board 1 is certainly lifted";
    close(of(&[dull, lifted], "board 1 is blistered"), 0.0);
    let not_lifted = "board 1 is certainly not lifted";
    close(of(&[dull, not_lifted], "board 1 is blistered"), 0.4 / 0.6);
    // The other board is another matter.
    close(of(&[dull, lifted], "board 2 is blistered"), 0.1 * 0.4);
}

#[test]
fn results_on_parts_are_drawn_for_each_part() {
    let rule =
        "If a press is kept in damp air then its boards are often lifted, blistered or stained.\n";
    let rule = rule.replace(
        "lifted, blistered or stained",
        "lifted or blistered or stained  From: house",
    );
    let rules = house(&format!("{BOARDS}{rule}"));
    let of = |found: &[&str], asked: &str| share(&rules, "press", found, asked);
    let damp = "the press is certainly kept in damp air";
    for state in ["lifted", "blistered", "stained"] {
        close(of(&[damp], &format!("board 1 is {state}")), 0.2);
    }
    let lifted = "board 1 is certainly lifted";
    close(of(&[damp, lifted], "board 1 is stained"), 0.0);
    close(of(&[damp, lifted], "board 2 is stained"), 0.2);
}

const STAINS: &str = "\
House rules for stains, version 1.
Pieces: top.
Source house: our own.
You can see whether a top is dark.      On its own: in 0 of 10 cases
You can smell whether a top is sour.    On its own: in 5 of 10 cases
A top may be stained by ink without showing it.    On its own: in 2 of 10 cases
A top may be stained by iron without showing it.   On its own: in 1 of 10 cases
A top may be burnt without showing it.             On its own: in 4 of 10 cases
If a top is sour then it is usually burnt.               From: house
If a top is sour then it is usually stained by iron.     From: house
If a top is stained by ink then it is by definition dark.   From: house
A top is at most one of stained by ink, stained by iron or burnt.  From: house
";

/// What there are reasons for is so in one case of as many as there are.
#[test]
fn of_states_that_exclude_one_another_one_is_so() {
    let rules = house(STAINS);
    let of = |found: &[&str], asked: &str| share(&rules, "top", found, asked);
    let dry = "the top is certainly not sour";
    let sum = |own: [f64; 3], which: usize| {
        let mut sum = 0.0;
        for world in 0..8_usize {
            let is = |i: usize| world >> i & 1 == 1;
            let chance: f64 = (0..3)
                .map(|i| if is(i) { own[i] } else { 1.0 - own[i] })
                .product();
            if is(which) {
                sum += chance / f64::from(world.count_ones());
            }
        }
        sum
    };
    let asked = [
        "the top is stained by ink",
        "the top is stained by iron",
        "the top is burnt",
    ];
    for (which, asked) in asked.into_iter().enumerate() {
        close(of(&[dry], asked), sum([0.2, 0.1, 0.4], which));
        let sour = sum([0.2, 1.0 - 0.9 * 0.2, 1.0 - 0.6 * 0.2], which);
        close(of(&["the top is certainly sour"], asked), sour);
    }
    // Never two.
    let found = ["the top is stained by ink"];
    close(of(&found, "the top is burnt"), 0.0);
    close(of(&found, "the top is stained by iron"), 0.0);
    close(
        of(&["the top is certainly dark"], "the top is stained by ink"),
        1.0,
    );
    // What brings them about is as likely as before.
    close(of(&[], "the top is sour"), 0.5);
}

/// The order in which they are named does not matter.
#[test]
fn the_order_of_names_does_not_matter() {
    let other = STAINS.replace(
        "stained by ink, stained by iron or burnt",
        "burnt, stained by ink or stained by iron",
    );
    let (rules, other) = (house(STAINS), house(&other));
    for asked in [
        "the top is stained by ink",
        "the top is stained by iron",
        "the top is burnt",
        "the top is dark",
    ] {
        for found in [vec![], vec!["the top is sour"], vec!["the top is not dark"]] {
            close(
                share(&rules, "top", &found, asked),
                share(&other, "top", &found, asked),
            );
        }
    }
}

/// Where it cannot be, it does not keep the others away.
#[test]
fn what_cannot_be_excludes_nothing() {
    let limit = "A top can be burnt only if it is sour.  From: house\n";
    let rules = house(&format!("{STAINS}{limit}"));
    let dry = "the top is certainly not sour";
    let of = |asked: &str| share(&rules, "top", &[dry], asked);
    close(of("the top is burnt"), 0.0);
    close(of("the top is stained by ink"), 0.2 * (0.9 + 0.1 / 2.0));
}

#[test]
fn both_are_read_back() {
    let rule = "If a top is sour then it is often burnt or stained by ink.  From: house\n";
    let rules = house(&format!("{STAINS}{rule}"));
    let messages = &rules.reading.messages;
    assert!(
        messages.iter().all(|m| m.level != Level::Stop),
        "{messages:?}"
    );
    let said = tellmark_language::words::read_back(&rules.reading.model);
    let texts: Vec<&str> = said.iter().map(|said| said.text.as_str()).collect();
    let has = |text: &str| assert!(texts.contains(&text), "{texts:#?}");
    has(
        "For each top: if it is sour, it is often (6 in 10) burnt or stained by ink, each as likely as the next. [house]",
    );
    has(
        "For each top: at most one of these is so: it is stained by ink; it is stained by iron; it is burnt. Where there are reasons for several, it is one of them, each as likely as the next. [house]",
    );
}
