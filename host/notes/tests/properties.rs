//! What holds of every note: exact words read as themselves, order does not matter, any
//! line is understood in good time and without harm.

mod common;

use std::fmt::Write as _;
use std::time::{Duration, Instant};

use common::{model, piece, pieces};
use tellmark_language::model::{
    Asks, Fact, Found, KindId, PIECE, PartRef, PartStep, SignId, StateId, Sure, Which,
};
use tellmark_language::span::Span;
use tellmark_language::words::{fact_line, measured_words, part_name};
use tellmark_language::{AnswerReader, SourceFile, read};
use tellmark_notes::{NoteReader, Scene, What};

/// The first part of a kind, as it is called.
fn part_of(scene: &Scene, kind: KindId) -> Option<PartRef> {
    if kind == PIECE {
        let step = PartStep {
            kind,
            which: Which::Only,
        };
        return Some(PartRef {
            steps: vec![step],
            at: Span::default(),
        });
    }
    let mut parts = scene.every_part().into_iter();
    parts.find(|part| scene.kind_of(part) == Some(kind))
}

/// Everything that can be noted of a piece, each in the exact words.
fn canonical(scene: &Scene) -> Vec<String> {
    let mut lines = Vec::new();
    let mut say = |kind: KindId, found: Found| {
        if let Some(part) = part_of(scene, kind) {
            let at = Span::default();
            lines.push(fact_line(model(), &Fact { part, found, at }));
        }
    };
    for (id, state) in (0..).map(StateId).zip(&model().states) {
        for (yes, sure) in [
            (true, Sure::Ordinary),
            (false, Sure::Ordinary),
            (true, Sure::Looks),
            (true, Sure::Certain),
        ] {
            say(
                state.kind,
                Found::State {
                    state: id,
                    yes,
                    sure,
                },
            );
        }
    }
    for (id, sign) in (0..).map(SignId).zip(&model().signs) {
        say(sign.kind, Found::SignCannotBeSeen(id));
        if let Asks::Which { values, .. } = &sign.asks {
            for (value, _) in (0..).zip(values) {
                say(sign.kind, Found::Choice { sign: id, value });
            }
        }
    }
    for sign in &model().signs {
        if let (Asks::HowMuch { .. }, Some(part)) = (&sign.asks, part_of(scene, sign.kind)) {
            let said = measured_words(&sign.asks, "6 mm", false);
            lines.push(format!("{} {said}", part_name(model(), &part)));
        }
    }
    lines
}

#[test]
fn every_exact_sentence_reads_as_itself() {
    let mut read = 0;
    for (name, piece) in pieces() {
        let exact = AnswerReader::new(model()).about(piece.order.kind);
        for line in canonical(&piece.scene) {
            let Ok(facts) = exact.facts(&line) else {
                continue;
            };
            let understood = piece.reader.read(&piece.scene, &[], &line);
            assert!(understood.is_exact, "{name}: {line}");
            let found: Vec<&Fact> = understood.found().collect();
            assert_eq!(found, facts.iter().collect::<Vec<_>>(), "{name}: {line}");
            read += 1;
        }
    }
    assert!(read > 1500, "{read} sentences");
}

/// What is written down of a line, in order of the alphabet.
fn written(piece: &common::Piece, line: &str) -> Vec<String> {
    let understood = piece.reader.read(&piece.scene, &[], line);
    let mut lines: Vec<String> = understood.found().map(|f| fact_line(model(), f)).collect();
    lines.sort();
    lines
}

#[test]
fn the_order_of_findings_does_not_matter() {
    let notes = [
        "drawer 2 stif",
        "drawer 3 creaks",
        "l/h side split 2mm",
        "back not rattling",
        "top: black rings",
        "foot 2 maybe leaning",
        "lock of drawer 1 missing",
        "handles of drawer 4 loose",
        "piece musty",
        "drawers 1 and 4 sit low",
    ];
    let chest = &pieces()["chest"];
    for one in notes {
        for other in notes {
            let mut apart = written(chest, one);
            apart.extend(written(chest, other));
            apart.sort();
            apart.dedup();
            assert!(!apart.is_empty(), "{one}; {other}");
            for between in ["; ", ". "] {
                let mut together = written(chest, &format!("{one}{between}{other}"));
                together.dedup();
                assert_eq!(together, apart, "{one}{between}{other}");
            }
        }
    }
}

#[test]
fn any_line_is_understood_without_harm() {
    let chest = &pieces()["chest"];
    let bits = [
        "drawer",
        "2",
        "stiff",
        "not",
        "left",
        ",",
        ";",
        "3 mm",
        "no",
        "all but",
        "maybe",
        "the",
        "1/8\"",
        "½",
        "-",
        "4",
        "runner",
        "cracked",
        "?",
        "🪑",
        "can't see",
        "and",
        "top",
    ];
    // A small generator of its own: the same lines each time.
    let mut seed: u64 = 7;
    let mut next = || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        usize::try_from(seed >> 33).unwrap_or(0)
    };
    for _ in 0..3000 {
        let mut line = String::new();
        for _ in 0..next() % 12 {
            let _ = write!(line, "{} ", bits[next() % bits.len()]);
        }
        let understood = chest.reader.read(&chest.scene, &[], &line);
        for heard in &understood.heard {
            assert!(line.get(heard.typed.clone()).is_some(), "{line:?}");
            for dropped in &heard.dropped {
                assert!(line.get(dropped.typed.clone()).is_some(), "{line:?}");
            }
            if let What::Choose(readings) = &heard.what {
                assert!(!readings.is_empty());
            }
        }
    }
}

/// A house with two thousand words, each of its own.
fn large_house() -> Vec<SourceFile> {
    let mut text = String::from("House rules for the large bench, version 1.\nPieces: press.\n");
    let syllables = [
        "ba", "do", "fi", "gul", "ham", "kor", "len", "mip", "nos", "rud",
    ];
    let word = |number: usize| {
        let digits = [
            number / 1000,
            number / 100 % 10,
            number / 10 % 10,
            number % 10,
        ];
        digits.map(|digit| syllables[digit]).concat()
    };
    let parts: Vec<String> = (0..20).map(word).collect();
    let _ = writeln!(text, "Parts: {}.", parts.join(", "));
    for part in &parts {
        let _ = writeln!(text, "A press has 3 {part}s.");
    }
    for number in 20..1000 {
        let part = &parts[number % 20];
        let _ = writeln!(text, "You can see whether a {part} is {}.", word(number));
        let _ = writeln!(
            text,
            "For {} we also say {}.",
            word(number),
            word(number + 1000)
        );
    }
    vec![SourceFile {
        name: "large.rules.txt".to_owned(),
        text,
        standard: false,
    }]
}

#[test]
fn a_note_is_understood_in_good_time() {
    let reading = read(large_house());
    let order = AnswerReader::new(&reading.model)
        .piece("press")
        .expect("a press");
    let scene = Scene::of(&reading.model, &order, &[]);
    let began = Instant::now();
    let reader = NoteReader::new(&reading.model, order.kind);
    let ready = began.elapsed();
    let long = "babababa 2 babadoki, babafidu 3 not babagulba and badobafi; babakorr 1 bahamnoss";
    let began = Instant::now();
    let times = 20;
    for _ in 0..times {
        let _ = reader.read(&scene, &[], long);
    }
    let each = began.elapsed() / times;
    println!("ready in {ready:?}, a long note in {each:?}");
    // Tests are built without most optimisation.
    assert!(
        ready + each < Duration::from_millis(300),
        "{ready:?} {each:?}"
    );
    let chest = piece("chest of drawers with 10 drawers");
    let began = Instant::now();
    for _ in 0..times {
        let _ = chest.reader.read(
            &chest.scene,
            &[],
            "drawers 1-9 stif, creeking; l/h sied split 2mm",
        );
    }
    println!(
        "of the standard rules, a long note in {:?}",
        began.elapsed() / times
    );
}

#[test]
fn a_side_that_is_named_counts_whatever_was_spoken_of_before() {
    let table = &pieces()["table"];
    for (typed, meant) in [
        (
            "right leaf rubs; hinge 2 on left: cracked beside",
            vec![
                "hinge 2 of left leaf is cracked beside",
                "right leaf is rubbing",
            ],
        ),
        (
            "right leaf rubs; bracket on the left is dropping",
            vec![
                "bracket 1 of left leaf is dropping",
                "right leaf is rubbing",
            ],
        ),
        (
            "right leaf rubs; top veneer domed",
            vec!["right leaf is rubbing", "the surface of the top is domed"],
        ),
        (
            "right leaf rubs, left leaf doesn't",
            vec!["left leaf is not rubbing", "right leaf is rubbing"],
        ),
        (
            "right leaf rubs; left one sags",
            vec!["left leaf is sagging", "right leaf is rubbing"],
        ),
    ] {
        assert_eq!(written(table, typed), meant, "{typed}");
    }
}

/// What must never be written down of a note without asking: the wrong part, the wrong
/// side, the wrong way round.
#[test]
fn nothing_dangerous_is_written_without_asking() {
    let chest = &pieces()["chest"];
    let table = &pieces()["table"];
    let one_leaf = piece("drop-leaf table with 1 leaf");
    let mut written_down = String::new();
    for (piece, typed) in [
        (&one_leaf, "right leaf is sagging"),
        (&one_leaf, "right leaf sags"),
        (&one_leaf, "RH leaf sagging"),
        (chest, "drawer 2 dovetails fine"),
        (chest, "dovetails of drawer 2 are good"),
        (chest, "drawer missing"),
        (chest, "dark holes that dont match"),
        (chest, "dark holes in the back which do not go through"),
        (chest, "cant see behind the base"),
        (chest, "can't see inside the lock of drawer 1"),
        (chest, "drawer 7 stiff"),
        (chest, "drawers 3 and 7 stiff"),
        (chest, "left runner of drawers 1 and 9 worn 3mm"),
        (chest, "middle drawer stiff"),
        (chest, "drawer 0 is stiff"),
        (chest, "drawer 2 used to be stiff"),
        (chest, "drawer 2 no longer stiff"),
        (chest, "drawer 2 would be stiff if waxed"),
        (chest, "drawer 2 not not stiff"),
        (chest, "not sure whether drawer 2 is stiff"),
        (chest, "can't see any black rings on top"),
        (chest, "haven't looked at the back"),
        (chest, "didn't check whether drawer 2 is stiff"),
        (chest, "drawer 2 nearly stiff"),
        (chest, "drawer 2 hardly stiff"),
        (chest, "stiff drawer"),
        (chest, "runner worn 3mm"),
        (chest, "left runner worn 3mm"),
        (chest, "drawer 2 left or right runner worn 3mm"),
        (chest, "drawer 2 or 3 stiff"),
        (chest, "one drawer is stiff"),
        (chest, "some drawers stiff"),
        (chest, "most drawers stiff"),
        (chest, "two drawers stiff"),
        (chest, "drawer 2 less stiff than drawer 3"),
        (chest, "drawer 2 stiffer than 3"),
        (chest, "top split 3"),
        (chest, "top split 400mm"),
        (chest, "not all drawers are stiff"),
        (chest, "drawer 2 repaired, was stiff"),
        (chest, "front of drawer 2 split and glued"),
        (chest, "stood on stone floor"),
        (chest, "smells of mice"),
        (chest, "dark in the corners of the top"),
        (chest, "drawer 2 works loose"),
        (chest, "check if drawer 2 is stiff"),
        (chest, "why is drawer 2 stiff"),
        (chest, "make sure drawer 2 is not stiff"),
        (chest, "owner thinks drawer 2 is fine, not stiff"),
        (chest, "bowed"),
        (chest, "lock of drawer 1 not missing"),
        (chest, "black rings gone after cleaning"),
        (chest, "drawer 2 isn't as stiff as 3"),
        (chest, "no drawer stiff but 2"),
        (chest, "top veneer lifting at front edge"),
        (chest, "drawer 2: all handles loose"),
        (chest, "moved 3 weeks ago"),
        (chest, "drawer 1 is stiff or drawer 2 is stiff"),
        (chest, "either drawer 1 is stiff or drawer 2 is stiff"),
        (chest, "drawer 2 is stiff: no"),
        (chest, "handles of drawer 3 one is loose"),
        (chest, "handles of drawer 3, one is loose"),
        (chest, "drawers stiff, some of them"),
        (chest, "top drawers stiff"),
        (chest, "drawer 2 was stiff, now runs fine"),
        (chest, "drawer 2 was stiff but now runs fine"),
        (chest, "drawer 2 was stiff when it came in, now ok"),
        (chest, "drawer 2 was stiff now runs fine"),
        (chest, "mahogany, or maybe walnut"),
        (chest, "mahogany or walnut"),
        (chest, "back daylight: none"),
        (chest, "drawer 3 creaks - no it doesnt"),
        (chest, "drawer 1 creaks, possibly"),
        (chest, "the owner denies it was treated for worm"),
        (chest, "drawer 1 zero creaks"),
        (chest, "drawer 2 stiff since last winter"),
        (table, "walnut top"),
        (table, "left leaf bowed"),
        (table, "hinge loose"),
        (table, "leaf sags"),
        (table, "left leaf replaces sagging one"),
        (table, "left side sagging"),
        (table, "both left leaves sag"),
    ] {
        let lines = written(piece, typed);
        if !lines.is_empty() {
            let _ = writeln!(written_down, "{typed}: {lines:?}");
        }
    }
    assert_eq!(written_down, "");
}

/// "Nor" denies what follows it, and what it hangs on is not forgotten; a "not" before "or"
/// denies all that follow.
#[test]
fn nor_denies_what_follows_it() {
    let chest = &pieces()["chest"];
    for (typed, lines) in [
        ("neither drawer 1 nor drawer 2 is stiff", &[][..]),
        ("drawer 1 is not stiff or drawer 2 is not stiff", &[]),
        (
            "drawer 3 not stiff or scraping",
            &["drawer 3 is not scraping below", "drawer 3 is not stiff"],
        ),
    ] {
        assert_eq!(written(chest, typed), lines, "{typed}");
    }
    let typed = "neither drawer 1 is stiff nor drawer 2 is stiff";
    assert!(written(chest, typed).contains(&"drawer 2 is not stiff".to_owned()));
}

/// Of a desk with drawers and small drawers "drawer 1" is a drawer, and "all drawers" are
/// every one of both.
#[test]
fn a_general_word_is_the_part_that_is_called_so() {
    let text = "House rules for desks, version 1.\nPieces: desk.\n\
         Parts: drawer, small drawer, support, loper.\n\
         A small drawer is a kind of drawer.\nA loper is a kind of support.\n\
         A desk has 3 drawers (from the top), 2 small drawers (from the left) and\n    \
         2 lopers (left, right).\n\
         You can feel whether a drawer is stiff.  On its own: in 1 of 10 cases\n\
         You can feel whether a loper is jammed.  On its own: in 1 of 10 cases\n\
         For stiff we also say sticking.\n";
    let rules = SourceFile {
        name: "desk.rules.txt".to_owned(),
        text: text.to_owned(),
        standard: false,
    };
    let model = &read(vec![rules]).model;
    let order = AnswerReader::new(model).piece("desk").expect("a piece");
    let scene = Scene::of(model, &order, &[]);
    let reader = NoteReader::new(model, order.kind);
    let written = |line: &str| {
        let understood = reader.read(&scene, &[], line);
        let mut lines: Vec<String> = understood.found().map(|f| fact_line(model, f)).collect();
        lines.sort();
        lines
    };
    let all = [1, 2, 3].map(|number| format!("drawer {number} is stiff"));
    let small = [1, 2].map(|number| format!("small drawer {number} is stiff"));
    let all: Vec<&str> = all.iter().chain(&small).map(String::as_str).collect();
    for (typed, lines) in [
        ("drawer 1 sticks", &["drawer 1 is stiff"][..]),
        ("top drawer sticks", &["drawer 1 is stiff"]),
        ("bottom drawer sticks", &["drawer 3 is stiff"]),
        (
            "drawers 1 and 2 stiff",
            &["drawer 1 is stiff", "drawer 2 is stiff"],
        ),
        ("small drawer 2 sticks", &["small drawer 2 is stiff"]),
        ("left support jammed", &["left loper is jammed"]),
        ("all drawers stiff", &all),
    ] {
        assert_eq!(written(typed), lines, "{typed}");
    }
}

/// A line means the same whoever reads it, however their tables happen to lie in memory.
#[test]
fn a_note_is_read_the_same_by_every_reader() {
    let corpus = include_str!("../../../tests/notes/corpus.txt");
    let typed = corpus.lines().filter_map(|line| {
        let (_, said) = line.split_once(": ").filter(|_| line.contains(" => "))?;
        said.split(" => ").next()
    });
    let typed: Vec<&str> = typed.collect();
    assert!(typed.len() > 200, "{}", typed.len());
    let chest = piece("chest of drawers with 4 drawers");
    for _ in 0..3 {
        let other = NoteReader::new(chest.model, chest.order.kind);
        for line in &typed {
            let one = chest.reader.read(&chest.scene, &[], line);
            let again = other.read(&chest.scene, &[], line);
            assert_eq!(format!("{one:?}"), format!("{again:?}"), "{line}");
        }
    }
}

/// A word that is everyday for two things is never one of them without asking, and none of them
/// where it is denied.
#[test]
fn an_everyday_word_of_two_things_is_asked_about() {
    let text = "House rules for chests, version 1.\nPieces: chest.\n\
         You can see whether a chest shows old holes.  On its own: in 1 of 10 cases\n\
         You can see whether a chest shows new holes.  On its own: in 1 of 10 cases\n\
         For old holes we also say woodworm or dark holes.\n\
         For new holes we also say woodworm.\n";
    let rules = SourceFile {
        name: "chest.rules.txt".to_owned(),
        text: text.to_owned(),
        standard: false,
    };
    let read = read(vec![rules]);
    assert!(read.messages.is_empty(), "{:?}", read.messages);
    let model = &read.model;
    let order = AnswerReader::new(model).piece("chest").expect("a piece");
    let scene = Scene::of(model, &order, &[]);
    let reader = NoteReader::new(model, order.kind);
    let offered = |line: &str| -> Vec<Vec<String>> {
        let understood = reader.read(&scene, &[], line);
        assert_eq!(understood.found().count(), 0, "{line}");
        let questions = understood.questions();
        let readings = questions.iter().flat_map(|question| &question.readings);
        let said = readings.map(|one| one.facts.iter().map(|f| fact_line(model, f)).collect());
        said.collect()
    };
    let yes = offered("woodworm");
    assert_eq!(yes[..2].len(), 2);
    for line in ["the chest shows old holes", "the chest shows new holes"] {
        assert!(yes.contains(&vec![line.to_owned()]), "{yes:?}");
    }
    let none = [
        "the chest does not show old holes",
        "the chest does not show new holes",
    ];
    let no = offered("no woodworm");
    let is_both = |said: &Vec<String>| none.iter().all(|line| said.iter().any(|one| one == line));
    assert!(no.iter().any(is_both), "{no:?}");
    let exact = AnswerReader::new(model).facts("the chest shows woodworm");
    assert!(exact.is_err());
    let found = reader.read(&scene, &[], "dark holes");
    assert_eq!(found.found().count(), 1);
}
