//! How cost grows with the piece, and with the rules.

use std::mem::size_of;

use tellmark_compile::check::{Checked, Depth, check};
use tellmark_compile::room::Room;
use tellmark_core::belief::{Desk, Need};
use tellmark_core::number::UFloat;
use tellmark_core::piece::{Answer, Part};
use tellmark_job::house;

use crate::chest::{Chest, Rules, written};
use crate::clock::best;
use crate::posterior::{Times, times, trials};
use crate::words::word;

/// Drawers of the chests that are measured.
const DRAWERS: [u8; 7] = [1, 2, 4, 6, 10, 20, 40];
/// Answers for each drawer, and sets of them.
const ANSWERS: usize = 10;
const SETS: usize = 3;

/// A chest of some size.
pub struct Sized {
    /// Drawers.
    pub drawers: u8,
    /// Parts.
    pub parts: usize,
    /// States in use.
    pub states: usize,
    /// Bytes of memory for the piece, its answers and its chances.
    pub bytes: usize,
    /// Seconds for its chances.
    pub times: Times,
}

/// Measures chests of growing size, one by one.
pub fn pieces(mut each: impl FnMut(Sized)) {
    let rules = Rules::standard_with(
        "A chest of drawers has a top, two sides (left, right), a back, a base \
         and 1 to 40 drawers (usually 4).\n",
    );
    for drawers in DRAWERS {
        each(piece(&rules, drawers));
    }
}

fn piece(rules: &Rules, drawers: u8) -> Sized {
    let chest = Chest::new(rules, drawers);
    let pack = rules.pack();
    let mut room = Room::<UFloat>::default();
    let inspection = chest.inspection(pack, &mut room);
    let piece = inspection.piece();
    let parts = piece.parts().len();
    let answers: usize = (0..parts).map(|p| piece.answers_of(p).len()).sum();
    let bytes = Need::of(&pack, piece).numbers() * size_of::<UFloat>()
        + parts * (size_of::<Desk>() + size_of::<Part>())
        + answers * size_of::<Answer>();
    let trials = trials(&chest, SETS, ANSWERS * usize::from(drawers));
    Sized {
        drawers,
        parts,
        states: chest.used().len(),
        bytes,
        times: times::<UFloat>(&chest, &trials),
    }
}

/// How kinds of part are spread over pieces.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Spread {
    /// Every family of sentences is about a piece of its own.
    ManyPieces,
    /// All are about parts of one piece.
    OnePiece,
}

/// A set of rules of some size.
pub struct Book {
    /// Sentences.
    pub sentences: usize,
    /// Bytes of the pack.
    pub bytes: usize,
    /// Seconds to read them.
    pub read: f64,
    /// Seconds to read them and build the pack.
    pub build: f64,
    /// Seconds to read and check them, and build the pack.
    pub full: f64,
}

/// Sentences of one family.
const FAMILY: usize = 20;

/// Measures a set of about so many sentences.
pub fn book(sentences: usize, spread: Spread) -> Book {
    let families = sentences / FAMILY;
    let text = text(families, spread);
    let files = || vec![written(text.clone())];
    let model = tellmark_language::read(files()).model;
    let Checked { reading, built } = check(tellmark_language::read(files()), Depth::Build);
    let built = built.unwrap_or_else(|| {
        let message = reading.messages.first().map(|m| m.text.clone());
        panic!("{sentences} sentences are not sound: {message:?}")
    });
    assert_eq!(model.rules.len() + model.means.len(), 7 * families);
    // Copying the text is a thousandth of it.
    let to = |depth| best(|| drop(check(tellmark_language::read(files()), depth)));
    Book {
        sentences: families * FAMILY,
        bytes: built.bytes.bytes().len(),
        read: best(|| drop(tellmark_language::read(files()))),
        build: to(Depth::Build),
        full: to(Depth::Full),
    }
}

/// Twenty sentences for each family, and a few at the top.
fn text(families: usize, spread: Spread) -> String {
    let mut text = String::from(
        "House rules for the comparison, version 1, British.\n\
         Unless we say otherwise, a sign is there on its own: hardly ever.\n\
         Unless we say otherwise, a fault is there on its own: rarely.\n",
    );
    if spread == Spread::OnePiece {
        text += "Pieces: bench.\n";
    }
    for n in 0..families {
        family(&mut text, n, spread);
    }
    text
}

fn family(text: &mut String, n: usize, spread: Spread) {
    let outer = match spread {
        Spread::ManyPieces => word("pi", n),
        Spread::OnePiece => word("zo", n),
    };
    let (rail, panel) = (word("ra", n), word("pa", n));
    let [dry, stiff, split, loose, weak, worn] =
        ["da", "so", "su", "lo", "we", "wo"].map(|beginning| word(beginning, n));
    let (mend, renew) = (word("me", n), word("re", n));
    *text += &match spread {
        Spread::ManyPieces => format!("Pieces: {outer}.\nParts: {rail}, {panel}.\n"),
        Spread::OnePiece => {
            format!("Parts: {outer}, {rail}, {panel}.\nA bench has a {outer}.\n")
        }
    };
    *text += &format!(
        "A {outer} has 2 to 4 {rail}s and a {panel}.\n\
         You can see whether a {rail} is {dry}.\n    Ask: \"Is it {dry}?\"  Takes: 1 minute\n\
         You can feel whether a {rail} is {stiff}.\n    Ask: \"Is it {stiff}?\"  Takes: 2 minutes\n\
         You can see whether a {panel} shows {split}.\n    Ask: \"{split}?\"  Takes: 1 minute\n\
         You can measure how much a {panel} is {worn}, in mm, from 0 to 15.\n    \
             Ask: \"How {worn}?\"  Takes: 3 minutes  Reads to: 0.5 mm\n\
         A {rail} may be {loose} without showing it.\n    Missed: 2 hours, risk 2  From: common practice\n\
         A {panel} may be {weak} without showing it.\n    Missed: 4 hours, risk 3  From: common practice\n\
         If a {rail} is {dry} then it is often {loose}.  From: common practice\n\
         If a {rail} is {loose} then it is usually {stiff}.  From: common practice\n\
         If any {rail} of a {outer} is {loose} then its {panel} is sometimes {weak}.\n    From: common practice\n\
         If a {panel} is {worn} more than 3 mm then it is often {weak}.  From: common practice\n\
         If a {panel} is {weak} then its {outer} is often {stiff} below.  From: common practice\n\
         If a {panel} is {weak} and it is {worn} more than 5 mm\n    then the {panel} sometimes shows {split}.  From: common practice\n\
         If a {panel} shows {split}, that often means it is {weak}.  From: common practice\n\
         You can feel whether a {outer} is {stiff} below.\n    Ask: \"{stiff} below?\"  Takes: 1 minute\n\
         When a {rail} is probably {loose} then plan to {mend} the {rail}.\n    Takes: 2 hours  From: house\n\
         When a {panel} is probably {weak} and it shows {split} then plan to {renew} the {panel}.\n    Takes: 3 to 5 hours, mostly 4  From: house\n\
         Take care when a {panel} is possibly {weak}: \"Hold the {panel} from below.\"  From: house\n"
    );
}

/// The standard rules, read and built, read and checked without their
/// examples, and all of it.
pub struct Standard {
    /// Sentences.
    pub sentences: usize,
    /// Seconds to read them.
    pub read: f64,
    /// Seconds to read them and build the pack.
    pub build: f64,
    /// Seconds to check them without the examples.
    pub without_examples: f64,
    /// Seconds to check all.
    pub full: f64,
    /// Bytes of the pack.
    pub bytes: usize,
    /// Seconds to open the pack, with all its checks.
    pub open: f64,
}

/// Measures the standard rules.
pub fn standard() -> Standard {
    let without_examples = || {
        let mut reading = tellmark_language::read(house::standard());
        reading.model.examples.clear();
        reading
    };
    let rules = Rules::standard_with("");
    let model = &rules.model;
    Standard {
        sentences: model.rules.len()
            + model.means.len()
            + model.plans.len()
            + model.cautions.len()
            + model.datings.len()
            + model.signs.len(),
        read: best(|| drop(tellmark_language::read(house::standard()))),
        build: best(|| {
            drop(check(
                tellmark_language::read(house::standard()),
                Depth::Build,
            ))
        }),
        without_examples: best(|| drop(check(without_examples(), Depth::Full))),
        full: best(|| {
            drop(check(
                tellmark_language::read(house::standard()),
                Depth::Full,
            ))
        }),
        bytes: rules.built.bytes.bytes().len(),
        open: best(|| {
            std::hint::black_box(rules.pack());
        }),
    }
}
