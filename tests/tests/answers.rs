//! Job notes, pieces and questions.

use tellmark_language::model::{
    Found, KindId, Model, PIECE, PartStep, SignId, StateId, Sure, Which,
};
use tellmark_language::{AnswerReader, Files, Message, SourceFile, Style};

fn pack(text: &str) -> Model {
    let reading = tellmark_language::read(vec![SourceFile {
        name: "house.rules.txt".to_owned(),
        text: text.to_owned(),
        standard: false,
    }]);
    assert!(reading.is_usable());
    reading.model
}

fn mill_lane() -> Model {
    pack(include_str!("packs/mill-lane.rules.txt"))
}

fn kind(model: &Model, name: &str) -> KindId {
    let index = model.kinds.iter().position(|k| k.name == name);
    KindId(u16::try_from(index.unwrap_or_else(|| panic!("no kind {name}"))).unwrap_or(0))
}

fn state(model: &Model, phrase: &str) -> StateId {
    let index = model.states.iter().position(|s| s.phrase == phrase);
    StateId(u16::try_from(index.unwrap_or_else(|| panic!("no state {phrase}"))).unwrap_or(0))
}

/// The only fact of a note: its part, as kinds and which, and what was found.
fn fact(model: &Model, note: &str) -> (Vec<(String, Which)>, Found) {
    let facts = tellmark_language::read_facts(model, note)
        .unwrap_or_else(|message| panic!("{note}: {}", message.text));
    let [fact] = &facts[..] else {
        panic!("{note}: {} facts", facts.len());
    };
    assert_eq!(
        (fact.at.start, fact.at.end as usize),
        (0, note.len()),
        "{note}"
    );
    let part = fact
        .part
        .steps
        .iter()
        .map(|PartStep { kind, which }| (model.kinds[kind.index()].name.clone(), which.clone()))
        .collect();
    (part, fact.found.clone())
}

fn refused(model: &Model, note: &str) -> (Message, String) {
    match tellmark_language::read_facts(model, note) {
        Ok(facts) => panic!("{note}: {facts:?}"),
        Err(message) => {
            let files = Files::from(vec![SourceFile {
                name: "note".to_owned(),
                text: note.to_owned(),
                standard: false,
            }]);
            let words = tellmark_language::text_of(&files, message.at);
            let _ = tellmark_language::render(&message, &files, Style::Plain);
            (message, words)
        }
    }
}

#[test]
fn states_in_every_form() {
    let model = mill_lane();
    let (stiff, dust) = (state(&model, "stiff"), state(&model, "fresh dust"));
    let cases = [
        ("drawer 2 is stiff", stiff, true, Sure::Ordinary),
        ("drawer 2 is not stiff", stiff, false, Sure::Ordinary),
        ("drawer 2 is certainly stiff", stiff, true, Sure::Certain),
        (
            "drawer 2 is certainly not stiff",
            stiff,
            false,
            Sure::Certain,
        ),
        ("drawer 2 looks stiff", stiff, true, Sure::Looks),
        ("drawer 2 does not look stiff", stiff, false, Sure::Looks),
        (
            "runner 1 of drawer 2 shows fresh dust",
            dust,
            true,
            Sure::Ordinary,
        ),
        (
            "runner 1 of drawer 2 does not show fresh dust",
            dust,
            false,
            Sure::Ordinary,
        ),
        (
            "runner 1 of drawer 2 looks as if it shows fresh dust",
            dust,
            true,
            Sure::Looks,
        ),
        (
            "runner 1 of drawer 2 does not look as if it shows fresh dust",
            dust,
            false,
            Sure::Looks,
        ),
        (
            "hinge 1 of fall 1 is under strain",
            state(&model, "under strain"),
            true,
            Sure::Ordinary,
        ),
    ];
    for (note, state, yes, sure) in cases {
        assert_eq!(
            fact(&model, note).1,
            Found::State { state, yes, sure },
            "{note}"
        );
    }
}

#[test]
fn parts_are_named_from_the_inside_out() {
    let model = mill_lane();
    let part = |note: &str| fact(&model, note).0;
    let step = |name: &str, which| (name.to_owned(), which);
    assert_eq!(
        part("screw 3 of hinge 2 of leaf 1 is loose"),
        [
            step("screw", Which::Number(3)),
            step("hinge", Which::Number(2)),
            step("fall", Which::Number(1))
        ]
    );
    assert_eq!(part("the top cannot be seen"), [step("top", Which::Only)]);
    assert_eq!(
        part("the bottom of drawer 2 is split 2 mm wide"),
        [
            step("bottom", Which::Only),
            step("drawer", Which::Number(2))
        ]
    );
    for note in [
        "every runner of drawer 2 cannot be seen",
        "the runners of drawer 2 cannot be seen",
    ] {
        assert_eq!(
            part(note),
            [
                step("runner", Which::Every),
                step("drawer", Which::Number(2))
            ]
        );
    }
    for note in ["the piece is kept near heating", "it is kept near heating"] {
        assert_eq!(part(note), [step("piece", Which::Only)]);
    }
    assert_eq!(
        part("the chest of drawers is kept near heating"),
        [step("chest of drawers", Which::Only)]
    );
}

#[test]
fn parts_have_names() {
    let model = pack(include_str!("packs/further.rules.txt"));
    let step = |name: &str, which| (name.to_owned(), which);
    assert_eq!(
        fact(&model, "right runner of drawer 2 is worn 3 mm").0,
        [
            step("runner", Which::Named(1)),
            step("drawer", Which::Number(2))
        ]
    );
    let (part, found) = fact(&model, "the left leaf has no bracket");
    assert_eq!(part, [step("leaf", Which::Named(0))]);
    assert_eq!(
        found,
        Found::Count {
            part: kind(&model, "bracket"),
            number: 0
        }
    );
    let (message, words) = refused(&model, "left lock is stiff");
    assert_eq!((message.number(), words.as_str()), (106, "left"));
    assert_eq!(message.text, "There is no lock called \"left\".");
}

#[test]
fn no_part_is_so_means_every_part_is_not() {
    let model = mill_lane();
    let (part, found) = fact(&model, "no drawer is stiff");
    assert_eq!(part, [("drawer".to_owned(), Which::Every)]);
    assert_eq!(
        found,
        Found::State {
            state: state(&model, "stiff"),
            yes: false,
            sure: Sure::Ordinary
        }
    );
    let (_, found) = fact(&model, "no fall has a support");
    assert_eq!(
        found,
        Found::Count {
            part: kind(&model, "support"),
            number: 0
        }
    );
    assert_eq!(refused(&model, "no drawer is not stiff").0.number(), 26);
}

#[test]
fn measures_counts_and_choices() {
    let model = mill_lane();
    let found = |note: &str| fact(&model, note).1;
    assert_eq!(
        found("runner 1 of drawer 2 is worn 3 mm"),
        Found::Measure {
            sign: SignId(6),
            ticks: 120_000
        }
    );
    assert_eq!(
        found("bottom of drawer 2 is split 3/32 in wide"),
        Found::Measure {
            sign: SignId(8),
            ticks: 95_250
        }
    );
    assert_eq!(
        found("fall 1 has 2 lopers"),
        Found::Count {
            part: kind(&model, "support"),
            number: 2
        }
    );
    for note in [
        "point of screw 1 of hinge 1 of fall 1 is gimlet-point",
        "the point of screw 1 of hinge 1 of fall 1 is gimlet-point",
        "screw 1 of hinge 1 of fall 1 is gimlet-point",
    ] {
        assert_eq!(
            found(note),
            Found::Choice {
                sign: SignId(3),
                value: 1
            }
        );
    }
}

#[test]
fn what_cannot_be_seen_and_what_is_taken_back() {
    let model = mill_lane();
    let found = |note: &str| fact(&model, note).1;
    assert_eq!(found("drawer 2 cannot be seen"), Found::PartCannotBeSeen);
    assert_eq!(found("drawer 2 can be seen"), Found::PartCanBeSeen);
    assert_eq!(found("no drawer can be seen"), Found::PartCannotBeSeen);
    for (note, sign) in [
        ("cannot see whether drawer 2 is stiff", 4),
        ("cannot measure how much runner 1 of drawer 2 is worn", 6),
        ("cannot see which point screw 1 of hinge 1 of fall 1 has", 3),
        ("cannot count the lopers of fall 1", 1),
    ] {
        assert_eq!(found(note), Found::SignCannotBeSeen(SignId(sign)), "{note}");
    }
    for (note, sign) in [
        ("have not looked whether drawer 2 is stiff", 4),
        ("have not measured how much runner 1 of drawer 2 is worn", 6),
        ("have not counted the lopers of fall 1", 1),
    ] {
        assert_eq!(found(note), Found::NotLooked(SignId(sign)), "{note}");
    }
    assert_eq!(
        found("have not looked whether hinge 1 of fall 1 is under strain"),
        Found::NotOpened(state(&model, "under strain"))
    );
}

#[test]
fn several_answers_on_a_line() {
    let model = mill_lane();
    let facts = AnswerReader::new(&model).facts("drawer 2 is stiff. drawer 3 is not stiff");
    assert_eq!(facts.map(|f| f.len()), Ok(2));
}

#[test]
fn answers_that_are_refused() {
    let model = mill_lane();
    let cases = [
        ("runer 1 of drawer 2 is worn 3 mm", 1, "runer"),
        ("drawer 2 is stif", 77, "stif"),
        ("drawer 2 is worn 3 mm", 7, "worn"),
        ("runner 1 of drawer 2 is worn 3", 33, "3"),
        ("runner 1 of drawer 2 is worn 30 mm", 34, "30 mm"),
        ("runner 1 of drawer 2 is worn 3 hours", 35, "hours"),
        ("runner 1 of drawer 2 is worn", 80, "worn"),
        ("runner 1 of drawer 2 is fresh dust", 115, "fresh dust"),
        ("fall 1 has 7 lopers", 112, "7 lopers"),
        ("drawer 2 has a screw", 6, "screw"),
        ("drawer is stiff", 106, "drawer"),
        ("drawer 0 is stiff", 106, "drawer 0"),
        ("screw 1 of fall 1 is loose", 125, "screw 1 of fall 1"),
        ("drawer 2 is often stiff", 127, "often"),
        (
            "cannot see whether hinge 1 of fall 1 is under strain",
            126,
            "under strain",
        ),
        ("drawer 2", 118, "2"),
        ("screw 1 of hinge 1 of fall 1 is not blunt", 120, "blunt"),
    ];
    for (note, number, words) in cases {
        let (message, found) = refused(&model, note);
        assert_eq!(
            (message.number(), found.as_str()),
            (number, words),
            "{note}"
        );
        assert!(!message.text.contains('{'), "{}", message.text);
        assert!(message.also.is_empty());
    }
    assert_eq!(refused(&model, "").0.number(), 78);
    let (message, _) = refused(&model, "runner 1 of drawer 2 is worn 30 mm");
    assert_eq!(
        message.text,
        "30 mm is outside the 0 to 15 mm given for how much a runner is worn (the house's rules)."
    );
}

#[test]
fn pieces_are_ordered_with_counts() {
    let model = mill_lane();
    let order = tellmark_language::read_piece(&model, "a chest of drawers with 4 drawers")
        .unwrap_or_else(|m| panic!("{}", m.text));
    assert_eq!(order.kind, kind(&model, "chest of drawers"));
    assert_eq!(order.counts, [(kind(&model, "drawer"), 4)]);
    let order = tellmark_language::read_piece(
        &model,
        "drop-leaf table with 2 leaves, no lopers and 3 hinges",
    )
    .unwrap_or_else(|m| panic!("{}", m.text));
    assert_eq!(
        order.counts,
        [
            (kind(&model, "fall"), 2),
            (kind(&model, "support"), 0),
            (kind(&model, "hinge"), 3)
        ]
    );
    for (text, number) in [
        ("chest of drawers with 12 drawers", 112),
        ("chest of drawers with 2 hinges", 6),
        ("chest of drwers", 1),
        ("drawer", 108),
        ("piece", 108),
        ("chest of drawers with", 118),
        ("chest of drawers with 3 drawers and 4 drawers", 107),
    ] {
        let message = tellmark_language::read_piece(&model, text).err();
        assert_eq!(message.map(|m| m.number()), Some(number), "{text}");
    }
}

#[test]
fn questions_name_a_part_and_a_state() {
    let model = mill_lane();
    let (part, found) = tellmark_language::read_state(&model, "hinge 1 of fall 1 is under strain")
        .unwrap_or_else(|m| panic!("{}", m.text));
    assert_eq!(part.steps.len(), 2);
    assert_eq!(found, state(&model, "under strain"));
    let (part, _) = tellmark_language::read_state(&model, "the piece is kept near heating")
        .unwrap_or_else(|m| panic!("{}", m.text));
    assert_eq!(part.steps[0].kind, PIECE);
    for text in [
        "drawer 2 is not stiff",
        "runner 1 of drawer 2 is worn 2 mm",
        "cannot see whether drawer 2 is stiff",
        "",
    ] {
        assert!(
            tellmark_language::read_state(&model, text).is_err(),
            "{text}"
        );
    }
}

#[test]
fn a_time_may_begin_with_a_fraction() {
    let model = mill_lane();
    let reader = AnswerReader::new(&model);
    assert_eq!(reader.time("1 1/2 hours"), Some(90));
    assert_eq!(reader.time("1½ hours"), Some(90));
    assert_eq!(reader.time("½ hour"), Some(30));
}
