//! Chairs and stools, read with the standard rules as a job reads them: nothing to mend, every
//! example holds, and the figures are sane where nothing was found, and where all is well.

use std::sync::OnceLock;

use tellmark_compile::TOLERANCE;
use tellmark_compile::check::{Checked, Depth, check};
use tellmark_compile::room::Room;
use tellmark_compile::set_up::part_ref;
use tellmark_job::house::{Families, files};
use tellmark_language::Level;
use tellmark_language::model::{Nature, Verb};
use tellmark_language::words::part_name;
use tellmark_tests::said::with_found;

fn chairs() -> &'static Checked {
    static CHECKED: OnceLock<Checked> = OnceLock::new();
    CHECKED.get_or_init(|| family("chairs"))
}

fn family(name: &str) -> Checked {
    let files = files(None, &Families::These(vec![name.to_owned()])).expect("our own files");
    check(tellmark_language::read(files), Depth::Full)
}

/// What may be so of a piece, in words, with its chance.
struct Said {
    words: String,
    denied: String,
    hidden: bool,
    chance: f64,
}

/// Everything that is a yes or no on a piece, and its chance once this was found.
fn said(checked: &Checked, piece: &str, found: &[&str]) -> Vec<Said> {
    with_found(checked, piece, found, |set_up, _| {
        let pack = set_up.built.bytes.open().expect("it opens");
        let mut room = Room::<f64>::default();
        let mut case = set_up.case(pack, &mut room).expect("it fits");
        let parts = case.inspection.piece().parts();
        let named = |part| part_name(set_up.model, &part_ref(&set_up.built.places, parts, part));
        let places: Vec<(String, usize)> = (0..parts.len())
            .map(|part| (named(part), usize::from(parts[part].place)))
            .collect();
        let mut all = Vec::new();
        for (part, (name, place)) in places.into_iter().enumerate() {
            for (slot, number) in pack.states_of(place).enumerate() {
                let row = &set_up.built.states.states[usize::from(number)];
                let Some(declared) = row.declared.filter(|_| row.in_use) else {
                    continue;
                };
                let state = &set_up.model.states[declared.index()];
                let (is, is_not) = match state.verb {
                    Verb::Is => ("is", "is not"),
                    Verb::Shows => ("shows", "does not show"),
                };
                let (no, yes) = case.inspection.weights(part, slot).expect("no clash");
                all.push(Said {
                    words: format!("{name} {is} {}", state.phrase),
                    denied: format!("{name} {is_not} {}", state.phrase),
                    hidden: matches!(state.nature, Nature::Hidden { .. }),
                    chance: yes / (no + yes),
                });
            }
        }
        all
    })
}

fn faults(all: Vec<Said>) -> Vec<Said> {
    all.into_iter().filter(|one| one.hidden).collect()
}

const CHAIRS: [&str; 6] = [
    "chair",
    "armchair",
    "stick chair",
    "rocking chair",
    "bentwood chair",
    "stool",
];

#[test]
fn chairs_have_nothing_to_mend_and_every_example_holds() {
    let messages = chairs().reading.messages.iter();
    let messages: Vec<&str> = messages
        .filter(|m| m.level != Level::Note)
        .map(|m| m.text.as_str())
        .collect();
    assert_eq!(messages, Vec::<&str>::new());
    assert!(chairs().is_sound());
}

#[test]
fn every_that_means_sentence_of_chairs_comes_true() {
    let model = &chairs().reading.model;
    let reached = chairs().built.as_ref().expect("it builds").reached(model);
    assert!(!reached.is_empty());
    for one in &reached {
        let wanted = f64::from(model.means[one.means].strength.chance.0) / 1000.0;
        assert!((one.reached - wanted).abs() <= TOLERANCE, "{}", one.reached);
    }
}

#[test]
fn a_chair_nobody_has_looked_at_expects_few_faults() {
    for piece in CHAIRS {
        let all = faults(said(chairs(), piece, &[]));
        let sum: f64 = all.iter().map(|one| one.chance).sum();
        assert!((2.5..6.0).contains(&sum), "{piece}: {sum} faults");
        for one in &all {
            assert!(one.chance < 0.3, "{}: {}", one.words, one.chance);
            let grave = one.words.ends_with("unsafe to sit on");
            assert!(!grave || one.chance < 0.15, "{}: {}", one.words, one.chance);
        }
    }
}

#[test]
fn a_chair_of_which_all_is_well_has_no_likely_fault() {
    for piece in CHAIRS {
        for sort in ["drop-in", "stuffed-over", "caned", "rushed", "solid"] {
            let signs = said(chairs(), piece, &[]).into_iter();
            let mut found: Vec<String> = signs
                .filter(|one| !one.hidden)
                .map(|one| one.denied)
                .collect();
            found.push(format!("sort of the seat is {sort}"));
            let found: Vec<&str> = found.iter().map(String::as_str).collect();
            for one in faults(said(chairs(), piece, &found)) {
                assert!(
                    one.chance < 0.05,
                    "{piece}, {sort}: {} {}",
                    one.words,
                    one.chance
                );
            }
        }
    }
}

#[test]
fn no_single_sign_of_a_chair_makes_it_surely_unsafe() {
    let signs = said(chairs(), "chair", &[]).into_iter();
    for sign in signs.filter(|one| !one.hidden) {
        for one in faults(said(chairs(), "chair", &[sign.words.as_str()])) {
            let grave = one.words.ends_with("unsafe to sit on");
            assert!(
                !grave || one.chance < 0.95,
                "{} after {}",
                one.chance,
                sign.words
            );
        }
    }
}
