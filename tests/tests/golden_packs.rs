//! Packs of every released version open for ever, and say what they said.
//!
//! `tests/packs/v1` holds packs as they were built and, beside each, what a
//! reader of today sees in it, as text. To add one, put its rules beside it and
//! run this test with `TELLMARK_NEW_PACKS=1`, which writes what is missing; existing packs
//! are never written.

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use tellmark_compile::check::{Depth, check};
use tellmark_compile::room::{PackBytes, Room};
use tellmark_core::number::UFloat;
use tellmark_core::pack::Pack;
use tellmark_language::{SourceFile, read};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("packs/v1")
}

fn named(ending: &str) -> Vec<PathBuf> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder())
        .expect("the folder of packs is there")
        .map(|entry| entry.expect("readable").path())
        .filter(|path| path.to_string_lossy().ends_with(ending))
        .collect();
    paths.sort();
    paths
}

/// Everything in a pack, in words, with the chances of a piece as it usually
/// is.
fn twin(pack: &Pack<'_>) -> String {
    let mut out = String::new();
    let mut line = |text: String| {
        let _ = writeln!(out, "{text}");
    };
    line(format!("{:?}", pack.manifest()));
    let text = |number: u16| pack.text(number);
    for i in 0..pack.kinds() {
        let kind = pack.kind(i);
        line(format!(
            "kind {i}: {} / {}",
            text(kind.name),
            text(kind.plural)
        ));
    }
    for i in 0..pack.states() {
        let state = pack.state(i);
        line(format!("state {i}: {} {state:?}", text(state.phrase)));
    }
    for i in 0..pack.asks() {
        let ask = pack.ask(i);
        line(format!("ask {i}: {} {ask:?}", text(ask.question)));
    }
    for i in 0..pack.places() {
        line(format!("place {i}: {:?}", pack.place(i)));
    }
    for i in 0..pack.fragments() {
        line(format!("fragment {i}: {:?}", pack.fragment(i)));
    }
    for i in 0..pack.plans() {
        line(format!("plan {i}: {:?}", pack.plan(i)));
    }
    for i in 0..pack.jobs() {
        let job = pack.job(i);
        line(format!("job {i}: {} {job:?}", text(job.name)));
    }
    for i in 0..pack.constraints() {
        line(format!("constraint {i}: {:?}", pack.constraint(i)));
    }
    for i in 0..pack.cautions() {
        let caution = pack.caution(i);
        line(format!("caution {i}: {} {caution:?}", text(caution.text)));
    }
    for i in 0..pack.datings() {
        line(format!("dating {i}: {:?}", pack.dating(i)));
    }
    for i in 0..pack.rounds() {
        line(format!("round {i}: {:?}", pack.round(i)));
    }
    for i in 0..pack.steps() {
        line(format!("step {i}: {:?}", pack.step(i)));
    }
    for i in 0..pack.sentences() {
        let sentence = pack.sentence(i);
        line(format!(
            "sentence {i}: {} {sentence:?}",
            text(sentence.text)
        ));
    }
    for root in (0..pack.places()).filter(|&p| pack.place(p).owner == tellmark_core::pack::NONE) {
        chances(pack, root, &mut line);
    }
    out
}

fn chances(pack: &Pack<'_>, root: usize, line: &mut impl FnMut(String)) {
    let mut room = Room::<UFloat>::default();
    let mut inspection = room
        .inspection(*pack, root, |_, _, place| pack.place(place).usual)
        .expect("the usual counts are allowed");
    for part in 0..inspection.piece().parts().len() {
        let place = usize::from(inspection.piece().parts()[part].place);
        let bits: Vec<String> = (0..pack.states_of(place).count())
            .map(|slot| {
                let (no, yes) = inspection
                    .weights(part, slot)
                    .expect("nothing was answered");
                format!("{:08x}/{:08x}", no.to_bits(), yes.to_bits())
            })
            .collect();
        line(format!(
            "chances of part {part} at {place}: {}",
            bits.join(" ")
        ));
    }
}

#[test]
fn every_released_pack_still_says_the_same() {
    if std::env::var_os("TELLMARK_NEW_PACKS").is_some() {
        build_missing();
    }
    let packs = named(".pack");
    assert!(packs.len() >= 2, "there are packs to look at");
    for path in packs {
        let bytes = PackBytes::new(&fs::read(&path).expect("readable"));
        let pack = bytes
            .open()
            .unwrap_or_else(|why| panic!("{}: {why}", path.display()));
        let twins = path.with_extension("twin.txt");
        if !twins.exists() && std::env::var_os("TELLMARK_NEW_PACKS").is_some() {
            fs::write(&twins, twin(&pack)).expect("writable");
        }
        let expected =
            fs::read_to_string(twins).unwrap_or_else(|_| panic!("{} has no twin", path.display()));
        assert_eq!(twin(&pack), expected, "{}", path.display());
    }
}

/// Builds packs for rules that have none yet.
fn build_missing() {
    for rules in named(".rules.txt") {
        let name = rules.to_string_lossy().replace(".rules.txt", ".pack");
        let path = PathBuf::from(name);
        if path.exists() {
            continue;
        }
        let files = vec![SourceFile {
            name: rules
                .file_name()
                .map(|n| n.to_string_lossy().into_owned())
                .unwrap_or_default(),
            text: fs::read_to_string(&rules).expect("readable"),
            standard: false,
        }];
        let checked = check(read(files), Depth::Build);
        let messages: Vec<_> = checked.reading.messages.iter().map(|m| &m.text).collect();
        let built = checked.built.unwrap_or_else(|| panic!("{messages:?}"));
        fs::write(&path, built.bytes.bytes()).expect("writable");
        let pack = built.bytes.open().expect("a fresh pack opens");
        fs::write(path.with_extension("twin.txt"), twin(&pack)).expect("writable");
    }
}
