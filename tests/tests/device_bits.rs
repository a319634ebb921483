//! The bench unit and the host must give the same bits. This works out a hash of
//! all chances for each of a thousand sets of answers; `tests/device/run.mjs`
//! compares them with what the unit's binary gives in an emulator. The unit keeps
//! one inspection and changes its answers from set to set, the host starts every
//! set from nothing: so this also shows that no answer taken back leaves a trace.
//!
//! `UPDATE=1 cargo test -p tellmark-tests --test all device_bits` writes
//! `tests/device/bits.snap` anew.

#[path = "../../hw-notes/firmware/src/sets.rs"]
mod sets;

use std::fmt::Write as _;
use std::path::Path;
use tellmark_compile::check::{Depth, check};
use tellmark_compile::room::Room;
use tellmark_core::number::UFloat;
use tellmark_core::pack::Pack;
use tellmark_job::house::standard;
use tellmark_language::read;

fn hashes(pack: Pack<'_>) -> Vec<u32> {
    let mut hashes = Vec::new();
    for trial in sets::TRIALS {
        let root = sets::root_of(&pack, trial.piece).expect("the pack knows the piece");
        for _ in 0..trial.sets {
            let set = u32::try_from(hashes.len()).expect("few sets");
            let mut room: Room<UFloat> = Room::default();
            let mut inspection = room
                .inspection(pack, root, sets::counts(pack, trial.drawers))
                .expect("the pack allows the piece");
            hashes.push(sets::hash(&mut inspection, set));
        }
    }
    hashes
}

#[test]
fn a_thousand_sets_of_answers_give_the_bits_kept_for_the_unit() {
    let checked = check(read(standard()), Depth::Build);
    let built = checked.built.expect("the standard rules build");
    let pack = built.bytes.open().expect("what was built opens");
    let hashes = hashes(pack);

    assert_eq!(hashes.len(), 1000);
    let impossible = hashes.iter().filter(|&&h| h == sets::IMPOSSIBLE).count();
    assert!(impossible < 100, "{impossible} sets cannot all be true");
    let mut apart = hashes.clone();
    apart.sort_unstable();
    apart.dedup();
    assert!(
        apart.len() > 1000 - impossible - 3,
        "{} differ",
        apart.len()
    );

    let mut found = format!("pack 0x{:x}\n", pack.id());
    for (set, hash) in hashes.iter().enumerate() {
        let _ = writeln!(found, "{set} 0x{hash:x}");
    }
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("device/bits.snap");
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(&file, &found).expect("the file can be written");
    }
    let kept = std::fs::read_to_string(&file).unwrap_or_default();
    let head = |text: &str| text.lines().next().unwrap_or_default().to_owned();
    assert_eq!(
        head(&kept),
        head(&found),
        "the standard rules are not those that bits.snap was written for; UPDATE=1 writes it anew"
    );
    let other: Vec<_> = kept
        .lines()
        .zip(found.lines())
        .filter(|(kept, found)| kept != found)
        .collect();
    assert!(
        other.is_empty(),
        "{} of 1000 differ: {other:?}",
        other.len()
    );
}
