//! A chest of drawers for unit tests, under the rules of `tests/packs/v1/further.rules.txt`.

use crate::survey::{Memory, PackBytes, Survey};

/// Does something with a chest of so many drawers.
pub(crate) fn with_chest<T>(drawers: u8, test: impl FnOnce(&mut Survey<'_, '_>) -> T) -> T {
    let file = include_bytes!("../../tests/packs/v1/further.pack");
    let Ok(bytes) = PackBytes::<2_048>::copy(file) else {
        unreachable!("the pack is shorter")
    };
    let Ok(pack) = bytes.open() else {
        unreachable!("it is a pack")
    };
    let mut memory: Memory<128, 512, 4_096> = Memory::new();
    let counts = [("drawers", drawers)];
    match Survey::begin(pack, &mut memory, "chest of drawers", &counts) {
        Ok(mut survey) => test(&mut survey),
        Err(error) => unreachable!("{error}"),
    }
}
