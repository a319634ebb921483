//! Puts the memory map where the linker looks, and the standard pack where the
//! sources include it.

use std::path::{Path, PathBuf};
use std::{env, fs};

fn main() {
    println!("cargo::rerun-if-env-changed=TELLMARK_PACK");
    let Some(out) = env::var_os("OUT_DIR").map(PathBuf::from) else {
        println!("cargo::error=cargo did not say where to write");
        return;
    };
    let Some(pack) = env::var_os("TELLMARK_PACK").map(PathBuf::from) else {
        println!(
            "cargo::error=TELLMARK_PACK names no pack: build with ./build.sh, or set it to the \
             full path of a file that `tellmark build` wrote"
        );
        return;
    };
    copy(&pack, &out.join("standard.pack"));
    copy(Path::new("measure.x"), &out.join("memory.x"));
    println!("cargo::rustc-link-search={}", out.display());
}

fn copy(from: &Path, to: &Path) {
    println!("cargo::rerun-if-changed={}", from.display());
    if let Err(why) = fs::copy(from, to) {
        println!("cargo::error=could not copy {}: {why}", from.display());
    }
}
