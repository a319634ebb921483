//! What the owner is told of looking after the piece: `Tell the owner when …`. These sentences
//! are in no pack; they are judged on the host, by what is known.

use super::hangs::parts_of_kind;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{SetUp, part_ref};
use tellmark_core::number::UFloat;
use tellmark_core::pack::Pack;
use tellmark_core::piece::SetUpError;
use tellmark_core::truth::Truth;
use tellmark_language::model::KindId;
use tellmark_language::words;

/// A sentence for the owner, and the parts of which it holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnerTold {
    /// What it says.
    pub text: String,
    /// The kind of part that it is about.
    pub kind: KindId,
    /// The parts, by name.
    pub parts: Vec<String>,
}

/// Every sentence that is known to hold, in the order of the rules.
///
/// # Errors
/// If the piece cannot be set up.
pub fn owner_told(set_up: &SetUp<'_>, pack: Pack<'_>) -> Result<Vec<OwnerTold>, SetUpError> {
    let mut room = Room::<UFloat>::default();
    let mut case = set_up.case(pack, &mut room)?;
    let mut told: Vec<OwnerTold> = Vec::new();
    for tell in &set_up.model.tells {
        for part in parts_of_kind(&pack, case.inspection.piece(), tell.subject) {
            if case.truth_of(set_up, &tell.when, part) != Truth::True {
                continue;
            }
            let records = case.inspection.piece().parts();
            let name =
                words::part_name(set_up.model, &part_ref(&set_up.built.places, records, part));
            match told.iter_mut().find(|one| one.text == tell.text) {
                Some(one) => one.parts.push(name),
                None => told.push(OwnerTold {
                    text: tell.text.clone(),
                    kind: tell.subject,
                    parts: vec![name],
                }),
            }
        }
    }
    Ok(told)
}
