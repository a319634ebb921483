//! Rules too tangled for the bench unit are refused, and the sentence is named
//! whose removal would help most.

use std::fmt::Write as _;

use tellmark_compile::check::{Checked, Depth, check};
use tellmark_language::{Level, SourceFile, Style, read, render};

fn rules(text: &str) -> Checked {
    let files = vec![SourceFile {
        name: "tangled.rules.txt".to_owned(),
        text: text.to_owned(),
        standard: false,
    }];
    check(read(files), Depth::Build)
}

/// A chest whose drawers depend on so many states of it, one by one, and on
/// three more by one sentence.
fn tangle(single: usize) -> String {
    let mut text = String::from(
        "House rules for a tangle, version 1.\n\
         Pieces: chest.\nParts: drawer.\nA chest has 1 to 3 drawers.\n\
         Source house: our own notes.\n\
         Unless we say otherwise, a fault is there on its own: rarely.\n\
         Unless we say otherwise, a sign is there on its own: rarely.\n\
         You can feel whether a drawer is stiff.  Takes: 1 minute\n",
    );
    for i in 0..single + 3 {
        let letter = char::from(b'a' + u8::try_from(i).unwrap_or(0));
        let _ = writeln!(text, "You can see whether a chest is marked {letter}.");
        if i < single {
            let _ = writeln!(
                text,
                "If a chest is marked {letter} then its drawers are sometimes stiff.  From: house"
            );
        }
    }
    let last: Vec<char> = (single..single + 3)
        .map(|i| char::from(b'a' + u8::try_from(i).unwrap_or(0)))
        .collect();
    let _ = writeln!(
        text,
        "If all of these are true of a drawer:\n    - its chest is marked {}\n    - its chest is marked {}\n    - its chest is marked {}\n    then it is often stiff.  From: house",
        last[0], last[1], last[2]
    );
    text
}

#[test]
fn what_fits_is_built() {
    let checked = rules(&tangle(7));
    let texts: Vec<_> = checked.reading.messages.iter().map(|m| &m.text).collect();
    assert!(checked.built.is_some(), "{texts:?}");
    let sizes = &checked.built.as_ref().expect("built").sizes.kinds;
    assert_eq!(sizes[1].interface, 10);
}

#[test]
fn what_does_not_fit_is_refused_by_name() {
    let checked = rules(&tangle(9));
    assert!(checked.built.is_none());
    let stops: Vec<_> = checked
        .reading
        .messages
        .iter()
        .filter(|m| m.level == Level::Stop)
        .collect();
    assert_eq!(stops.len(), 1);
    insta::assert_snapshot!(
        "refused",
        render(stops[0], &checked.reading.files, Style::Plain)
    );
}

/// Faults of a crate, each of which brings about all later ones; with the standard rules.
fn dense(faults: usize) -> Checked {
    let name = |i: usize| {
        let letter = |n: usize| char::from(b'a' + u8::try_from(n).expect("a letter"));
        format!("f{}{}x", letter(i / 26), letter(i % 26))
    };
    let mut text = String::from(
        "House rules for dense things, version 1.\nPieces: crate.\n\
         Source house: our own notes.\n\
         You can see whether a crate is dented.  On its own: rarely\n",
    );
    for i in 0..faults {
        let fault = name(i);
        let _ = writeln!(
            text,
            "A crate may be {fault} without showing it.  On its own: rarely"
        );
    }
    for i in 0..faults {
        for j in i + 1..faults {
            let (one, other) = (name(i), name(j));
            let _ = writeln!(
                text,
                "If a crate is {one} then it is sometimes {other}.  From: house"
            );
        }
    }
    let last = name(faults - 1);
    let _ = writeln!(
        text,
        "If a crate is {last} then it is usually dented.  From: house"
    );
    let mut files = tellmark_job::house::standard();
    files.push(SourceFile {
        name: "dense.rules.txt".to_owned(),
        text,
        standard: false,
    });
    check(read(files), Depth::Build)
}

#[test]
fn dense_rules_are_refused_at_once_by_the_houses_own_sentence() {
    for faults in [17, 40] {
        let start = std::time::Instant::now();
        let checked = dense(faults);
        let took = start.elapsed();
        println!("{faults} faults: refused after {took:?}");
        // A second is meant; a busy machine gets more.
        assert!(took.as_secs() < 20, "{faults} faults took {took:?}");
        let stops: Vec<_> = checked
            .reading
            .messages
            .iter()
            .filter(|m| m.level == Level::Stop)
            .collect();
        assert_eq!(stops.len(), 1, "{faults} faults");
        let file = &checked.reading.files[usize::from(stops[0].at.file.0)];
        assert_eq!(file.name, "dense.rules.txt");
        assert!(stops[0].text.contains("crate"), "{}", stops[0].text);
        let help = stops[0].help.as_deref().unwrap_or_default();
        assert!(help.contains("of dense.rules.txt would help"), "{help}");
    }
}
