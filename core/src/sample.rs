//! A chest of drawers for unit tests, under the rules of
//! `tests/packs/v1/further.rules.txt`.

use crate::belief::Desk;
use crate::inspection::Inspection;
use crate::number::{Number as _, UFloat};
use crate::pack::Pack;
use crate::piece::{Answer, Part, Piece};

/// Does something with the rules.
pub(crate) fn with_pack<T>(test: impl FnOnce(Pack<'_>) -> T) -> T {
    let file = include_bytes!("../../tests/packs/v1/further.pack");
    let mut words = [0_u32; 2_048];
    let bytes: &mut [u8] = bytemuck::cast_slice_mut(&mut words);
    let Some(bytes) = bytes.get_mut(..file.len()) else {
        unreachable!("the pack is shorter")
    };
    bytes.copy_from_slice(file);
    match Pack::open(bytes) {
        Ok(pack) => test(pack),
        Err(error) => unreachable!("{error}"),
    }
}

/// Does something with a chest of so many drawers.
pub(crate) fn with_chest<T>(
    drawers: u8,
    test: impl FnOnce(&mut Inspection<'_, '_, UFloat>) -> T,
) -> T {
    with_pack(|pack| {
        let mut parts = [Part::default(); 128];
        let mut answers = [Answer::NotLooked; 512];
        let mut numbers = [UFloat::ZERO; 4_096];
        let mut desks = [Desk::default(); 128];
        let called = |place: usize, name| {
            pack.text(pack.kind(usize::from(pack.place(place).kind)).name) == name
        };
        let root = (0..pack.places()).find(|&place| called(place, "chest of drawers"));
        let count = |_: &[Part], _: usize, place: usize| match called(place, "drawer") {
            true => drawers,
            false => pack.place(place).usual,
        };
        let root = root.unwrap_or(usize::MAX);
        let Ok(piece) = Piece::set_up(&pack, root, count, &mut parts, &mut answers) else {
            unreachable!("there is such a chest")
        };
        match Inspection::new(pack, piece, &mut numbers, &mut desks) {
            Ok(mut inspection) => test(&mut inspection),
            Err(_) => unreachable!("there is enough memory"),
        }
    })
}

/// Notes an answer about a part, both by name.
pub(crate) fn answer(
    inspection: &mut Inspection<'_, '_, UFloat>,
    part: &str,
    sign: &str,
    answer: Answer,
) {
    let (pack, parts) = (*inspection.pack(), inspection.piece().parts());
    let part = pack.find_part(parts, part).unwrap_or(usize::MAX);
    let kind = parts.get(part).map_or(u16::MAX, |part| part.kind);
    let ask = pack.find_ask(kind, sign).unwrap_or(u16::MAX);
    assert!(inspection.answer(part, ask, answer).is_ok());
}
