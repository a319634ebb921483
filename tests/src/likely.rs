//! Everything that may be so of a piece, with its chance.

use crate::said::with_found;
use tellmark_compile::check::Checked;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::part_ref;
use tellmark_language::model::{Nature, Verb};
use tellmark_language::words::part_name;

/// Something that may be so of a piece.
#[derive(Clone, Debug)]
pub struct Likely {
    /// "drawer 1 is stiff".
    pub words: String,
    /// "drawer 1 is not stiff".
    pub denied: String,
    /// Whether it is a hidden fault.
    pub hidden: bool,
    /// Its chance.
    pub chance: f64,
    /// Extra minutes if it is found late; nought of a sign.
    pub missed: u32,
}

/// Everything that is a yes or no on a piece, with its chance once this was found.
///
/// # Panics
/// If the rules are not sound, the findings clash, or a sentence is not understood.
#[must_use]
pub fn likely(checked: &Checked, piece: &str, found: &[&str]) -> Vec<Likely> {
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
                let missed = match &state.nature {
                    Nature::Hidden { missed, .. } => Some(missed.as_ref().map_or(0, |m| m.minutes)),
                    _ => None,
                };
                all.push(Likely {
                    words: format!("{name} {is} {}", state.phrase),
                    denied: format!("{name} {is_not} {}", state.phrase),
                    hidden: missed.is_some(),
                    chance: yes / (no + yes),
                    missed: missed.unwrap_or(0),
                });
            }
        }
        all
    })
}

/// The hidden faults among them.
#[must_use]
pub fn faults(all: Vec<Likely>) -> Vec<Likely> {
    all.into_iter().filter(|one| one.hidden).collect()
}
