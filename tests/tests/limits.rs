//! What a pack or the bench unit has no room for is refused with the line that goes past
//! the limit, before anything is built.

use std::fmt::Write as _;

use tellmark_compile::check::{Checked, Depth, check};
use tellmark_compile::ground::Claim;
use tellmark_compile::{Capacity, Problem, TooMuch, build};
use tellmark_language::model::{Asks, Condition, Model, Predicate};
use tellmark_language::{Level, Message, SourceFile, line_of, read};

const HEAD: &str = "House rules for limits, version 1.
Pieces: crate.
Source house: our own notes.
A crate may be rotten without showing it.  On its own: rarely
You can measure how wide a crate is split, in mm, from 0 to 100.  Takes: 2 minutes  On its own: rarely
If a crate is split more than 1 mm wide then it is sometimes rotten.  From: house
";

fn rules(text: &str) -> Checked {
    let files = vec![SourceFile {
        name: "limits.rules.txt".to_owned(),
        text: text.to_owned(),
        standard: false,
    }];
    check(read(files), Depth::Build)
}

/// The one message that says stop, and the words it underlines.
fn refused(text: &str) -> (Message, usize, String) {
    let checked = rules(text);
    assert!(checked.built.is_none());
    let stops: Vec<&Message> = checked
        .reading
        .messages
        .iter()
        .filter(|m| m.level == Level::Stop)
        .collect();
    let texts: Vec<&str> = stops.iter().map(|m| m.text.as_str()).collect();
    let [stop] = stops[..] else {
        panic!("{texts:?}")
    };
    let (_, line) = line_of(&checked.reading.files, stop.at);
    let words = &text[stop.at.start as usize..stop.at.end as usize];
    (stop.clone(), line, words.to_owned())
}

fn fits(text: &str) {
    let checked = rules(text);
    let texts: Vec<&String> = checked.reading.messages.iter().map(|m| &m.text).collect();
    let built = checked.built.unwrap_or_else(|| panic!("{texts:?}"));
    built.bytes.open().expect("it opens");
}

fn marks(number: u32) -> String {
    // One is in the head.
    let mut text = HEAD.to_owned();
    for mm in 2..=number {
        let _ = writeln!(
            text,
            "If a crate is split more than {mm} mm wide then it is sometimes rotten.  From: house"
        );
    }
    text
}

#[test]
fn marks_on_one_measure() {
    fits(&marks(32));
    let text = marks(33);
    let (message, line, words) = refused(&text);
    assert!(message.text.contains("32 marks"), "{}", message.text);
    assert_eq!(line, text.lines().count());
    assert!(words.contains("more than 33 mm"), "{words}");
}

#[test]
fn values_of_one_choice() {
    let choice = |values: usize| {
        let names: Vec<String> = (0..values)
            .map(|i| {
                format!("kind{}", char::from(b'A' + u8::try_from(i % 26).unwrap()))
                    + "x".repeat(i / 26).as_str()
            })
            .collect();
        let (last, others) = names.split_last().unwrap();
        format!(
            "{HEAD}You can see which wood a crate has: {} or {last}.\n",
            others.join(", ")
        )
    };
    fits(&choice(32));
    let (message, line, _) = refused(&choice(33));
    assert!(message.text.contains("33"), "{}", message.text);
    assert_eq!(line, 7);
}

#[test]
fn steps_of_one_round() {
    let round = |steps: usize| {
        let mut text = format!("{HEAD}To look over a crate:\n");
        for i in 1..=steps {
            let _ = writeln!(text, "    {i}. measure how wide the crate is split");
        }
        text
    };
    fits(&round(512));
    let (message, line, words) = refused(&round(513));
    assert!(message.text.contains("512 steps"), "{}", message.text);
    assert_eq!(line, 7 + 513);
    assert!(words.contains("how wide the crate is split"), "{words}");
}

#[test]
fn a_job_that_takes_half_a_year() {
    let job = |hours: usize| {
        format!(
            "{HEAD}Job: mend it.  Takes: 1 to {hours} hours, mostly 2\n\
             When a crate is probably rotten then plan to mend it.  From: house\n"
        )
    };
    fits(&job(1_000));
    let (message, line, _) = refused(&job(1_100));
    assert!(message.text.contains("1100 hours"), "{}", message.text);
    assert!(message.text.contains("1092 hours"), "{}", message.text);
    assert_eq!(line, 7);
}

#[test]
fn a_gauge_that_is_far_out() {
    let gauge = |mm: &str| {
        format!(
            "{HEAD}You can measure how long a crate is cracked, in mm, from 0 to 100.  \
             Reads to: {mm} mm  On its own: rarely\n\
             If a crate is cracked more than 3 mm long then it is sometimes rotten.  From: house\n"
        )
    };
    fits(&gauge("1.6"));
    let (message, line, _) = refused(&gauge("2"));
    assert!(message.text.contains("2 mm"), "{}", message.text);
    assert_eq!(line, 7);
}

#[test]
fn parts_built_into_one_another() {
    let nest = |depth: usize| {
        let names: Vec<String> = (0..depth)
            .map(|i| format!("box{}", char::from(b'a' + u8::try_from(i).unwrap())))
            .collect();
        let mut text = format!(
            "House rules for limits, version 1.\nPieces: {}.\nParts: {}.\n",
            names[0],
            names[1..].join(", ")
        );
        for pair in names.windows(2) {
            let _ = writeln!(text, "A {} has 1 {}.", pair[0], pair[1]);
        }
        text
    };
    fits(&nest(8));
    let (message, line, _) = refused(&nest(9));
    assert!(
        message.text.contains("built into one another"),
        "{}",
        message.text
    );
    assert_eq!(line, 11);
}

#[test]
fn what_is_counted_of_any_piece_is_counted_of_each() {
    let checked = rules(
        "House rules for counting, version 1.
Pieces: crate.
Parts: strap.
A piece has 0 to 3 straps (usually 2).
Source house: our own notes.
You can count the straps of a piece.  Takes: 1 minute  On its own: 1 in 10
A piece may be slack without showing it.  On its own: rarely
If a piece has fewer than 2 straps then it is usually slack.  From: house
",
    );
    let texts: Vec<&String> = checked.reading.messages.iter().map(|m| &m.text).collect();
    let built = checked
        .built
        .as_ref()
        .unwrap_or_else(|| panic!("{texts:?}"));
    let root = built
        .bytes
        .open()
        .expect("it opens")
        .root_of(1)
        .expect("a crate");
    let ground = built.ground(&checked.reading.model, root, |_, _, _| 2);
    let row = |phrase: &str| {
        let states = &built.states.states;
        states.iter().position(|row| row.phrase == phrase)
    };
    let node = |phrase: &str| {
        let row = row(phrase).unwrap_or_else(|| panic!("no {phrase}"));
        ground
            .node(&built.states, &built.places, 0, row)
            .expect("of a piece")
    };
    let causes = &ground.states[node("slack")].causes;
    let few = Claim::State(node("fewer than 2 straps"), true);
    assert!(causes.iter().any(|cause| cause.when == few), "{causes:?}");
}

/// What the compiler says of a model, whoever made it.
fn too_much(text: &str, change: impl FnOnce(&mut Model)) -> TooMuch {
    let mut model = read(vec![SourceFile {
        name: "limits.rules.txt".to_owned(),
        text: text.to_owned(),
        standard: false,
    }])
    .model;
    change(&mut model);
    match build(&model, &|_| String::new()) {
        Err(Problem::TooMuch(much)) => much,
        Err(other) => panic!("{other:?}"),
        Ok(_) => panic!("it was built"),
    }
}

/// What is refused when a house's text is read is refused by the compiler as well.
#[test]
fn the_compiler_refuses_by_itself() {
    let fits = marks(32);
    let ranges = |model: &mut Model| {
        // A range has two ends, and each is told apart.
        let rule = model.rules.last_mut().expect("a rule");
        let Condition::Test(test) = &mut rule.when else {
            panic!("{rule:?}")
        };
        let Predicate::Measure { mark, .. } = &mut test.what else {
            panic!("{test:?}")
        };
        mark.at_most = Some(mark.at_least + 10);
    };
    let much = too_much(&fits, ranges);
    assert_eq!(
        (much.what, much.found, much.most),
        (Capacity::Marks, 33, 32)
    );
    let at = much.at.expect("a sentence");
    let words = &fits[at.start as usize..at.end as usize];
    assert!(words.contains("more than 32 mm"), "{words}");

    let choice = format!("{HEAD}You can see which wood a crate has: oak or elm.\n");
    let much = too_much(&choice, |model| {
        let Asks::Which { values, .. } = &mut model.signs[1].asks else {
            panic!("{:?}", model.signs)
        };
        *values = (0..33).map(|n| format!("wood {n}")).collect();
    });
    assert_eq!(
        (much.what, much.found, much.most),
        (Capacity::Values, 33, 32)
    );

    let much = too_much(HEAD, |model| {
        let Asks::HowMuch { gauge, .. } = &mut model.signs[0].asks else {
            panic!("{:?}", model.signs)
        };
        *gauge = 65_536;
    });
    let (what, found, most) = (much.what, much.found, much.most);
    assert_eq!((what, found, most), (Capacity::Gauge, 65_536, 65_535));

    let round =
        format!("{HEAD}To look over a crate:\n    1. measure how wide the crate is split\n");
    let much = too_much(&round, |model| {
        let step = model.rounds[0].steps[0].clone();
        model.rounds[0].steps = vec![step; 513];
    });
    assert_eq!(
        (much.what, much.found, much.most),
        (Capacity::Steps, 513, 512)
    );

    let much = too_much(
        &format!(
            "{HEAD}Job: mend it.  Takes: 1 hour\n\
             When a crate is probably rotten then plan to mend it.  From: house\n"
        ),
        |model| {
            let when = model.plans[0].when.clone();
            model.plans[0].when = Condition::Any(vec![when; 5_000]);
        },
    );
    assert_eq!((much.what, much.found), (Capacity::Condition, 5_000));
}
