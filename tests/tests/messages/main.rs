//! Every message that reading can give: a small change to a sound pack raises
//! it, alone, with these words underlined.

mod further;
mod last;
mod number;
mod reference;
mod shape;
mod words;
mod work;

use std::collections::HashSet;

use tellmark_language::message::{Wording, wordings};
use tellmark_language::{Level, Message, SourceFile, Style};

/// A change to the sound pack.
pub enum Edit {
    /// More at the end.
    Add(&'static str),
    /// Words put for other words.
    Put(&'static [(&'static str, &'static str)]),
    /// More at the front.
    Front(&'static str),
}

/// A mistake and what is said about it.
pub struct Case {
    /// What is wrong.
    pub name: &'static str,
    /// The message.
    pub number: u16,
    /// Its level.
    pub level: Level,
    /// What is done to the pack.
    pub edit: Edit,
    /// The words underlined.
    pub words: &'static str,
    /// What it says.
    pub text: &'static str,
    /// What it says to do.
    pub help: Option<&'static str>,
}

const MILL_LANE: &str = include_str!("../packs/mill-lane.rules.txt");

fn all_cases() -> impl Iterator<Item = &'static Case> {
    words::CASES
        .iter()
        .chain(shape::CASES)
        .chain(reference::CASES)
        .chain(number::CASES)
        .chain(work::CASES)
        .chain(further::CASES)
        .chain(last::CASES)
}

fn edited(edit: &Edit) -> String {
    match edit {
        Edit::Add(more) => format!("{MILL_LANE}{more}\n"),
        Edit::Front(more) => format!("{more}{MILL_LANE}"),
        Edit::Put(changes) => {
            let mut text = MILL_LANE.to_owned();
            for (old, new) in *changes {
                assert!(text.contains(old), "{old:?} is not in the pack");
                text = text.replacen(old, new, 1);
            }
            text
        }
    }
}

fn read(text: String) -> tellmark_language::Reading {
    tellmark_language::read(vec![SourceFile {
        name: "mill-lane.rules.txt".to_owned(),
        text,
        standard: false,
    }])
}

#[test]
fn each_mistake_has_its_message_and_no_other() {
    for case in all_cases() {
        let reading = read(edited(&case.edit));
        let shown: String = reading
            .messages
            .iter()
            .map(|m| tellmark_language::render(m, &reading.files, Style::Plain))
            .collect();
        assert_eq!(reading.messages.len(), 1, "{}:\n{shown}", case.name);
        let message = &reading.messages[0];
        let words = tellmark_language::text_of(&reading.files, message.at);
        assert_eq!(
            (message.number(), message.level),
            (case.number, case.level),
            "{}",
            case.name
        );
        assert_eq!(words, case.words, "{}", case.name);
        assert_eq!(message.text, case.text, "{}", case.name);
        assert_eq!(message.help.as_deref(), case.help, "{}", case.name);
    }
}

#[test]
fn a_sure_change_puts_it_right() {
    let mut made = 0;
    for case in all_cases() {
        let text = edited(&case.edit);
        let reading = read(text.clone());
        let Some(fix) = reading.messages[0].fix.as_ref().filter(|f| f.sure) else {
            continue;
        };
        let (start, end) = (fix.at.start as usize, fix.at.end as usize);
        let mended = format!("{}{}{}", &text[..start], fix.replacement, &text[end..]);
        let again = read(mended);
        let shown: String = again
            .messages
            .iter()
            .map(|m| tellmark_language::render(m, &again.files, Style::Plain))
            .collect();
        assert!(again.messages.is_empty(), "{}:\n{shown}", case.name);
        made += 1;
    }
    assert!(made > 10, "only {made} changes were sure");
}

/// Rows that reading raises, by the catalogue of messages.
const RAISED: [u16; 52] = [
    1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26,
    27, 28, 29, 30, 31, 32, 33, 34, 35, 36, 37, 38, 39, 40, 41, 50, 55, 58, 61, 65, 66, 68, 69, 70,
    72, 73,
];

#[test]
fn every_row_of_the_catalogue_has_a_case() {
    let numbers: HashSet<u16> = all_cases().map(|c| c.number).collect();
    for row in RAISED {
        assert!(numbers.contains(&row), "no case raises message {row}");
    }
}

#[test]
fn every_wording_can_be_filled() {
    let all = wordings();
    assert_eq!(all.len(), usize::from(all.last().map_or(0, |w| w.number)));
    for Wording {
        number,
        texts,
        helps,
        ..
    } in all
    {
        assert!(!texts.is_empty(), "message {number} says nothing");
        for line in texts.iter().chain(&helps) {
            let open = line.matches('{').count();
            assert_eq!(open, line.matches('}').count(), "message {number}: {line}");
        }
        // With every blank known, a text and a help come out whole.
        let blanks: Vec<&str> = texts
            .iter()
            .chain(&helps)
            .flat_map(|line| line.split('{').skip(1))
            .filter_map(|rest| rest.split('}').next())
            .collect();
        let filled: Vec<(&str, &str)> = blanks.iter().map(|b| (*b, "x")).collect();
        let message = Message::new(number, tellmark_language::span::Span::default(), &filled);
        assert!(!message.text.contains(['{', '}']), "{}", message.text);
        assert_eq!(message.help.is_some(), !helps.is_empty());
    }
}

#[test]
fn the_same_mistake_again_is_cut_short() {
    let text = MILL_LANE
        .replace(
            "then its screws are often loose",
            "then its screws are often looose",
        )
        .replace(
            "Given screw 1 of hinge 1 of fall 1 is loose",
            "Given screw 1 of hinge 1 of fall 1 is looose",
        );
    let reading = read(text);
    let shown: String = reading
        .messages
        .iter()
        .map(|m| tellmark_language::render(m, &reading.files, Style::Plain))
        .collect();
    insta::assert_snapshot!(shown);
}

#[test]
fn messages_are_laid_out_under_the_writers_own_line() {
    let text = MILL_LANE
        .replace(
            "If a hinge is under strain then",
            "If a hnige is under strain then",
        )
        .replace("    up to 4 mm: plan to let", "\tup to 0.5 mm: plan to let")
        .replace("Ask: \"Runner wear?\"", "Ask: \"Wear — 木 edge?\"")
        .replace(
            "You can feel whether a drawer is stiff.\n",
            "You can feel whether a drawer is stiff.\n    Slipp: 2 in 100\n",
        );
    let reading = read(text);
    let shown: String = reading
        .messages
        .iter()
        .map(|m| tellmark_language::render(m, &reading.files, Style::Plain))
        .collect();
    insta::assert_snapshot!(shown);
    let records: Vec<_> = reading
        .messages
        .iter()
        .map(|m| tellmark_language::record(m, &reading.files))
        .collect();
    let data = serde_json::to_string_pretty(&records).unwrap_or_default();
    insta::assert_snapshot!(data);
}
