//! What an eye judges in degrees: one quantity, one observation, in rules and in notes.

use tellmark_compile::room::Room;
use tellmark_core::piece::Answer;
use tellmark_core::record::Noted;
use tellmark_core::truth::Truth;
use tellmark_language::model::State;
use tellmark_language::words;
use tellmark_language::{AnswerReader, Level, SourceFile, read};
use tellmark_tests::said::{house, share, with_found};
use tellmark_tests::screen::Bencher;

const BOARDS: &str = "\
House rules for boards, version 1.
Pieces: board.
Source house: our own.
You can see how badly a board is lifted: slightly, noticeably or badly.
    Ask: \"Lifted?\"  On its own: in 3 of 10 cases  Slip: 4 in 100
You can see whether a board is damp.  Ask: \"Damp?\"  On its own: in 2 of 10 cases
A board may be unglued without showing it.  On its own: in 2 of 10 cases  Missed: 1 hour, risk 1
If a board is unglued then it is usually badly lifted.  From: house
";

const UNGLUED: &str = "the board is unglued";

fn with(more: &str, found: &[&str], asked: &str) -> f64 {
    share(&house(&format!("{BOARDS}{more}")), "board", found, asked)
}

fn near(one: f64, other: f64) {
    assert!((one - other).abs() < 1e-12, "{one} {other}");
}

/// On its own the degrees share what the sign starts with alike; a reason brings it at
/// least so far.
#[test]
fn degrees_share_the_start_and_a_reason_brings_it_so_far() {
    let alone = ["the board is certainly not unglued"];
    // Two thirds and one third of 0.3, of what is not badly lifted to a thousandth.
    near(with("", &alone, "the board is badly lifted"), 0.1);
    let rest = |share: f64| 0.1 + 0.9 * share;
    near(
        with("", &alone, "the board is at least noticeably lifted"),
        rest(0.111),
    );
    near(with("", &alone, "the board is lifted"), rest(0.222));
    let badly = |found: &[&str]| with("", found, "the board is badly lifted");
    near(badly(&["the board is unglued"]), 1.0 - 0.9 * 0.2);
    near(badly(&[]), 0.8 * 0.1 + 0.2 * 0.82);
}

/// The chance of each degree, "not" first, with and without the fault.
fn degrees(badly: f64) -> [f64; 4] {
    let rest = 1.0 - badly;
    [rest * 0.778, rest * 0.111, rest * 0.111, badly]
}

/// What a judgement makes of the fault, from how likely it is in each degree.
fn worked_out(likely: [f64; 4]) -> f64 {
    let of = |chances: [f64; 4]| -> f64 { chances.iter().zip(likely).map(|(c, l)| c * l).sum() };
    let (with, without) = (0.2 * of(degrees(0.82)), 0.8 * of(degrees(0.1)));
    with / (with + without)
}

#[test]
fn an_answer_is_one_observation_with_one_slip() {
    let step = 0.04 / (2.0 - 0.04);
    let from = |degree: i32| [0, 1, 2, 3].map(|d: i32| f64::powi(step, (d - degree).abs()));
    let unglued = |found: &str| with("", &[found], UNGLUED);
    near(unglued("the board is badly lifted"), worked_out(from(3)));
    near(unglued("the board is slightly lifted"), worked_out(from(1)));
    near(unglued("the board is not lifted"), worked_out(from(0)));
    let some = [0.02, 0.98, 0.98, 0.98];
    near(unglued("the board is lifted"), worked_out(some));
    let at_least = [0.02, 0.02, 0.98, 0.98];
    near(
        unglued("the board is at least noticeably lifted"),
        worked_out(at_least),
    );
    near(
        unglued("the board is more than slightly lifted"),
        worked_out(at_least),
    );
    let less = [0.98, 0.98, 0.98, 0.02];
    near(unglued("the board is not badly lifted"), worked_out(less));
    near(
        unglued("the board is at most noticeably lifted"),
        worked_out(less),
    );
    let looks = [0, 1, 2, 3].map(|d: i32| f64::powi(0.25, (d - 2).abs()));
    near(
        unglued("the board looks noticeably lifted"),
        worked_out(looks),
    );
    near(
        unglued("the board looks lifted"),
        worked_out([1.0, 4.0, 4.0, 4.0]),
    );
    let sure = [0.0, 0.0, 0.0, 1.0];
    near(
        unglued("the board is certainly badly lifted"),
        worked_out(sure),
    );
}

/// The latest judgement counts, however it was put.
#[test]
fn a_later_judgement_takes_the_place_of_an_earlier_one() {
    let last = with("", &["the board is not lifted"], UNGLUED);
    for before in [
        "the board is lifted",
        "the board looks badly lifted",
        "the board is certainly slightly lifted",
    ] {
        near(
            with("", &[before, "the board is not lifted"], UNGLUED),
            last,
        );
    }
    let none = with("", &[], UNGLUED);
    let back = "have not looked how badly the board is lifted";
    near(
        with("", &["the board is badly lifted", back], UNGLUED),
        none,
    );
}

#[test]
fn a_rule_that_only_reads_a_degree_changes_nothing_else() {
    let found: [&[&str]; 5] = [
        &[],
        &["the board is badly lifted"],
        &["the board is slightly lifted"],
        &["the board is lifted"],
        &["the board looks noticeably lifted"],
    ];
    let conditions = [
        "is lifted",
        "is not lifted",
        "is slightly lifted",
        "is at least noticeably lifted",
        "is less than badly lifted",
        "is not badly lifted",
    ];
    for found in found {
        let alone = with("", found, UNGLUED);
        for condition in conditions {
            let rule = format!("If a board {condition} then it is often damp.  From: house\n");
            near(with(&rule, found, UNGLUED), alone);
        }
    }
}

/// The degrees that a condition takes in, "not" first, each noted for certain.
#[test]
fn what_a_condition_takes_in() {
    let noted = [
        "the board is certainly not lifted",
        "the board is certainly slightly lifted",
        "the board is certainly noticeably lifted",
        "the board is certainly badly lifted",
    ];
    let conditions = [
        ("is lifted", [false, true, true, true]),
        ("is not lifted", [true, false, false, false]),
        ("is slightly lifted", [false, true, false, false]),
        ("is noticeably lifted", [false, false, true, false]),
        ("is badly lifted", [false, false, false, true]),
        ("is not badly lifted", [true, true, true, false]),
        ("is at least slightly lifted", [false, true, true, true]),
        ("is at least noticeably lifted", [false, false, true, true]),
        ("is more than slightly lifted", [false, false, true, true]),
        ("is at most slightly lifted", [true, true, false, false]),
        ("is less than badly lifted", [true, true, true, false]),
    ];
    for (condition, so) in conditions {
        let more = format!(
            "If a board {condition} then it is by definition damp.  From: house
             Job: dry the board.  Takes: 1 hour
             When a board {condition} then plan to dry the board.  From: house
"
        );
        let rules = house(&format!("{BOARDS}{}", more.replace("             ", "")));
        for (found, so) in noted.iter().zip(so) {
            let damp = share(&rules, "board", &[found], "the board is damp");
            near(damp, if so { 1.0 } else { 0.2 });
            let called = plan(&rules, &[found]);
            assert_eq!(called, Truth::from(so), "{condition}, {found}");
        }
    }
}

/// Whether the one plan of the rules is called for.
fn plan(rules: &tellmark_compile::check::Checked, found: &[&str]) -> Truth {
    with_found(rules, "board", found, |set_up, _| {
        let mut room = Room::<f64>::default();
        let pack = set_up.built.bytes.open().expect("it opens");
        let mut case = set_up.case(pack, &mut room).expect("it fits");
        let mut called = Truth::False;
        case.inspection.plans(|call| called = call.truth);
        called
    })
}

#[test]
fn what_a_note_leaves_open_is_not_known() {
    let jobs = "Job: dry the board.  Takes: 1 hour\n";
    let plan_when = |condition: &str, found: &[&str]| {
        let when = format!("When a board {condition} then plan to dry the board.  From: house\n");
        plan(&house(&format!("{BOARDS}{jobs}{when}")), found)
    };
    let some = ["the board is lifted"];
    assert_eq!(plan_when("is lifted", &some), Truth::True);
    assert_eq!(plan_when("is slightly lifted", &some), Truth::NotKnown);
    assert_eq!(
        plan_when("is at least noticeably lifted", &some),
        Truth::NotKnown
    );
    assert_eq!(plan_when("is not lifted", &some), Truth::False);
    let less = ["the board is less than noticeably lifted"];
    assert_eq!(plan_when("is badly lifted", &less), Truth::False);
    assert_eq!(
        plan_when("is at most noticeably lifted", &less),
        Truth::True
    );
    assert_eq!(plan_when("is lifted", &less), Truth::NotKnown);
    let looks = ["the board looks badly lifted"];
    assert_eq!(plan_when("is badly lifted", &looks), Truth::NotKnown);
}

/// Where it cannot be lifted at all, it is of no degree, and that is known.
#[test]
fn where_it_cannot_be_it_is_of_no_degree() {
    let more = "\
A board can be lifted only if it is damp.  From: house
Job: dry the board.  Takes: 1 hour
When a board is less than noticeably lifted then plan to dry the board.  From: house
";
    let rules = house(&format!("{BOARDS}{more}"));
    let badly = |found: &[&str]| share(&rules, "board", found, "the board is badly lifted");
    near(
        badly(&["the board is certainly damp"]),
        0.8 * 0.1 + 0.2 * 0.82,
    );
    near(badly(&["the board is certainly not damp"]), 0.0);
    assert_eq!(plan(&rules, &[]), Truth::NotKnown);
    assert_eq!(plan(&rules, &["the board is not damp"]), Truth::True);
}

#[test]
fn what_being_lifted_means_is_kept() {
    let rules = house(
        "\
House rules for meanings, version 1.
Pieces: board.
Source house: our own.
You can see how badly a board is lifted: slightly or badly.  Slip: 4 in 100  On its own: in 1 of 100 cases
A board may be soft without showing it.    On its own: in 2 of 10 cases
A board may be starved without showing it.  On its own: in 1 of 100 cases
If a board is lifted, that usually means it is soft.  From: house
If a board is starved then it is often badly lifted.  From: house
",
    );
    let soft = |found: &str| share(&rules, "board", &[found], "the board is soft");
    assert!((soft("the board is lifted") - 0.8).abs() < 1e-4);
    // Badly lifted may come from something else.
    assert!(soft("the board is badly lifted") < soft("the board is slightly lifted"));
}

/// Of a highest degree the note names the degree: "is badly lifted". What else brings it to
/// lower degrees, and where it can be at all, is counted in.
#[test]
fn what_the_highest_degree_means_is_kept() {
    let text = "\
House rules for meanings, version 1.
Pieces: board.
Source house: our own.
You can see how badly a board is lifted: slightly, noticeably or badly.  Slip: 10 in 100  On its own: in 3 of 100 cases
You can see whether a board is veneered.  On its own: in 6 of 10 cases
You can see whether a board is damp.       On its own: in 3 of 10 cases
A board may be soft without showing it.    On its own: in 2 of 10 cases
A board may be starved without showing it.  On its own: in 5 of 100 cases
If a board is badly lifted, that usually means it is soft.  From: house
If a board is damp then it is usually noticeably lifted.    From: house
If a board is starved then it is sometimes badly lifted.    From: house
";
    let soft = |more: &str| {
        let rules = house(&format!("{text}{more}"));
        share(
            &rules,
            "board",
            &["the board is badly lifted"],
            "the board is soft",
        )
    };
    let only_if = "A board can be lifted only if it is veneered.  From: house\n";
    let read = "\
A board may be split without showing it.  On its own: in 1 of 10 cases
If a board is at least noticeably lifted then it is often split.  From: house
";
    for more in ["", only_if, read, &format!("{only_if}{read}")] {
        let reached = soft(more);
        assert!((reached - 0.8).abs() < 1e-4, "{more}: {reached}");
    }
}

#[test]
fn notes_and_sentences_are_read_back() {
    let rules = house(BOARDS);
    assert!(
        rules
            .reading
            .messages
            .iter()
            .all(|m| m.level != Level::Stop)
    );
    let model = &rules.reading.model;
    let said: Vec<String> = words::read_back(model)
        .into_iter()
        .map(|s| s.text)
        .collect();
    let has = |text: &str| said.iter().any(|said| said.contains(text));
    assert!(has(
        "how badly a board is lifted: slightly, noticeably or badly"
    ));
    assert!(has(
        "if it is unglued, it is usually (8 in 10) badly lifted"
    ));
    let reader = AnswerReader::new(model);
    for note in [
        "the board is lifted",
        "the board is not lifted",
        "the board is slightly lifted",
        "the board is badly lifted",
        "the board is not badly lifted",
        "the board is at least noticeably lifted",
        "the board is less than noticeably lifted",
        "the board looks lifted",
        "the board does not look lifted",
        "the board looks slightly lifted",
        "the board looks at least noticeably lifted",
        "the board does not look badly lifted",
        "the board is certainly lifted",
        "the board is certainly not lifted",
        "the board is certainly noticeably lifted",
        "cannot see how badly the board is lifted",
        "have not looked how badly the board is lifted",
    ] {
        let facts = reader.facts(note).expect(note);
        assert_eq!(words::fact_line(model, &facts[0]), note);
    }
}

/// The bench answers with the number of the degree; a reader of an older pack format
/// refuses the pack.
#[test]
fn the_bench_is_given_the_degrees_to_choose_from() {
    let rules = house(BOARDS);
    let built = rules.built.as_ref().expect("sound");
    assert_eq!(built.bytes.bytes()[20], 3, "the lowest minor version");
    let pack = built.bytes.open().expect("it opens");
    let ask = (0..pack.asks()).map(|ask| pack.ask(ask));
    let ask = ask.into_iter().find(|ask| ask.form.choices().is_some());
    let ask = ask.expect("it is asked");
    let (first, values) = ask.form.choices().expect("degrees");
    let texts: Vec<&str> = (first..first + values)
        .map(|text| pack.text(text))
        .collect();
    let all = [
        "not lifted",
        "slightly lifted",
        "noticeably lifted",
        "badly lifted",
    ];
    assert_eq!(texts, all);
    assert!(Answer::Value(3).fits(ask.form));
    assert!(!Answer::Value(4).fits(ask.form));
    assert!(!Answer::Seen(true).fits(ask.form));
}

/// A judgement of the standard rules, said again.
#[test]
fn a_house_gives_a_judgement_again_in_the_same_degrees() {
    let read = |own: &str| {
        let file = |name: &str, text: &str, standard| SourceFile {
            name: name.to_owned(),
            text: text.to_owned(),
            standard,
        };
        let own = format!("House rules for us, version 1.\n{own}\n");
        read(vec![
            file("boards.rules.txt", BOARDS, true),
            file("own.rules.txt", &own, false),
        ])
    };
    let again = read(
        "You can feel how badly a board is lifted: slightly, noticeably or badly.  On its own: in 6 of 10 cases",
    );
    assert!(again.messages.iter().all(|m| m.level != Level::Stop));
    let chance = |state: &State| state.on_its_own.map(|often| often.chance.0);
    let states = again.model.states.iter();
    let lifted = states.filter(|state| state.phrase.ends_with("lifted"));
    assert!(lifted.clone().count() == 3 && lifted.map(chance).all(|c| c == Some(600)));
    let others = read("You can see how badly a board is lifted: slightly or badly.");
    let stop = others.messages.iter().find(|m| m.level == Level::Stop);
    let stop = stop.expect("a message");
    assert_eq!(stop.number(), 225);
    assert!(
        stop.text.contains("line 4 of boards.rules.txt"),
        "{}",
        stop.text
    );
}

/// The degrees stand in a list; the second key moves down, the third notes.
#[test]
fn a_degree_is_picked_on_the_bench() {
    let round = "To look over a board:\n    1. see how badly the board is lifted\n";
    let rules = house(&format!("{BOARDS}{round}"));
    let built = rules.built.as_ref().expect("sound");
    let pack = built.bytes.open().expect("it opens");
    let mut room = tellmark_device::bench::Room::default();
    let mut bencher = Bencher::new(pack, &mut room);
    bencher.keys("3").keys("3");
    let question = bencher.art();
    bencher.keys("1");
    let list = bencher.art();
    bencher.keys("2 2");
    let chosen = bencher.art();
    insta::assert_snapshot!("degrees", [question, list, chosen].join("\n"));
    bencher.keys("3");
    let noted = bencher.record.iter().rev().find_map(|noted| match noted {
        Noted::Answered { answer, .. } => Some(*answer),
        _ => None,
    });
    assert_eq!(noted, Some(Answer::Value(2)));
}
