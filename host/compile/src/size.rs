//! What each kind of part costs on the bench unit.

use tellmark_core::belief::{Desk, Need};
use tellmark_core::number::UFloat;
use tellmark_core::piece::{Answer, Part};

use super::fragment::Fragment;
use super::places::Places;
use super::rules::Rules;
use crate::room::{PackBytes, Room};
use tellmark_language::model::{KindId, Model};

/// Bytes of one number on the unit.
const NUMBER: usize = 4;

/// What one place costs.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq, Eq)]
pub struct KindSize {
    /// The kind.
    pub kind: KindId,
    /// Its name, with what it is built into: "runner of a drawer".
    pub name: String,
    /// The place.
    pub place: usize,
    /// States.
    pub states: usize,
    /// States of owners that it reads and feeds.
    pub interface: usize,
    /// Constants, inputs, sums and products.
    pub nodes: usize,
    /// Bytes to keep for each such part: messages both ways, and chances.
    pub kept: usize,
    /// Bytes to run it; shared by all parts, so only the largest counts.
    pub running: usize,
    /// Sums and products on the way up.
    pub up: usize,
    /// Sums and products on the way down.
    pub down: usize,
}

/// What a whole piece costs, with the usual number of everything.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq, Eq)]
pub struct PieceSize {
    /// "chest of drawers".
    pub name: String,
    /// Its parts.
    pub parts: usize,
    /// Its states, over all parts.
    pub states: usize,
    /// Bytes on the unit: numbers, parts, answers.
    pub ram: usize,
    /// Sums and products for everything from nothing, one pass up and one pass
    /// down with the way up worked out again.
    pub operations: usize,
}

/// What a pack costs.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, Default, PartialEq, Eq)]
pub struct Sizes {
    /// Place by place.
    pub kinds: Vec<KindSize>,
    /// Piece by piece.
    pub pieces: Vec<PieceSize>,
    /// Bytes of the pack.
    pub pack: usize,
}

impl Sizes {
    pub(super) fn of(rules: Rules<'_>, fragments: &[Fragment], bytes: &PackBytes) -> Self {
        let Rules { model, places, .. } = rules;
        let kinds = fragments
            .iter()
            .enumerate()
            .map(|(place, fragment)| {
                let kind = places.kind(place);
                let own = &model.kinds[kind.index()].name;
                let name = match places.owner(place) {
                    None => own.clone(),
                    Some(owner) => {
                        let owner = &model.kinds[places.kind(owner).index()].name;
                        format!("{own} of {}", tellmark_language::words::a(owner))
                    }
                };
                let interface = fragment.reads + fragment.feeds;
                let (up, down) = operations(fragment);
                KindSize {
                    kind,
                    name,
                    place,
                    states: fragment.states,
                    interface,
                    nodes: fragment.nodes(),
                    kept: (2 * (1 << interface) + 2 * fragment.states) * NUMBER,
                    running: 2 * fragment.nodes() * NUMBER,
                    up,
                    down,
                }
            })
            .collect();
        let mut sizes = Self {
            kinds,
            pieces: Vec::new(),
            pack: bytes.bytes().len(),
        };
        sizes.add_pieces(model, places, bytes);
        sizes
    }

    fn add_pieces(&mut self, model: &Model, places: &Places, bytes: &PackBytes) {
        let Ok(pack) = bytes.open() else { return };
        for root in (0..places.len()).filter(|&p| places.owner(p).is_none()) {
            let mut room = Room::<UFloat>::default();
            let usual = |_: &[Part], _, place| pack.place(place).usual;
            let Ok(inspection) = room.inspection(pack, root, usual) else {
                continue;
            };
            let piece = inspection.piece();
            let need = Need::of(&pack, piece);
            let places_of_parts = piece.parts().iter().map(|p| usize::from(p.place));
            let parts = piece.parts().len();
            let answers: usize = (0..parts).map(|part| piece.answers_of(part).len()).sum();
            let kept = size_of::<Part>() + size_of::<Desk>();
            self.pieces.push(PieceSize {
                name: model.kinds[places.kind(root).index()].name.clone(),
                parts,
                states: need.states,
                ram: need.numbers() * NUMBER + parts * kept + answers * size_of::<Answer>(),
                operations: places_of_parts
                    .map(|place| 2 * self.kinds[place].up + self.kinds[place].down)
                    .sum(),
            });
        }
    }

    /// Bytes to run the largest fragment.
    #[must_use]
    pub fn running(&self) -> usize {
        self.kinds.iter().map(|k| k.running).max().unwrap_or(0)
    }
}

/// Sums and products for one pass up, and for one pass down when no slope is
/// zero.
fn operations(fragment: &Fragment) -> (usize, usize) {
    let constants = fragment.program.constants.len();
    let up = fragment.program.steps.len();
    let down = fragment
        .program
        .steps
        .iter()
        .map(|step| {
            let each = if step.product { 2 } else { 1 };
            [step.left, step.right]
                .iter()
                .filter(|&&operand| operand >= constants)
                .count()
                * each
        })
        .sum();
    (up, down)
}
