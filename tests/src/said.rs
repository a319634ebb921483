//! Rules given as text, a piece, and findings as they are noted.

use tellmark_compile::check::{Checked, Depth, check};
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{SetUp, resolve};
use tellmark_language::model::Fact;
use tellmark_language::{AnswerReader, SourceFile, read};

/// House rules that stand alone, read and built.
#[must_use]
pub fn house(text: &str) -> Checked {
    let file = SourceFile {
        name: "house.rules.txt".to_owned(),
        text: text.to_owned(),
        standard: false,
    };
    check(read(vec![file]), Depth::Build)
}

/// Calls `with` with this piece, of which this was found.
///
/// # Panics
/// If the rules are not sound, or a sentence is not understood.
pub fn with_found<T>(
    checked: &Checked,
    piece: &str,
    found: &[&str],
    with: impl FnOnce(&SetUp<'_>, &AnswerReader<'_>) -> T,
) -> T {
    let model = &checked.reading.model;
    let texts = || checked.reading.messages.iter().map(|m| m.text.as_str());
    let built = checked.built.as_ref();
    let built = built.unwrap_or_else(|| panic!("{}", texts().collect::<Vec<_>>().join("\n")));
    let reader = AnswerReader::new(model);
    let order = reader.piece(piece).expect("a piece");
    let reader = reader.about(order.kind);
    let facts: Vec<Fact> = found
        .iter()
        .flat_map(|text| reader.facts(text).expect(text))
        .collect();
    let facts: Vec<&Fact> = facts.iter().collect();
    let set_up = SetUp {
        model,
        built,
        order: &order,
        facts: &facts,
        later: None,
    };
    with(&set_up, &reader)
}

/// The chance of what `asked` says, on this piece with these findings.
///
/// # Panics
/// If the rules are not sound, the findings clash, or a sentence is not understood.
#[must_use]
pub fn share(checked: &Checked, piece: &str, found: &[&str], asked: &str) -> f64 {
    with_found(checked, piece, found, |set_up, reader| {
        let mut room = Room::<f64>::default();
        let pack = set_up.built.bytes.open().expect("a fresh pack opens");
        let mut case = set_up.case(pack, &mut room).expect("a small piece");
        let (part, state) = reader.state(asked).expect("a state");
        let part = resolve(set_up.built, &case.inspection, &part)[0];
        let number = u16::try_from(set_up.built.states.declared(state)).expect("few states");
        let place = usize::from(case.inspection.piece().parts()[part].place);
        let slot = pack.state_slot(place, number).expect("the part has it");
        let (no, yes) = case.inspection.weights(part, slot).expect("no clash");
        yes / (no + yes)
    })
}

/// The same in 100, to a tenth.
#[must_use]
pub fn chance(checked: &Checked, piece: &str, found: &[&str], asked: &str) -> f64 {
    (share(checked, piece, found, asked) * 1000.0).round() / 10.0
}
