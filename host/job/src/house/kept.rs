//! What was worked out of a set of rules, kept for the next time.
//!
//! Reading and building the rules takes longer than answering a question from
//! them. So the outcome lies in the user's cache folder, under a name made from
//! the rules' own words and this program's sources: other rules, or another
//! program, never find it. It is only ever a short cut: what is not there, or is
//! damaged, is worked out again, and nothing is said if it cannot be written.

use crate::plain::write_whole;
use etcetera::BaseStrategy as _;
use std::fs;
use std::path::PathBuf;
use tellmark_compile::check::Checked;
use tellmark_compile::{Built, Kept};
use tellmark_language::model::Model;
use tellmark_language::{Files, Reading, SourceFile};

/// Sums that make the name, and guard the bytes.
const SUM: crc::Crc<u64> = crc::Crc::<u64>::new(&crc::CRC_64_XZ);
const SECOND_SUM: crc::Crc<u64> = crc::Crc::<u64>::new(&crc::CRC_64_ECMA_182);

/// How many sets of rules are kept; the oldest make room.
const MOST: usize = 16;

/// The name under which rules are kept.
pub(super) fn key(files: &[SourceFile]) -> String {
    let (mut one, mut other) = (SUM.digest(), SECOND_SUM.digest());
    let mut add = |bytes: &[u8]| {
        // The length keeps one file's end apart from the next one's beginning.
        let length = bytes.len().to_le_bytes();
        for digest in [&mut one, &mut other] {
            digest.update(&length);
            digest.update(bytes);
        }
    };
    add(env!("TELLMARK_SOURCES").as_bytes());
    for file in files {
        add(file.name.as_bytes());
        add(&[u8::from(file.standard)]);
        add(file.text.as_bytes());
    }
    format!("{:016x}{:016x}", one.finalize(), other.finalize())
}

fn folder() -> Option<PathBuf> {
    let base = etcetera::choose_base_strategy().ok()?;
    Some(base.cache_dir().join("tellmark"))
}

/// The rules as they were worked out before.
pub(super) fn find(key: &str, files: &[SourceFile]) -> Option<Checked> {
    let bytes = fs::read(folder()?.join(key)).ok()?;
    let (sum, rest) = bytes.split_first_chunk::<8>()?;
    if SUM.checksum(rest) != u64::from_le_bytes(*sum) {
        return None;
    }
    let (model, kept): (Model, Kept) = postcard::from_bytes(rest).ok()?;
    let built = Built::from_kept(&model, kept)?;
    Some(Checked {
        reading: Reading {
            files: Files::from(files.to_vec()),
            model,
            messages: Vec::new(),
        },
        built: Some(built),
    })
}

/// Keeps rules that were built.
pub(super) fn keep(key: &str, checked: &Checked) {
    let (Some(built), Some(folder)) = (&checked.built, folder()) else {
        return;
    };
    let Ok(rest) = postcard::to_stdvec(&(&checked.reading.model, built.kept())) else {
        return;
    };
    let mut bytes = SUM.checksum(&rest).to_le_bytes().to_vec();
    bytes.extend(rest);
    if fs::create_dir_all(&folder).is_ok() && write_whole(&folder.join(key), &bytes).is_ok() {
        make_room(&folder);
    }
}

fn make_room(folder: &std::path::Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    let mut files: Vec<_> = entries
        .flatten()
        .filter_map(|entry| {
            let written = entry.metadata().ok()?.modified().ok()?;
            Some((written, entry.path()))
        })
        .collect();
    files.sort();
    let too_many = files.len().saturating_sub(MOST);
    for (_, path) in files.into_iter().take(too_many) {
        // Whoever cannot remove it will find it there next time.
        let _ = fs::remove_file(path);
    }
}
