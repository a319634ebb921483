//! A house's rules on top of the standard ones.

use super::{Form, Seen, Target, files, rules};
use tellmark_compile::check::{Depth, check};
use tellmark_job::house::standard;
use tellmark_language::{SourceFile, read};

pub(super) const TARGET: Target = Target {
    name: "house",
    form: Form::Text,
    longest: 2_000,
    memory: 0,
    run,
    seeds,
    words: rules::dictionary,
};

fn run(input: &[u8], seen: &mut Seen) {
    let mut files = standard();
    files.push(SourceFile {
        name: "house.rules.txt".to_owned(),
        text: String::from_utf8_lossy(input).into_owned(),
        standard: false,
    });
    let checked = check(read(files), Depth::Build);
    rules::told(&checked.reading, 0, seen);
    if let Some(built) = &checked.built {
        seen.note_size(5, built.bytes.bytes().len());
        assert!(built.bytes.open().is_ok(), "a pack that does not open");
    }
}

fn seeds() -> Vec<Vec<u8>> {
    let mut seeds = Vec::new();
    for text in files("rules", ".rules.txt") {
        let text = String::from_utf8_lossy(&text).into_owned();
        for entry in text.split("\n\n").step_by(12) {
            seeds.push(entry.as_bytes().to_vec());
        }
    }
    seeds.push(
        b"If a back is creaking, that usually means it is loose on the nails.\n\
          Instead of \"wax the runners\": Job: wax the runners.  Takes: 1 hour\n"
            .to_vec(),
    );
    seeds
}
