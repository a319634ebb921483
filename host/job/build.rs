//! Puts the standard rules into the program: every `*.rules.txt` in the
//! repository's `rules` folder, and in its `families`. And gives the program a number that changes
//! with its sources, so that it does not go by what another build has kept.

use std::env;
use std::fmt::Write as _;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

fn main() -> io::Result<()> {
    let here = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default());
    let root = here.join("..").join("..");
    let folder = root.join("rules");
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default());
    fs::write(out.join("standard_rules.rs"), included(&folder)?)?;
    fs::write(out.join("families.rs"), included(&folder.join("families"))?)?;
    let mut digest = CRC.digest();
    for sources in [
        "core/src",
        "host/language/src",
        "host/compile/src",
        "host/job/src",
    ] {
        let folder = root.join(sources);
        println!("cargo::rerun-if-changed={}", folder.display());
        add_sources(&folder, &mut digest)?;
    }
    println!(
        "cargo::rustc-env=TELLMARK_SOURCES={:016x}",
        digest.finalize()
    );
    Ok(())
}

/// The files of rules in a folder, as a list of names and texts.
fn included(folder: &Path) -> io::Result<String> {
    println!("cargo::rerun-if-changed={}", folder.display());
    let mut list = String::from("&[\n");
    for path in rule_files(folder)? {
        println!("cargo::rerun-if-changed={}", path.display());
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let path = path.canonicalize()?;
        // Writing to a string cannot fail.
        let _ = writeln!(
            list,
            "    ({name:?}, include_str!({:?})),",
            path.to_string_lossy()
        );
    }
    list.push_str("]\n");
    Ok(list)
}

const CRC: crc::Crc<u64> = crc::Crc::<u64>::new(&crc::CRC_64_XZ);

fn add_sources(folder: &Path, digest: &mut crc::Digest<'_, u64>) -> io::Result<()> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder)?
        .map(|entry| entry.map(|e| e.path()))
        .collect::<Result<_, _>>()?;
    paths.sort();
    for path in paths {
        if path.is_dir() {
            add_sources(&path, digest)?;
        } else {
            digest.update(path.to_string_lossy().as_bytes());
            digest.update(&fs::read(&path)?);
        }
    }
    Ok(())
}

/// None if there is no such folder: then there are no standard rules.
fn rule_files(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(why) if why.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(why) => return Err(why),
    };
    let mut files = Vec::new();
    for entry in entries {
        let path = entry?.path();
        if path.to_string_lossy().ends_with(".rules.txt") {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}
