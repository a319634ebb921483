//! Measures that are worked out from others: what they come to, and that they are measures
//! like any other from there on.

use tellmark_compile::check::Checked;
use tellmark_compile::room::Room;
use tellmark_core::piece::{Answer, NotNoted};
use tellmark_core::truth::Truth;
use tellmark_language::model::Ticks;
use tellmark_language::words;
use tellmark_language::{AnswerReader, Level, SourceFile, read};
use tellmark_tests::dice::Dice;
use tellmark_tests::said::{house, share, with_found};

const TABLES: &str = "\
House rules for tables, version 1.
Pieces: table.
Parts: side, board.
A table has two sides (left, right) and 1 to 4 boards (usually 3).
Source house: our own.
You can measure how high a side is, in mm, from 0 to 900.  Reads to: 1 mm
You can measure how wide a board is, in mm, from 0 to 300.  Reads to: 0.5 mm
You can measure how thick a board is, in mm, from 5 to 40.
You can measure how wide a table is, in mm, from 100 to 1200.
You can count the boards of a table.
A table may be twisted without showing it.  On its own: in 2 of 10 cases
Job: level the table.  Takes: 1 hour
";

/// How each measure is worked out, and the same asked for.
const WORKED: [(&str, &str, &str); 6] = [
    (
        "far",
        "out of level",
        "the difference between how high its left side is and how high its right side is",
    ),
    ("far", "boarded", "the sum of how wide its boards are"),
    (
        "far",
        "thick at most",
        "the largest of how thick its boards are",
    ),
    (
        "far",
        "thick at least",
        "the smallest of how thick its boards are",
    ),
    (
        "far",
        "stacked",
        "the sum of how high its left side is and how wide it is",
    ),
    (
        "much",
        "covered",
        "how far it is boarded, as a share of how wide it is",
    ),
];

fn rules(more: &str) -> Checked {
    let worked = WORKED.map(|(word, phrase, how)| {
        format!("How {word} a table is {phrase} is {how}.  On its own: in 3 of 10 cases\n")
    });
    // What is worked out from others may stand before them.
    let mut worked: Vec<String> = worked.to_vec();
    worked.reverse();
    let rules = house(&format!("{TABLES}{}{more}", worked.concat()));
    let stops = rules.reading.messages.iter();
    let stops: Vec<&str> = stops
        .filter(|m| m.level == Level::Stop)
        .map(|m| m.text.as_str())
        .collect();
    assert!(stops.is_empty(), "{stops:?}");
    rules
}

/// What was read, in tenths of a millimetre.
struct Readings {
    sides: [i32; 2],
    boards: Vec<(i32, i32)>,
    wide: i32,
}

impl Readings {
    fn draw(dice: &mut Dice) -> Self {
        let mut up_to = |most: usize| i32::try_from(dice.below(most)).unwrap_or(0);
        let boards = 1 + up_to(4);
        Self {
            sides: [up_to(9_000), up_to(9_000)],
            boards: (0..boards)
                .map(|_| (up_to(3_000), 50 + up_to(350)))
                .collect(),
            wide: 1_000 + up_to(11_000),
        }
    }

    fn notes(&self) -> Vec<String> {
        let mm = |tenths: i32| format!("{}.{} mm", tenths / 10, tenths % 10);
        let mut notes = vec![
            format!("the table has {} boards", self.boards.len()),
            format!("the left side is {} high", mm(self.sides[0])),
            format!("the right side is {} high", mm(self.sides[1])),
            format!("the table is {} wide", mm(self.wide)),
        ];
        for (at, board) in self.boards.iter().enumerate() {
            notes.push(format!("board {} is {} wide", at + 1, mm(board.0)));
            notes.push(format!("board {} is {} thick", at + 1, mm(board.1)));
        }
        notes
    }

    /// The figures by hand, in ticks, in the order of the sentences.
    fn worked_out(&self) -> [Ticks; 6] {
        let ticks = |tenths: i32| tenths * 4_000;
        let wide: i32 = self.boards.iter().map(|b| b.0).sum();
        let thick = self.boards.iter().map(|b| b.1);
        let share = f64::from(wide) * 10_000.0 / f64::from(self.wide);
        #[allow(clippy::cast_possible_truncation)]
        let share = share.round() as i32;
        [
            ticks((self.sides[0] - self.sides[1]).abs()),
            ticks(wide),
            ticks(thick.clone().max().unwrap_or(0)),
            ticks(thick.min().unwrap_or(0)),
            ticks(self.sides[0] + self.wide),
            share,
        ]
    }
}

/// What the pack has for a measure by its words.
fn reading(rules: &Checked, found: &[&str], phrase: &str) -> Option<Ticks> {
    with_found(rules, "table", found, |set_up, _| {
        let mut room = Room::<f64>::default();
        let pack = set_up.built.bytes.open().expect("it opens");
        let case = set_up.case(pack, &mut room).expect("it fits");
        let kind = pack.find_kind("table").expect("tables");
        let ask = pack.find_ask(kind, phrase).expect(phrase);
        match case.inspection.piece().answer(&pack, 0, ask) {
            Some(Answer::Reading(ticks)) => Some(ticks),
            _ => None,
        }
    })
}

#[test]
fn figures_are_as_worked_out_by_hand() {
    let rules = rules("");
    let mut dice = Dice::new(12);
    for _ in 0..200 {
        let readings = Readings::draw(&mut dice);
        let notes = readings.notes();
        let found: Vec<&str> = notes.iter().map(String::as_str).collect();
        for ((_, phrase, how), ticks) in WORKED.iter().zip(readings.worked_out()) {
            assert_eq!(
                reading(&rules, &found, phrase),
                Some(ticks),
                "{how}: {notes:?}"
            );
        }
    }
}

#[test]
fn nothing_is_worked_out_of_what_is_not_there() {
    let rules = rules("");
    let left = "the left side is 700 mm high";
    let right = "the right side is 690 mm high";
    let level = |found: &[&str]| reading(&rules, found, "out of level");
    assert_eq!(level(&[left]), None);
    assert_eq!(level(&[left, right]), Some(400_000));
    assert_eq!(
        level(&[left, right, "cannot measure how high the left side is"]),
        None
    );
    assert_eq!(
        level(&[left, right, "the right side is 700 mm high"]),
        Some(0)
    );
    // Three boards are usual, and one more was counted since.
    let all = "every board is 100 mm wide";
    let boarded = |found: &[&str]| reading(&rules, found, "boarded");
    assert_eq!(boarded(&[all]), Some(12_000_000));
    assert_eq!(
        boarded(&["the table has 4 boards", "board 1 is 10 mm wide"]),
        None
    );
    assert_eq!(boarded(&["the table has 1 board", all]), Some(4_000_000));
    // A share of nothing there is not.
    assert_eq!(reading(&rules, &[all], "covered"), None);
    assert_eq!(
        reading(&rules, &[all, "the table is 600 mm wide"], "covered"),
        Some(5_000)
    );
}

/// A measure that is worked out does what the same measure does if somebody reads the figure
/// off, with the spread that the guide gives.
#[test]
fn it_is_a_measure_like_any_other() {
    let reads = "\
A table counts as crooked when it is out of level at least 20 mm.  On its own: in 1 of 10 cases
If a table is twisted then it is usually crooked.  From: house
";
    let worked = rules(reads);
    // 1 mm each: 1.41421 mm together.
    let asked = house(&format!(
        "{TABLES}You can measure how far a table is out of level, in mm, from 0 to 900.  Reads to: 1.414225 mm  On its own: in 3 of 10 cases\n{reads}"
    ));
    let twisted = "the table is twisted";
    for (left, right) in [(700, 700), (700, 681), (680, 701), (700, 679), (0, 900)] {
        let sides = [
            format!("the left side is {left} mm high"),
            format!("the right side is {right} mm high"),
        ];
        let sides = [sides[0].as_str(), sides[1].as_str()];
        let by_hand = format!("the table is out of level {} mm", i32::abs(left - right));
        let one = share(&worked, "table", &sides, twisted);
        let other = share(&asked, "table", &[&by_hand], twisted);
        assert!((one - other).abs() < 1e-6, "{left}, {right}: {one} {other}");
    }
    let none = share(&worked, "table", &[], twisted);
    assert!((none - 0.2).abs() < 1e-12);
    let back = [
        "the left side is 700 mm high",
        "the right side is 600 mm high",
        "have not measured how high the left side is",
    ];
    assert!((share(&worked, "table", &back, twisted) - 0.2).abs() < 1e-12);
}

#[test]
fn plans_read_it_and_nobody_notes_it() {
    let plan =
        "When a table is covered more than 90 % then plan to level the table.  From: house\n";
    let rules = rules(plan);
    let called = |found: &[&str]| {
        with_found(&rules, "table", found, |set_up, _| {
            let mut room = Room::<f64>::default();
            let pack = set_up.built.bytes.open().expect("it opens");
            let mut case = set_up.case(pack, &mut room).expect("it fits");
            let mut called = Truth::False;
            case.inspection.plans(|call| called = call.truth);
            // Nobody can answer what is worked out.
            let ask = pack.find_ask(pack.find_kind("table").expect("tables"), "covered");
            let noted = case
                .inspection
                .answer(0, ask.expect("asked"), Answer::Reading(1));
            assert_eq!(noted, Err(NotNoted::WrongKind));
            called
        })
    };
    assert_eq!(called(&[]), Truth::NotKnown);
    let rules_model = &rules.reading.model;
    let reader = AnswerReader::new(rules_model);
    let refused = reader
        .facts("the table is covered 12 %")
        .expect_err("worked out");
    assert_eq!(refused.number(), 239);
    let wide = "the table is 310 mm wide";
    let found = ["every board is 100 mm wide", wide];
    with_found(&rules, "table", &found, |set_up, _| {
        let mut room = Room::<f64>::default();
        let pack = set_up.built.bytes.open().expect("it opens");
        let mut case = set_up.case(pack, &mut room).expect("it fits");
        let mut called = Truth::False;
        case.inspection.plans(|call| called = call.truth);
        assert_eq!(called, Truth::True);
        assert_eq!(case.inspection.piece().answered(&pack).count(), 4);
    });
}

#[test]
fn it_is_read_back() {
    let rules = rules("");
    let said: Vec<String> = words::read_back(&rules.reading.model)
        .into_iter()
        .map(|said| said.text)
        .collect();
    for (word, phrase, how) in WORKED {
        let text = format!("How {word} a table is {phrase} is worked out: {how}, from ");
        assert!(
            said.iter().any(|said| said.starts_with(&text)),
            "{text}: {said:#?}"
        );
    }
    let built = rules.built.as_ref().expect("sound");
    assert_eq!(built.bytes.bytes()[20], 3, "the lowest minor version");
}

/// Parts counted anew at the bench: what came from those that are gone is worked out anew.
#[test]
fn parts_counted_anew_are_reckoned_anew() {
    let rules = rules("");
    let found = ["the table has 4 boards", "every board is 100 mm wide"];
    with_found(&rules, "table", &found, |set_up, _| {
        let mut room = Room::<f64>::default();
        let pack = set_up.built.bytes.open().expect("it opens");
        let mut case = set_up.case(pack, &mut room).expect("it fits");
        let kind = |name| pack.find_kind(name).expect(name);
        let ask = pack.find_ask(kind("table"), "boarded").expect("asked");
        let board = kind("board");
        let place = (0..pack.places()).find(|&place| pack.place(place).kind == board);
        let place = place.expect("boards");
        let mut boarded = |number: Option<u8>| {
            if let Some(number) = number {
                let moved = |_: usize, _: Option<usize>| {};
                case.inspection
                    .recount(0, place, number, moved)
                    .expect("it can be");
            }
            case.inspection.piece().answer(&pack, 0, ask)
        };
        assert_eq!(boarded(None), Some(Answer::Reading(16_000_000)));
        assert_eq!(boarded(Some(2)), Some(Answer::Reading(8_000_000)));
        assert_eq!(boarded(Some(3)), Some(Answer::NotLooked));
    });
}

/// What a house says again may not come from what comes from it.
#[test]
fn nothing_comes_from_itself() {
    let file = |name: &str, text: &str, standard| SourceFile {
        name: name.to_owned(),
        text: text.to_owned(),
        standard,
    };
    let sides = "How far a table is out of level is the difference between how high its left side is and how high its right side is.";
    let own = "\
House rules for us, version 1.
How far a table is askew is the sum of how far it is out of level and how wide it is.
How far a table is out of level is the larger of how far it is askew and how wide it is.
";
    let reading = read(vec![
        file("tables.rules.txt", &format!("{TABLES}{sides}\n"), true),
        file("own.rules.txt", own, false),
    ]);
    let stops = reading.messages.iter().filter(|m| m.level == Level::Stop);
    let stops: Vec<&str> = stops.map(|m| m.text.as_str()).collect();
    assert_eq!(
        stops,
        ["\"how far it is askew\" is itself worked out from this."]
    );
}
