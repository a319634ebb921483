//! Puts the standard rules into the program: every `*.rules.txt` in the
//! repository's `rules` folder.

use std::env;
use std::fmt::Write as _;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

fn main() -> io::Result<()> {
    let here = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default());
    let folder = here.join("..").join("rules");
    println!("cargo::rerun-if-changed={}", folder.display());
    let mut list = String::from("&[\n");
    for path in rule_files(&folder)? {
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
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default());
    fs::write(out.join("standard_rules.rs"), list)
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
