//! Where a part of a piece stands among its like.

use tellmark_core::piece::Piece;
use tellmark_language::model::{Model, Placing, Working};

/// Whether a part of a piece stands there among its owner's parts of its kind.
pub(crate) fn stands(model: &Model, piece: &Piece<'_>, part: usize, place: &Placing) -> bool {
    let Some(record) = piece.part(part) else {
        return false;
    };
    let like = piece.children_at(usize::from(record.owner), usize::from(record.place));
    let is_there = place.at.iter().any(|&(sign, number)| {
        let number = usize::from(number);
        match model.signs[sign.index()].place() {
            Some(Working::FromLast) => part + number == like.end,
            _ => usize::from(record.number) == number,
        }
    });
    is_there != place.except
}
