//! `A … can be … only if …`, and what a choice usually is.

use tellmark_compile::room::Room;
use tellmark_core::truth::Truth;
use tellmark_language::{AnswerReader, Level};
use tellmark_tests::said::{chance, house, share, with_found};

const BOARDS: &str = "\
House rules for boards, version 1.
Pieces: board.
Source house: our own.
You can see whether a board is veneered.  Ask: \"Veneered?\"  On its own: in 4 of 10 cases
You can see whether a board is domed.  Ask: \"Blister?\"  On its own: in 1 of 10 cases
You can see which cut a board has: sawn, sliced or peeled.  Usually: sliced
A board may be loose below without showing it.  On its own: in 2 of 10 cases  Missed: 1 hour, risk 1
A board can be loose below only if it is veneered.  From: house
";

#[test]
fn where_it_cannot_be_it_has_no_chance() {
    let rules = house(BOARDS);
    let loose = |found: &[&str]| share(&rules, "board", found, "the board is loose below");
    assert!((loose(&[]) - 0.4 * 0.2).abs() < 1e-12);
    assert!((loose(&["the board is certainly veneered"]) - 0.2).abs() < 1e-12);
    assert!(loose(&["the board is certainly not veneered"]) == 0.0);
    // An ordinary answer may be a slip, and no more than that is left.
    let veneered = 0.4 * 0.01 / (0.4 * 0.01 + 0.6 * 0.99);
    assert!((loose(&["the board is not veneered"]) - 0.2 * veneered).abs() < 1e-12);
}

#[test]
fn rules_and_meanings_count_only_where_it_can_be() {
    let reasons = "\
You can ask whether a board is kept in damp air.  On its own: in 3 of 10 cases
If a board is kept in damp air then it is usually loose below.  From: house
";
    let rules = house(&format!("{BOARDS}{reasons}"));
    let loose = |found: &[&str]| share(&rules, "board", found, "the board is loose below");
    let damp = "the board is certainly kept in damp air";
    let open = loose(&[damp, "the board is certainly veneered"]);
    assert!((open - (1.0 - 0.8 * 0.2)).abs() < 1e-12);
    assert!(loose(&[damp, "the board is certainly not veneered"]) == 0.0);
    assert!((loose(&[damp]) - 0.4 * open).abs() < 1e-12);
}

/// A sign that can be only where the fault can: of boards on which a restorer says yes
/// to it, the fault is there as often as the sentence says, whatever else.
#[test]
fn what_a_sign_means_is_kept_where_both_can_be() {
    let means = "\
A board can be domed only if it is veneered.  From: house
If a board is domed, that usually means it is loose below.  From: house
";
    let rules = house(&format!("{BOARDS}{means}"));
    let domed = ["the board is domed"];
    assert_eq!(
        chance(&rules, "board", &domed, "the board is loose below"),
        80.0
    );
    let veneered = share(&rules, "board", &domed, "the board is veneered");
    assert!(veneered > 0.9, "{veneered}");
}

#[test]
fn several_must_all_be_so() {
    let more = "\
You can see whether a board is panelled.  On its own: in 5 of 10 cases
A board can be loose below only if it is not panelled.  From: house
";
    let rules = house(&format!("{BOARDS}{more}"));
    let loose = |found: &[&str]| share(&rules, "board", found, "the board is loose below");
    assert!((loose(&[]) - 0.4 * 0.5 * 0.2).abs() < 1e-12);
    assert!(loose(&["the board is certainly panelled"]) == 0.0);
}

/// Two in ten are shared by the two that are not usual.
#[test]
fn the_usual_value_is_likelier_and_an_answer_counts_once() {
    let reads = "\
You can see whether a board is early.  On its own: in 0 of 10 cases
If a board is sawn then it is by definition early.  From: house
";
    let rules = house(&format!("{BOARDS}{reads}"));
    let early = |found: &[&str]| share(&rules, "board", found, "the board is early");
    assert!((early(&[]) - 0.1).abs() < 1e-12);
    let right = 0.1 * 0.99;
    let sawn = right / (right + (0.8 + 0.1) * 0.005);
    assert!((early(&["the board is sawn"]) - sawn).abs() < 1e-12);
    let peeled = 0.1 * 0.005 / (0.1 * 0.99 + (0.1 + 0.8) * 0.005);
    assert!((early(&["the board is peeled"]) - peeled).abs() < 1e-12);
}

#[test]
fn it_is_read_back() {
    let rules = house(BOARDS);
    let messages = &rules.reading.messages;
    assert!(messages.iter().all(|m| m.level != Level::Stop));
    let said = tellmark_language::words::read_back(&rules.reading.model);
    let only_if = said.iter().find(|said| said.text.contains("only if"));
    assert_eq!(
        only_if.map(|said| said.text.as_str()),
        Some("For each board: it can be loose below only if it is veneered. [house]")
    );
    let sign = said.iter().find(|said| said.text.contains("which cut"));
    let text = sign.map_or("", |said| said.text.as_str());
    assert!(text.contains("it is sliced 8 in 10"), "{text}");
    assert!(
        AnswerReader::new(&rules.reading.model)
            .state("the board is domed")
            .is_ok()
    );
}

/// What cannot be is not asked for, planned or reckoned, however far back that is known.
#[test]
fn what_cannot_be_is_known_not_to_be() {
    let rules = house(
        "\
House rules for trolleys, version 1.
Pieces: trolley.
Parts: rail, pin.
A trolley has two rails.
A rail has two pins.
Source house: our own.
You can see whether a trolley is soft.  Ask: \"Soft?\"  On its own: in 2 of 10 cases
You can see whether a rail is grey.     Ask: \"Grey?\"  On its own: in 2 of 10 cases
You can see whether a pin is odd.       Ask: \"Odd?\"   On its own: in 2 of 10 cases
A rail can be grey only if its trolley is soft.  From: house
A pin can be odd only if its rail is grey.       From: house
Job: swap the pin.  Takes: 10 minutes
When a pin is odd then plan to swap the pin.  From: house
When a pin is not odd then plan to keep the pin.  Takes: 1 minute  From: house
",
    );
    let calls = |found: &[&str]| -> Vec<Truth> {
        with_found(&rules, "trolley", found, |set_up, _| {
            let mut room = Room::<f64>::default();
            let pack = set_up.built.bytes.open().expect("it opens");
            let mut case = set_up.case(pack, &mut room).expect("it fits");
            let mut plans = vec![Truth::False; 2];
            case.inspection
                .plans(|call| plans[call.sentence] = call.truth);
            plans
        })
    };
    assert_eq!(calls(&[]), [Truth::NotKnown; 2]);
    assert_eq!(
        calls(&["the trolley is not soft"]),
        [Truth::False, Truth::True]
    );
}
