//! Sentences that break off: every sentence of the standard rules and of the
//! guide, cut after every word and at every character, is read without harm.

use std::fmt::Write as _;
use std::time::{Duration, Instant};

use tellmark_language::{Reading, SourceFile, Style};

const GUIDE: &str = include_str!("../../rules/LANGUAGE.md");

fn file(name: &str, text: String, standard: bool) -> SourceFile {
    SourceFile {
        name: name.to_owned(),
        text,
        standard,
    }
}

/// The rules of the guide.
fn guide() -> String {
    GUIDE
        .split("```rules\n")
        .skip(1)
        .filter_map(|block| block.split("```").next())
        .collect()
}

/// The standard rules.
fn standard() -> String {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../rules");
    let mut all = String::new();
    let Ok(files) = std::fs::read_dir(folder) else {
        panic!("no folder {folder}");
    };
    let mut paths: Vec<_> = files.flatten().map(|file| file.path()).collect();
    paths.sort();
    for path in paths {
        if path.to_string_lossy().ends_with(".rules.txt") {
            all.push_str(&std::fs::read_to_string(path).unwrap_or_default());
            all.push('\n');
        }
    }
    all
}

/// The entries of a file, without its remarks.
fn entries(text: &str) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for line in text.lines() {
        if line.trim().is_empty() || line.starts_with('#') {
            continue;
        }
        match all.last_mut() {
            Some(entry) if line.starts_with(char::is_whitespace) => {
                let _ = write!(entry, "\n{line}");
            }
            _ => all.push(line.to_owned()),
        }
    }
    all
}

/// Where a text can be cut: after every word, and at every character.
fn cuts(text: &str, words: bool) -> Vec<usize> {
    text.char_indices()
        .map(|(at, _)| at)
        .filter(|&at| {
            let ends_word = text[at..].starts_with(|c: char| !c.is_alphanumeric());
            at > 0 && (!words || ends_word)
        })
        .collect()
}

/// Everything that is said can be shown.
fn shown(reading: &Reading) -> usize {
    reading
        .messages
        .iter()
        .map(|m| tellmark_language::render(m, &reading.files, Style::Plain).len())
        .sum()
}

/// Reads `sound` together with every entry cut at its nth place, for every n: a
/// broken entry never spoils the next, so all of them are cut at once.
fn read_cut(sound: &str, entries: &[String], words: bool, before: &str) {
    let places: Vec<Vec<usize>> = entries.iter().map(|e| cuts(e, words)).collect();
    let most = places.iter().map(Vec::len).max().unwrap_or(0);
    let mut said = 0;
    for nth in 0..most {
        let mut text = String::new();
        for (entry, places) in entries.iter().zip(&places) {
            if let Some(&at) = places.get(nth) {
                let _ = writeln!(text, "{before}{}", &entry[..at]);
            }
        }
        let reading = tellmark_language::read(vec![
            file("sound.rules.txt", sound.to_owned(), true),
            file("cut.rules.txt", text, false),
        ]);
        said += usize::from(shown(&reading) > 0);
    }
    // A few of the longest are sound where they are cut.
    assert!(said * 10 > most * 9, "{said} of {most} cuts are told of");
}

#[test]
fn sentences_of_the_guide_cut_anywhere_are_read_without_harm() {
    let guide = guide();
    let began = Instant::now();
    read_cut(&guide, &entries(&guide), false, "");
    read_cut(
        &guide,
        &entries(&guide),
        true,
        "Instead of worn runner drags, ",
    );
    assert!(began.elapsed() < Duration::from_secs(300), "{began:?}");
}

#[test]
fn standard_sentences_cut_after_any_word_are_read_without_harm() {
    let standard = standard();
    let began = Instant::now();
    read_cut(&guide(), &entries(&standard), true, "");
    assert!(began.elapsed() < Duration::from_secs(300), "{began:?}");
}

#[test]
fn instead_of_a_sentence_nothing() {
    for text in [
        "Instead of r,",
        "Instead of worn runner drags,",
        "Instead of worn runner drags,.",
        "Instead of worn runner drags,\n    # later",
    ] {
        let reading =
            tellmark_language::read(vec![file("house.rules.txt", text.to_owned(), false)]);
        let said: Vec<u16> = reading.messages.iter().map(|m| m.number()).collect();
        assert!(said.contains(&118), "{text:?}: {said:?}");
    }
}

/// What is said of a file takes time in proportion to how much there is to say:
/// what is wrong with one line of it is looked for in none of the others.
#[test]
fn very_many_slips_are_told_of_in_time() {
    let sorts: [fn(usize) -> String; 8] = [
        |_| "If a hinge is wobbly then its screws are oftn loose.\n".to_owned(),
        |i| format!("If a drawer is stif{i} then it is usually creakng{i}.  From: house\n"),
        |i| {
            format!(
                "Instead of nothing {i}, if a drawer is stiff then its runners are often worn hollow.  From: house\n"
            )
        },
        |i| format!("Leave out worn runner drag {i}, because of us.\n"),
        |i| format!("When a drawer is stiff then plan to dance {i} times.  From: house\n"),
        |i| format!("If a drawer is stiff then its runners are often worn hollow.  From: bok{i}\n"),
        |_| {
            "If a drawer is stiff then its runners are often worn hollow.  From: house  Called: x\n"
                .to_owned()
        },
        |i| {
            format!(
                "You can feel whether a drawer is odd{i}.\nIf a drawer is odb{i} then its runners are often worn hollow.  From: house\n"
            )
        },
    ];
    const MANY: usize = 10_000;
    for sort in sorts {
        let slips: String = (0..MANY).map(sort).collect();
        let began = Instant::now();
        let reading = tellmark_language::read(vec![
            file("sound.rules.txt", guide(), true),
            file("slips.rules.txt", slips, false),
        ]);
        assert!(reading.messages.len() >= MANY - 1, "{}", sort(0));
        assert!(shown(&reading) > 500_000);
        let lines: usize = reading
            .messages
            .iter()
            .map(|m| tellmark_language::record(m, &reading.files).line)
            .sum();
        assert!(lines > MANY);
        // Where every line is compared with every other, a minute is not enough.
        assert!(
            began.elapsed() < Duration::from_secs(55),
            "{}: {began:?}",
            sort(0)
        );
    }
}
