//! Notes, pieces, parts, questions and times in the words of the standard rules.

use super::{Form, Seen, Target, file, words_in};
use std::sync::OnceLock;
use tellmark_job::record::{Says, has_part};
use tellmark_language::model::Model;
use tellmark_language::{AnswerReader, Files, Message, SourceFile, Style, render, words};
use tellmark_tests::screen;

pub(super) const TARGET: Target = Target {
    name: "notes",
    form: Form::Text,
    longest: 600,
    memory: 0,
    run,
    seeds,
    words: dictionary,
};

fn model() -> &'static Model {
    &screen::rules().0.reading.model
}

fn reader() -> &'static AnswerReader<'static> {
    thread_local! {
        static READER: OnceLock<&'static AnswerReader<'static>> = const { OnceLock::new() };
    }
    READER.with(|reader| *reader.get_or_init(|| Box::leak(Box::new(AnswerReader::new(model())))))
}

fn run(input: &[u8], seen: &mut Seen) {
    let text = String::from_utf8_lossy(input);
    let (model, reader) = (model(), reader());
    let order = reader.piece("chest of drawers with 4 drawers");
    let order = order.expect("the standard rules know it");
    for line in text.split('\n').take(12) {
        match reader.facts(line) {
            Ok(facts) => {
                seen.note_size(1, facts.len());
                for fact in &facts {
                    // What is said back is understood, as the same.
                    let said = words::fact_line(model, fact);
                    let again = reader.facts(&said);
                    let again = again.unwrap_or_else(|m| panic!("{line:?}: {said:?}: {}", m.text));
                    assert_eq!(again.len(), 1, "{line:?}: {said:?}");
                    assert_eq!(again[0].found, fact.found, "{line:?}: {said:?}");
                    if let Err(none) = has_part(model, &order, &[], fact) {
                        seen.note(2, 0);
                        assert!(!none.to_string().is_empty());
                    }
                }
            }
            Err(message) => told(&message, line, 3, seen),
        }
        match reader.piece(line) {
            Ok(order) => {
                let said = words::piece_order(model, &order);
                assert_eq!(reader.piece(&said).ok().as_ref(), Some(&order), "{said:?}");
            }
            Err(message) => told(&message, line, 4, seen),
        }
        if let Err(message) = reader.state(line) {
            told(&message, line, 5, seen);
        }
        match reader.part(line) {
            Ok(part) => {
                let said = words::part_name(model, &part);
                let again = reader.part(&said).map(|part| part.steps);
                assert_eq!(again.ok(), Some(part.steps), "{line:?}: {said:?}");
            }
            Err(message) => told(&message, line, 6, seen),
        }
        if let Some(minutes) = reader.time(line) {
            seen.note_size(7, words::minutes(minutes).len());
        }
        if let Some(said) = Says::read(line.trim()) {
            match said {
                Ok(said) => {
                    // What is written down is read again.
                    let written = said.to_string();
                    assert_eq!(Says::read(&written), Some(Ok(said)), "{written:?}");
                    seen.note_words(8, written.split(':').next().unwrap_or_default());
                }
                Err(like) => seen.note_words(9, like),
            }
        }
    }
}

fn told(message: &Message, line: &str, sort: u8, seen: &mut Seen) {
    seen.note(sort, u64::from(message.number()));
    assert!(
        !message.text.is_empty(),
        "message {} is empty",
        message.number()
    );
    let files = Files::from(vec![SourceFile {
        name: "the note".to_owned(),
        text: line.to_owned(),
        standard: false,
    }]);
    assert!(!render(message, &files, Style::Plain).is_empty());
    assert!(
        line.contains(['{', '}']) || !message.said().contains(['{', '}']),
        "message {} has a blank that was not filled in: {}",
        message.number(),
        message.said()
    );
}

fn seeds() -> Vec<Vec<u8>> {
    let mut seeds = Vec::new();
    for job in ["landing-chest", "landing-chest-finished"] {
        let record = file(&format!("tests/jobs/{job}/record.txt"));
        let record = String::from_utf8_lossy(&record).into_owned();
        for line in record.lines() {
            let said = line.split_once("  ").map_or(line, |(_, said)| said);
            seeds.push(said.as_bytes().to_vec());
        }
    }
    for line in [
        "chest of drawers with 4 drawers and 2 locks",
        "drop-leaf table with 2 leaves",
        "cannot see whether hinge 1 of leaf 1 is under strain",
        "cannot see the back; drawer 3 has no lock. drawer 2 is stiff",
        "runner 1 of drawer 2 is worn 1/8 in",
        "1 hour 30 minutes",
        "2.5 hours",
        "the piece looks wet",
    ] {
        seeds.push(line.as_bytes().to_vec());
    }
    seeds
}

pub(super) fn dictionary() -> Vec<Vec<u8>> {
    let mut words = super::rules::dictionary();
    words.extend(words_in(&seeds()));
    words.push(b"\"".to_vec());
    words
}
