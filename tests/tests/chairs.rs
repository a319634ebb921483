//! Chairs and stools, read with the standard rules as a job reads them: nothing to mend, every
//! example holds, and the figures are sane where nothing was found, and where all is well.

use std::sync::OnceLock;

use tellmark_compile::check::{Checked, Depth, check};
use tellmark_job::house::{Families, files};
use tellmark_tests::likely::{faults, likely};

fn chairs() -> &'static Checked {
    static CHECKED: OnceLock<Checked> = OnceLock::new();
    CHECKED.get_or_init(|| family("chairs"))
}

fn family(name: &str) -> Checked {
    let files = files(None, &Families::These(vec![name.to_owned()])).expect("our own files");
    check(tellmark_language::read(files), Depth::Full)
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
fn a_chair_of_which_all_is_well_has_no_likely_fault() {
    for piece in CHAIRS {
        for sort in ["drop-in", "stuffed-over", "caned", "rushed", "solid"] {
            let signs = likely(chairs(), piece, &[]).into_iter();
            let mut found: Vec<String> = signs
                .filter(|one| !one.hidden)
                .map(|one| one.denied)
                .collect();
            found.push(format!("sort of the seat is {sort}"));
            let found: Vec<&str> = found.iter().map(String::as_str).collect();
            for one in faults(likely(chairs(), piece, &found)) {
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
    let signs = likely(chairs(), "chair", &[]).into_iter();
    for sign in signs.filter(|one| !one.hidden) {
        for one in faults(likely(chairs(), "chair", &[sign.words.as_str()])) {
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
