//! A house's rules, alone: read, checked with their examples, built, said back, used.

use super::{Form, Seen, Target, file, files, sum, words_in};
use tellmark_compile::check::{Checked, Depth, check};
use tellmark_language::{Level, Reading, SourceFile, Style, record, render, words};
use tellmark_tests::dice::Dice;
use tellmark_tests::kinds::draw;

pub(super) const TARGET: Target = Target {
    name: "rules",
    form: Form::Text,
    longest: 6_000,
    memory: 0,
    run,
    seeds,
    words: dictionary,
};

fn run(input: &[u8], seen: &mut Seen) {
    let text = String::from_utf8_lossy(input).into_owned();
    let house = SourceFile {
        name: "house.rules.txt".to_owned(),
        text,
        standard: false,
    };
    let reading = tellmark_language::read(vec![house]);
    told(&reading, 0, seen);
    let before = reading.messages.len();
    let checked = check(reading, Depth::Full);
    told(&checked.reading, before, seen);
    used(&checked, input, seen);
}

/// Every message can be shown, and says something.
pub(super) fn told(reading: &Reading, from: usize, seen: &mut Seen) {
    let has_braces = reading
        .files
        .iter()
        .any(|file| file.text.contains(['{', '}']));
    for message in reading.messages.iter().skip(from) {
        seen.note(1, u64::from(message.number()));
        if let Some(fix) = &message.fix {
            seen.note(2, u64::from(message.number()) * 2 + u64::from(fix.sure));
        }
        assert!(
            !message.text.is_empty(),
            "message {} is empty",
            message.number()
        );
        let said = message.said();
        assert!(
            has_braces || !said.contains(['{', '}']),
            "message {} has a blank that was not filled in: {said}",
            message.number()
        );
    }
    // Showing a message looks for its line; a file has thousands of lines at most.
    for message in reading.messages.iter().skip(from).take(200) {
        let _ = render(message, &reading.files, Style::Plain).len();
        let _ = render(message, &reading.files, Style::Colour).len();
        let _ = record(message, &reading.files);
    }
}

/// What was understood is said back, and the pack used.
pub(super) fn used(checked: &Checked, input: &[u8], seen: &mut Seen) {
    if checked.count(Level::Stop) > 0 {
        assert!(
            checked.built.is_none(),
            "built although a message says stop"
        );
        return;
    }
    for said in words::read_back(&checked.reading.model) {
        seen.note_words(3, said.about.heading());
        assert!(!said.text.contains("  "), "{:?}", said.text);
    }
    if let Some(built) = &checked.built {
        seen.note(4, 0);
        seen.note_size(5, built.bytes.bytes().len());
        let mut dice = Dice::new(sum(input));
        super::pack::use_up(built.bytes.bytes(), &mut dice, seen);
    }
}

/// The blocks of rules in a text that explains them.
fn blocks(text: &[u8]) -> Vec<Vec<u8>> {
    let text = String::from_utf8_lossy(text).into_owned();
    text.split("```")
        .skip(1)
        .step_by(2)
        .filter_map(|block| block.split_once('\n'))
        .map(|(_, block)| block.as_bytes().to_vec())
        .collect()
}

/// The entries of a file of rules: a line at the edge, and what is moved in under it.
fn entries(text: &[u8]) -> Vec<Vec<u8>> {
    let mut entries: Vec<Vec<u8>> = Vec::new();
    for line in text.split_inclusive(|b| *b == b'\n') {
        match entries.last_mut() {
            Some(entry) if line.starts_with(b" ") => entry.extend_from_slice(line),
            _ => entries.push(line.to_vec()),
        }
    }
    entries
}

pub(super) fn seeds() -> Vec<Vec<u8>> {
    let mut seeds = files("tests/tests/packs", ".rules.txt");
    seeds.extend(files("tests/oracles/packs", ".rules.txt"));
    seeds.extend(files("tests/packs/v1", ".rules.txt"));
    seeds.extend(blocks(&file("README.md")));
    seeds.extend(blocks(&file("rules/LANGUAGE.md")));
    seeds.extend((0..6).map(|seed| draw(seed).with.into_bytes()));
    // Pieces of the standard rules, with the words that they are written in.
    let words = file("rules/words.rules.txt");
    let mut dice = Dice::new(1);
    for text in files("rules", ".rules.txt") {
        let entries = entries(&text);
        for _ in 0..4 {
            let first = dice.below(entries.len());
            let some = entries[first..].iter().take(6);
            let mut seed = words.clone();
            seed.extend(some.flatten());
            seeds.push(seed);
        }
    }
    seeds
}

pub(super) fn dictionary() -> Vec<Vec<u8>> {
    let mut texts = files("rules", ".rules.txt");
    texts.extend(files("tests/tests/packs", ".rules.txt"));
    texts.extend(blocks(&file("rules/LANGUAGE.md")));
    words_in(&texts)
}
