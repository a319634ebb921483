//! The table.

use std::io;
use std::path::Path;

use serde_json::Value;
use tellmark_core::number::UFloat;

use crate::chest::{Chest, Rules};
use crate::posterior::{Times, times, trials};
use crate::{conditions, engines, growth, program};

/// Drawers of the chest that is compared.
pub const DRAWERS: u8 = 6;
/// Answers about it.
pub const ANSWERS: usize = 60;
/// Sets of answers.
pub const SETS: usize = 10;

/// Measures and prints everything: what other libraries took is read from
/// `libraries`; the program at that path is started in that folder.
pub fn print(libraries: Option<&Path>, program: Option<(&Path, &Path)>) -> io::Result<()> {
    let others = match libraries {
        Some(path) => Some(serde_json::from_str(&std::fs::read_to_string(path)?)?),
        None => None,
    };
    println!("| what | Tellmark | beside it | ratio |\n| --- | --: | --- | --: |");
    let standard = growth::standard();
    chances(others.as_ref(), Some(&standard));
    rules();
    pieces();
    books();
    println!(
        "| read the standard rules; read them and build the pack | {}; {} | | |",
        time(standard.read),
        time(standard.build)
    );
    println!(
        "| … and check them, without their examples; with | {}; {} | | |",
        time(standard.without_examples),
        time(standard.full)
    );
    println!(
        "| standard pack; opened and checked | {}; {} | | |",
        size(standard.bytes),
        time(standard.open)
    );
    if let Some((path, folder)) = program {
        let times = program::times(path, folder)?;
        println!(
            "| `tellmark check`, whole process | {} | | |",
            time(times.check)
        );
        println!(
            "| `tellmark triage`, whole process: first; after that | {}; {} | | |",
            time(times.first),
            time(times.second)
        );
    }
    Ok(())
}

/// Measures and prints one part: chances, conditions, pieces or sentences.
pub fn only(part: &str) -> io::Result<()> {
    match part {
        "chances" => chances(None, None),
        "conditions" => rules(),
        "pieces" => pieces(),
        "sentences" => books(),
        _ => {
            let parts = "the parts are chances, conditions, pieces and sentences";
            return Err(io::Error::other(parts));
        }
    }
    Ok(())
}

fn chances(others: Option<&Value>, standard: Option<&growth::Standard>) {
    let rules = Rules::standard_with("");
    let chest = Chest::new(&rules, DRAWERS);
    let trials = trials(&chest, SETS, ANSWERS);
    let unit: Times = times::<UFloat>(&chest, &trials);
    let wide: Times = times::<f64>(&chest, &trials);
    let other = |name: &str| others.and_then(|o| o[name].as_f64());
    let row = |what: &str, ours: (f64, f64), beside: &str, theirs: Option<f64>| {
        let shown = |seconds: f64| format!("{beside} {}", time(seconds));
        println!(
            "| {what} | {}; {} | {} | {} |",
            time(ours.0),
            time(ours.1),
            theirs.map(shown).unwrap_or_default(),
            theirs.map(|t| times_as_fast(t, ours.0)).unwrap_or_default(),
        );
    };
    let states = chest.used().len();
    println!(
        "| **chances**: 6 drawers, {} parts, {states} states, {ANSWERS} answers; in u9.23; in f64 | | | |",
        chest.ground.parts.len()
    );
    row(
        "all states, from nothing",
        (unit.from_nothing, wide.from_nothing),
        "pyagrum, engine kept,",
        other("from_nothing"),
    );
    if let Some(standard) = standard {
        let theirs = other("new_engine").zip(other("set_up")).map(|(a, b)| a + b);
        for (what, set_up) in [
            ("the same, and the pack opened first", standard.open),
            (
                "the same, and the rules read and built first",
                standard.build,
            ),
        ] {
            let ours = (unit.from_nothing + set_up, wide.from_nothing + set_up);
            row(what, ours, "pyagrum, network built first,", theirs);
        }
    }
    row(
        "an answer changes: all hidden states",
        (unit.changed, wide.changed),
        "pyagrum",
        other("changed"),
    );
    row(
        "an answer changes: that drawer's",
        (unit.changed_drawer, wide.changed_drawer),
        "pyagrum",
        other("changed_drawer"),
    );
    row(
        "all states, against three",
        (unit.from_nothing, wide.from_nothing),
        "pgmpy, 3 states,",
        other("pgmpy_three"),
    );
    if let Some(others) = others {
        println!(
            "| greatest difference of a chance (f64) | | pyagrum {:.0e}, pgmpy {:.0e} | |",
            others["worst"].as_f64().unwrap_or(f64::NAN),
            others["pgmpy_worst"].as_f64().unwrap_or(f64::NAN)
        );
    }
}

fn rules() {
    let ours = conditions::ours();
    let hand = conditions::by_hand();
    println!(
        "| **conditions**: 200 × `(a and b) or (not c and d)`, {} facts, compiled | {} | | |",
        crate::by_hand::FACTS,
        time(ours.judged)
    );
    println!(
        "| as plans called for, part by part | {} | | |",
        time(ours.plans)
    );
    let beside = |name: &str, theirs: f64| {
        println!(
            "| | | {name} {} | {} |",
            time(theirs),
            times_as_fast(theirs, ours.judged)
        );
    };
    for (name, theirs) in engines::times() {
        beside(name, theirs);
    }
    beside("Rust by hand, three values,", hand.three);
    beside("Rust by hand, a function each,", hand.separate);
    beside("Rust by hand, all in one,", hand.straight);
}

fn pieces() {
    println!(
        "| **growth**: drawers: parts, states; memory | from nothing; one answer, all hidden; that drawer's | | |"
    );
    growth::pieces(|sized| {
        println!(
            "| {}: {}, {}; {} | {}; {}; {} | | |",
            sized.drawers,
            sized.parts,
            sized.states,
            size(sized.bytes),
            time(sized.times.from_nothing),
            time(sized.times.changed),
            time(sized.times.changed_drawer)
        );
    });
}

fn books() {
    println!("| **sentences**: pack | read; and build; and check | | per sentence |");
    for spread in [growth::Spread::ManyPieces, growth::Spread::OnePiece] {
        let name = match spread {
            growth::Spread::ManyPieces => "many pieces",
            growth::Spread::OnePiece => "one piece",
        };
        for sentences in [100, 300, 1_000, 3_000, 10_000] {
            let book = growth::book(sentences, spread);
            // Thousands at most.
            #[allow(clippy::cast_precision_loss)]
            let each = book.full / book.sentences as f64;
            println!(
                "| {} ({name}): {} | {}; {}; {} | | {} |",
                book.sentences,
                size(book.bytes),
                time(book.read),
                time(book.build),
                time(book.full),
                time(each)
            );
        }
    }
}

fn times_as_fast(theirs: f64, ours: f64) -> String {
    let ratio = theirs / ours;
    if ratio >= 10.0 {
        format!("{ratio:.0}×")
    } else if ratio >= 1.0 {
        format!("{ratio:.1}×")
    } else {
        format!("{ratio:.2}×")
    }
}

/// Three figures and a unit.
fn time(seconds: f64) -> String {
    let (amount, unit) = if seconds < 1e-6 {
        (seconds * 1e9, "ns")
    } else if seconds < 1e-3 {
        (seconds * 1e6, "µs")
    } else if seconds < 1.0 {
        (seconds * 1e3, "ms")
    } else {
        (seconds, "s")
    };
    if amount < 10.0 {
        format!("{amount:.2} {unit}")
    } else if amount < 100.0 {
        format!("{amount:.1} {unit}")
    } else {
        format!("{amount:.0} {unit}")
    }
}

fn size(bytes: usize) -> String {
    format!(
        "{:.1} KiB",
        f64::from(u32::try_from(bytes).unwrap_or(u32::MAX)) / 1024.0
    )
}
