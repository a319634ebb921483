//! A piece looked over by name, in the words of whoever calls the library.

use super::{Form, Seen, Target, words_in};
use std::cell::RefCell;
use std::sync::OnceLock;
use tellmark_compile::room::PackBytes;
use tellmark_core::survey::{Memory, Said, Survey};
use tellmark_core::words::Reading;

pub(super) const TARGET: Target = Target {
    name: "survey",
    form: Form::Text,
    longest: 400,
    memory: 0,
    run,
    seeds,
    words,
};

fn pack() -> &'static PackBytes {
    static PACK: OnceLock<PackBytes> = OnceLock::new();
    PACK.get_or_init(|| PackBytes::new(&super::file("tests/packs/v1/further.pack")))
}

thread_local! {
    static MEMORY: RefCell<Box<Memory>> = RefCell::new(Box::new(Memory::new()));
}

/// The first line is the piece, lines of a number and words are counts, and other lines
/// are a part, a sign and what is said of it.
fn run(input: &[u8], seen: &mut Seen) {
    let text = String::from_utf8_lossy(input);
    let mut lines = text.lines();
    let piece = lines.next().unwrap_or_default();
    let counts: Vec<(&str, u8)> = text
        .lines()
        .filter_map(|line| line.split_once(' '))
        .filter_map(|(number, what)| Some((what, number.parse().ok()?)))
        .collect();
    MEMORY.with_borrow_mut(|memory| {
        let pack = pack().open().expect("a sound pack");
        let mut survey = match Survey::begin(pack, memory, piece, &counts) {
            Ok(survey) => survey,
            Err(why) => return seen.note_kind(1, &why),
        };
        for line in lines {
            let mut fields = line.split(';').map(str::trim);
            let part = fields.next().unwrap_or_default();
            let sign = fields.next().unwrap_or_default();
            let said = said(fields.next().unwrap_or_default(), seen);
            match survey.answer(part, sign, said) {
                Ok(()) => seen.note(2, 0),
                Err(why) => {
                    assert!(!why.to_string().is_empty());
                    seen.note_kind(3, &why);
                }
            }
            if let Err(why) = survey.chance(part, sign) {
                seen.note_kind(4, &why);
            }
        }
        match survey.likeliest() {
            Ok(likely) => seen.note_size(5, likely.map(|fault| fault.to_string().len()).sum()),
            Err(why) => seen.note_kind(6, &why),
        }
        if let Ok(Some(check)) = survey.next_check() {
            seen.note_size(7, check.to_string().len());
        }
    });
}

fn said<'t>(words: &'t str, seen: &mut Seen) -> Said<'t> {
    if let Some(reading) = Reading::read(words) {
        // What is written is read again as the same length.
        let again = Reading::read(&reading.to_string());
        assert_eq!(again.map(|r| r.ticks), Some(reading.ticks), "{words}");
        seen.note(8, 0);
    }
    match words {
        "yes" => Said::Yes,
        "no" => Said::No,
        "looks like it" => Said::LooksLikeIt,
        "looks unlikely" => Said::LooksUnlikely,
        "cannot be seen" => Said::CannotBeSeen,
        "" => Said::Nothing,
        words => match words.parse() {
            Ok(number) => Said::Number(number),
            Err(_) if words.contains(|c: char| c.is_ascii_digit()) => Said::Measure(words),
            Err(_) => Said::Choice(words),
        },
    }
}

fn seeds() -> Vec<Vec<u8>> {
    [
        "chest of drawers\n4 drawers\ndrawer 2; stiff; yes\nleft runner of drawer 2; worn; 3 mm\n",
        "chest of drawers\n1 handles of drawer 2\ndrawer 2 of case; stiff; no\nback; ; looks like it\n",
        "chest of drawers\ndrawer 1; stiff; cannot be seen\nrunner 1 of drawer 1; worn; 1 3/32 in\n",
        "drop-leaf table\n2 leaves\nleaf 1; stained;\n",
        "chest of drawers\n11 drawers\ndrawer 9; how worn; 0.5 %\n",
    ]
    .map(|text| text.as_bytes().to_vec())
    .to_vec()
}

fn words() -> Vec<Vec<u8>> {
    let mut words = words_in(&super::files("tests/packs/v1", "further.rules.txt"));
    let said = [
        "yes",
        "no",
        "looks like it",
        "looks unlikely",
        "cannot be seen",
        "3 mm",
        "1 3/32 in",
        "12 %",
        "-1 mm",
        "1/0 in",
        "; ",
        "of drawer 2",
        "of drawer 2 of case",
    ];
    words.extend(said.map(|said| said.as_bytes().to_vec()));
    words
}
