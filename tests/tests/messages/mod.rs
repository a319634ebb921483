//! Every message that reading can give: a small change to a sound pack raises
//! it, alone, with these words underlined.

mod bench_remarks;
mod degrees;
mod friends;
mod further;
mod hanging;
mod kinds;
mod last;
mod limits;
mod measures;
mod number;
mod places;
mod plain;
mod reference;
mod several;
mod shape;
mod sums;
mod times;
mod words;
mod work;
mod worked_out;

use std::collections::{BTreeSet, HashSet};

use tellmark_language::message::wordings;
use tellmark_language::{Level, ProblemKind, SourceFile, Style};

/// A change to the sound pack.
pub enum Edit {
    /// More at the end.
    Add(&'static str),
    /// Words put for other words.
    Put(&'static [(&'static str, &'static str)]),
    /// More at the end, too long to be written out.
    Made(fn() -> String),
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
        .chain(measures::CASES)
        .chain(sums::CASES)
        .chain(several::CASES)
        .chain(limits::CASES)
        .chain(kinds::CASES)
        .chain(hanging::CASES)
        .chain(degrees::CASES)
        .chain(times::CASES)
        .chain(friends::CASES)
        .chain(worked_out::CASES)
        .chain(places::CASES)
        .chain(plain::CASES)
        .chain(bench_remarks::CASES)
}

fn edited(edit: &Edit) -> String {
    match edit {
        Edit::Add(more) => format!("{MILL_LANE}{more}\n"),
        Edit::Made(more) => format!("{MILL_LANE}{}\n", more()),
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

/// Every message as a restorer sees it in a terminal without colours.
fn shown(reading: &tellmark_language::Reading) -> String {
    let each = reading.messages.iter();
    each.map(|m| tellmark_language::render(m, &reading.files, Style::Plain))
        .collect()
}

#[test]
fn each_mistake_has_its_message_and_no_other() {
    for case in all_cases() {
        let reading = read(edited(&case.edit));
        let shown = shown(&reading);
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
        let shown = shown(&again);
        assert!(again.messages.is_empty(), "{}:\n{shown}", case.name);
        made += 1;
    }
    assert!(made > 10, "only {made} changes were sure");
}

/// Messages about the whole pack, an answer or a script, which tests of these raise.
const NOT_OF_READING: [u16; 44] = [
    44, 45, 48, 49, 51, 54, 59, 62, 63, 67, 74, 114, 121, 129, 134, 135, 136, 137, 138, 139, 140,
    141, 142, 143, 144, 149, 150, 155, 156, 157, 193, 202, 203, 204, 205, 206, 207, 225, 240, 242,
    257, 258, 259, 260,
];

#[test]
fn every_message_of_reading_has_a_case() {
    let cases: HashSet<u16> = all_cases().map(|c| c.number).collect();
    for (kind, _) in ProblemKind::ALL {
        let number = kind.number();
        assert!(
            cases.contains(&number) || NOT_OF_READING.contains(&number),
            "no case raises message {number} ({kind:?})"
        );
    }
}

/// The blanks of a line of wording.
fn blanks(line: &str) -> impl Iterator<Item = &str> {
    line.split('{')
        .skip(1)
        .filter_map(|rest| rest.split('}').next())
}

#[test]
fn every_problem_has_a_wording_and_every_wording_a_problem() {
    let worded: Vec<u16> = wordings().iter().map(|w| w.number).collect();
    let mut stated: Vec<u16> = ProblemKind::ALL.iter().map(|(k, _)| k.number()).collect();
    stated.sort_unstable();
    assert_eq!(worded, stated);
}

#[test]
fn a_wording_and_its_problem_have_the_same_blanks() {
    for wording in wordings() {
        let number = wording.number;
        let lines = || wording.texts.iter().chain(&wording.helps);
        for line in lines() {
            let open = line.matches('{').count();
            assert_eq!(open, line.matches('}').count(), "message {number}: {line}");
        }
        let worded: BTreeSet<&str> = lines().flat_map(|line| blanks(line)).collect();
        let stated: BTreeSet<&str> = fields(number).iter().map(|(name, _)| *name).collect();
        assert_eq!(worded, stated, "message {number}");
    }
}

/// The blanks of a problem, and whether each may be unknown.
fn fields(number: u16) -> &'static [(&'static str, bool)] {
    ProblemKind::ALL
        .iter()
        .find(|(kind, _)| kind.number() == number)
        .map_or(&[], |(_, fields)| *fields)
}

/// Of several lines the first is used whose blanks are all known, so a line
/// behind one that needs no more than it is never read.
#[test]
fn no_line_of_a_wording_hides_another() {
    for wording in wordings() {
        let number = wording.number;
        let optional = |line: &str| -> BTreeSet<String> {
            blanks(line)
                .filter(|name| fields(number).iter().any(|(n, o)| n == name && *o))
                .map(str::to_owned)
                .collect()
        };
        assert!(!wording.texts.is_empty(), "message {number} says nothing");
        for lines in [&wording.texts, &wording.helps] {
            for (index, line) in lines.iter().enumerate() {
                let hidden = lines[..index]
                    .iter()
                    .any(|earlier| optional(earlier).is_subset(&optional(line)));
                assert!(!hidden, "message {number}: {line}");
            }
        }
    }
}

#[test]
fn the_marks_of_the_sureness_words_are_told_as_they_are() {
    use tellmark_language::model::Sureness::{Possibly, Probably, Surely};
    let wordings = wordings();
    let helps = wordings.iter().filter(|w| w.number == 55);
    let help: String = helps.flat_map(|w| w.helps.clone()).collect();
    for sureness in [Possibly, Probably, Surely] {
        let (word, percent) = (sureness.word(), sureness.percent());
        let told = [
            format!("\"{word}\" ({percent} in 100)"),
            format!("\"{word}\" ({} in 10)", percent / 10),
        ];
        assert!(told.iter().any(|t| help.contains(t)), "{word}: {help}");
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
    insta::assert_snapshot!(shown(&reading));
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
    insta::assert_snapshot!(shown(&reading));
    let records: Vec<_> = reading
        .messages
        .iter()
        .map(|m| tellmark_language::record(m, &reading.files))
        .collect();
    let data = serde_json::to_string_pretty(&records).unwrap_or_default();
    insta::assert_snapshot!(data);
}
