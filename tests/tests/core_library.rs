//! The core as a library for others: its examples, and pieces looked over by name.

use tellmark_compile::check::{Depth, check};
use tellmark_compile::room::Room;
use tellmark_core::lookup::What;
use tellmark_core::number::UFloat;
use tellmark_core::pack::{Form, Pack};
use tellmark_core::piece::Answer;
use tellmark_core::survey::{Error, Memory, PackBytes, Said, Survey, Wants};
use tellmark_core::words;
use tellmark_job::house::standard;
use tellmark_language::read;

#[allow(dead_code)] // Its main is the command's.
#[path = "../../core/examples/dates_alone.rs"]
mod dates_alone;
#[allow(dead_code)] // Its main is the command's.
#[path = "../../core/examples/first_look.rs"]
mod first_look;

fn standard_bytes() -> Vec<u8> {
    let checked = check(read(standard()), Depth::Full);
    let built = checked.built.as_ref().expect("the standard rules build");
    built.bytes.bytes().to_vec()
}

fn small_bytes() -> PackBytes {
    PackBytes::copy(include_bytes!("../packs/v1/further.pack")).expect("it fits")
}

fn part_name(pack: &Pack<'_>, parts: &[tellmark_core::piece::Part], part: usize) -> String {
    let mut name = String::new();
    words::part(&mut name, pack, parts, part).expect("strings take all");
    name
}

#[test]
fn the_first_look_says_what_is_likely_and_what_to_check_next() {
    let mut out = Vec::new();
    first_look::first_look(include_bytes!("../packs/v1/further.pack"), &mut out).expect("it runs");
    insta::assert_snapshot!(String::from_utf8(out).expect("text"));
}

#[test]
fn the_first_look_reads_the_standard_rules_too() {
    let mut out = Vec::new();
    first_look::first_look(&standard_bytes(), &mut out).expect("it runs");
    let out = String::from_utf8(out).expect("text");
    assert_eq!(out.lines().count(), 5, "{out}");
    assert!(out.starts_with("Left runner of drawer 2 is probably worn thin ("));
    assert!(out.contains("\nLook next: "), "{out}");
}

#[test]
fn dates_alone_need_no_pack() {
    let mut out = Vec::new();
    dates_alone::dates_alone(&mut out).expect("it runs");
    insta::assert_snapshot!(String::from_utf8(out).expect("text"));
}

/// Everything that can be asked of every part of a chest is answered by name, and
/// every chance is that of a piece answered by numbers.
#[test]
fn names_reach_everything_and_chances_are_the_same_bits() {
    let bytes = standard_bytes();
    let bytes: PackBytes = PackBytes::copy(&bytes).expect("it fits");
    let pack = bytes.open().expect("it opens");
    let mut memory: Box<Memory> = Box::default();
    let mut survey = Survey::begin(
        pack,
        &mut memory,
        "chest of drawers",
        &[("drawers", 3), ("handles of drawer 2", 1)],
    )
    .expect("such a chest");

    let root = pack.find_piece("chest of drawers").expect("a piece");
    let mut room: Room<UFloat> = Room::default();
    let parts = survey.work().parts().to_vec();
    let number = |owner: usize, place: usize| {
        let of = |p: &&tellmark_core::piece::Part| {
            usize::from(p.owner) == owner && usize::from(p.place) == place
        };
        u8::try_from(parts.iter().filter(of).count()).expect("few")
    };
    let mut by_number = room
        .inspection(pack, root, |_, owner, place| number(owner, place))
        .expect("the same piece");

    let mut asked = 0;
    for (part, record) in parts.iter().enumerate() {
        let name = part_name(&pack, &parts, part);
        for (i, number) in pack.asks_of(record.place.into()).enumerate() {
            let ask = pack.ask(usize::from(number));
            // What is asked in the same words as a measure is answered as it.
            if ask.question == 0 || (part + i) % 3 != 0 {
                continue;
            }
            let sign = pack.text(ask.question);
            let (said, answer) = match ask.form {
                Form::Whether => (Said::LooksLikeIt, Answer::Looks(true)),
                Form::Which { first, .. } | Form::Degrees { first, .. } => {
                    (Said::Choice(pack.text(first)), Answer::Value(0))
                }
                Form::HowMuch { least, .. } => {
                    assert!(least <= 120_000);
                    (Said::CannotBeSeen, Answer::CannotSee)
                }
                Form::HowMany { .. } => continue,
            };
            survey
                .answer(&name, sign, said)
                .unwrap_or_else(|e| panic!("{name}, {sign}: {e}"));
            assert_eq!(survey.work().answer(part, number), answer, "{name}, {sign}");
            asked += 1;
        }
    }
    assert!(asked > 80, "{asked}");
    let inspection = survey.work().inspection().expect("it stands");
    for (part, ask, answer) in inspection.piece().answered(&pack) {
        by_number.answer(part, ask, answer).expect("it is asked");
    }
    for (part, record) in parts.iter().enumerate() {
        let name = part_name(&pack, &parts, part);
        for state in pack.states_of(record.place.into()) {
            let phrase = pack.text(pack.state(state.into()).phrase);
            if pack.find_state(record.kind, phrase) != Ok(state) {
                continue;
            }
            let named = survey.chance(&name, phrase).expect("it has a chance");
            let numbered = by_number.chance(part, state).expect("the answers agree");
            assert_eq!(named, numbered, "{name}: {phrase}");
        }
    }
}

/// The usual memory holds every piece of the standard rules as large as people
/// mostly have them.
#[test]
fn the_usual_memory_is_enough_for_the_standard_pieces() {
    let bytes = standard_bytes();
    let bytes: PackBytes = PackBytes::copy(&bytes).expect("it fits");
    let pack = bytes.open().expect("it opens");
    let mut memory: Box<Memory> = Box::default();
    assert!(size_of::<Memory>() <= 200_000, "{}", size_of::<Memory>());
    for (piece, counts) in [
        ("chest of drawers", &[("drawers", 6)][..]),
        ("drop-leaf table", &[("leaves", 2), ("brackets", 2)][..]),
    ] {
        let mut survey = Survey::begin(pack, &mut memory, piece, counts)
            .unwrap_or_else(|error| panic!("{piece}: {error}"));
        assert!(survey.likeliest().expect("no clash").count() > 3);
        assert!(survey.next_check().expect("it fits").is_some());
    }
}

#[test]
fn what_is_wrong_is_said_in_plain_words_and_changes_nothing() {
    let bytes = small_bytes();
    let pack = bytes.open().expect("it opens");
    let mut memory: Memory = Memory::new();
    let mut chest =
        Survey::begin(pack, &mut memory, "chest of drawers", &[("drawers", 4)]).expect("a chest");
    let wrong = [
        ("drawer 2", "stiff", Said::Number(3)),
        ("drawer 2", "stiff", Said::Measure("3 mm")),
        ("drawer 2", "stiff", Said::Choice("oak")),
        ("drawer 9", "stiff", Said::Yes),
        ("left runner", "worn", Said::Measure("3 mm")),
        ("drawer 2", "purple", Said::Yes),
        ("left runner of drawer 2", "worn", Said::Yes),
        ("left runner of drawer 2", "worn", Said::Measure("3 miles")),
        ("left runner of drawer 2", "worn", Said::Measure("3 %")),
        ("left runner of drawer 2", "worn", Said::Measure("16 mm")),
        ("lock 1 of drawer 2", "build", Said::Choice("magnetic")),
        ("lock of drawer 2", "build", Said::Number(1)),
        ("lock 2 of drawer 2", "build", Said::CannotBeSeen),
        ("drawer 2", "locks", Said::Number(2)),
        ("drawer 2", "locks", Said::Yes),
    ];
    let said: Vec<String> = wrong
        .iter()
        .map(|&(part, sign, said)| {
            let error = chest.answer(part, sign, said).expect_err("it is wrong");
            format!("{part}, {sign}, {said:?}\n  {error}")
        })
        .collect();
    insta::assert_snapshot!(said.join("\n"));
    let inspection = chest.work().inspection().expect("it stands");
    assert_eq!(inspection.piece().answered(&pack).count(), 0);

    assert_eq!(
        chest.answer("drawer 2", "stiff", Said::Number(3)),
        Err(Error::WrongKind {
            sign: "stiff",
            wants: Wants::YesOrNo
        })
    );
    let Err(Error::NotKnown(unknown)) = chest.answer("drawer 9", "stiff", Said::Yes) else {
        panic!("there is no drawer 9");
    };
    assert_eq!((unknown.what, unknown.words), (What::Part, "drawer 9"));
}

#[test]
fn what_cannot_be_set_up_is_refused_in_plain_words() {
    let bytes = small_bytes();
    let pack = bytes.open().expect("it opens");
    let mut said = Vec::new();
    for (piece, count) in [
        ("wardrobe", ("drawers", 4)),
        ("chest of drawers", ("wheels", 4)),
        ("chest of drawers", ("drawers", 9)),
        ("chest of drawers", ("handles of drawer 2", 1)),
    ] {
        let mut memory: Memory = Memory::new();
        let error = Survey::begin(pack, &mut memory, piece, &[count]).expect_err("it is wrong");
        said.push(format!("{piece}, {count:?}\n  {error}"));
    }
    let mut small: Memory<16, 64, 64> = Memory::new();
    let error = Survey::begin(pack, &mut small, "chest of drawers", &[]).expect_err("too small");
    said.push(format!("a small memory\n  {error}"));
    let error = PackBytes::<16>::copy(&[0; 65]).expect_err("too long");
    said.push(format!("a long pack\n  {error}"));
    insta::assert_snapshot!(said.join("\n"));
}

#[test]
fn a_number_of_parts_can_be_answered_later_and_an_answer_taken_back() {
    let bytes = small_bytes();
    let pack = bytes.open().expect("it opens");
    let mut memory: Memory = Memory::new();
    let mut chest =
        Survey::begin(pack, &mut memory, "chest of drawers", &[("drawers", 2)]).expect("a chest");
    let before = chest.chance("left runner of drawer 2", "worn hollow");
    chest
        .answer("drawer 2", "is sticking", Said::Yes)
        .expect_err("the pack has no synonyms");
    chest
        .answer("drawer 2", "is stiff", Said::Yes)
        .expect("an answer");
    assert_ne!(
        chest.chance("left runner of drawer 2", "worn hollow"),
        before
    );
    chest
        .answer("drawer 2", "stiff", Said::Nothing)
        .expect("taken back");
    assert_eq!(
        chest.chance("left runner of drawer 2", "worn hollow"),
        before
    );

    let parts = chest.work().parts().len();
    chest
        .answer("drawer 1", "locks", Said::Number(0))
        .expect("no lock");
    assert!(chest.work().parts().len() < parts);
    chest
        .answer("lock of drawer 1", "build", Said::CannotBeSeen)
        .expect_err("it is gone");
    chest
        .answer("runner 2 of drawer 1", "thick", Said::Measure("3/16 in"))
        .expect("a measure");
}
