//! A copy of the workspace, whose sources are rewritten.
//!
//! A file is written only where it differs, so that a second build starts from the
//! first one.

use crate::Trouble;
use crate::find::{self, Found};
use crate::rewrite::{self, Rewritten};
use std::collections::{BTreeMap, HashSet};
use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};
use std::process::Command;

/// What switches changes on and off, in every crate that has any.
const SWITCH: &str = include_str!("switch.rs.txt");
/// This tool's own folder.
const OWN: &str = "tests/mutants/";

/// A source file with changes in it.
#[derive(Debug)]
pub struct Source {
    /// Its path from the workspace's folder.
    pub path: String,
    /// The part of the workspace that it belongs to.
    pub area: &'static str,
    text: String,
    /// What can be changed in it.
    pub found: Found,
    /// The number of its first change.
    pub first: usize,
    /// Changes that do not compile.
    pub dropped: HashSet<usize>,
    /// As it is in the copy.
    pub rewritten: Rewritten,
}

impl Source {
    /// Names this text of this file.
    pub fn key(&self) -> String {
        let mut hasher = DefaultHasher::new();
        self.text.hash(&mut hasher);
        format!("{} {:016x}", self.path, hasher.finish())
    }
}

/// The copy.
#[derive(Debug)]
pub struct Copy {
    /// Its folder.
    pub folder: PathBuf,
    /// The sources that are rewritten in it.
    pub sources: Vec<Source>,
}

impl Copy {
    /// Copies the workspace and looks for changes in these areas.
    pub fn make(root: &Path, folder: &Path, areas: &[&'static str]) -> Result<Self, Trouble> {
        let files = files(root)?;
        let sources = sources(root, &files, areas)?;
        let is_rewritten = |path: &str| sources.iter().any(|s| s.path == path);
        let mut crates = BTreeMap::<String, ()>::new();
        for source in &sources {
            crates.insert(crate_of(&files, &source.path)?, ());
        }
        let mut kept = HashSet::new();
        for path in &files {
            kept.insert(folder.join(path));
            if is_rewritten(path) {
                continue;
            }
            let mut bytes = fs::read(root.join(path))?;
            let is_root = |of: &String| *path == format!("{of}/src/lib.rs");
            if crates.keys().any(is_root) {
                bytes.extend(b"\n#[doc(hidden)]\n#[allow(missing_docs)]\npub mod mutant;\n");
            }
            write_changed(&folder.join(path), &bytes)?;
        }
        for of in crates.keys() {
            let path = folder.join(of).join("src/mutant.rs");
            write_changed(&path, SWITCH.as_bytes())?;
            kept.insert(path);
        }
        remove_others(folder, &kept)?;
        Ok(Self {
            folder: folder.to_owned(),
            sources,
        })
    }

    /// Writes the rewritten sources.
    pub fn rewrite(&mut self) -> Result<(), Trouble> {
        for source in &mut self.sources {
            source.rewritten =
                rewrite::rewrite(&source.text, &source.found, source.first, &source.dropped);
            let path = self.folder.join(&source.path);
            write_changed(&path, source.rewritten.text.as_bytes())?;
        }
        Ok(())
    }
}

/// What the repository holds, and what will be added to it.
fn files(root: &Path) -> Result<Vec<String>, Trouble> {
    let listed = Command::new("git")
        .args([
            "ls-files",
            "-z",
            "--cached",
            "--others",
            "--exclude-standard",
        ])
        .current_dir(root)
        .output()?;
    if !listed.status.success() {
        return Err(Trouble("git cannot list the workspace's files".to_owned()));
    }
    let text = String::from_utf8_lossy(&listed.stdout).into_owned();
    let mut files: Vec<String> = text
        .split('\0')
        .filter(|path| !path.is_empty() && !path.starts_with(OWN) && root.join(path).is_file())
        .map(str::to_owned)
        .collect();
    files.sort();
    files.dedup();
    Ok(files)
}

fn sources(root: &Path, files: &[String], areas: &[&'static str]) -> Result<Vec<Source>, Trouble> {
    let mut sources = Vec::new();
    let mut tests = Vec::new();
    // Numbers begin at 1: 0 is no change at all.
    let mut first = 1;
    for &area in areas {
        let folder = format!("{area}/");
        let within: Vec<_> = files
            .iter()
            .filter(|path| {
                (path.starts_with(&folder) || **path == format!("{area}.rs"))
                    && path.ends_with(".rs")
            })
            .collect();
        if within.is_empty() {
            return Err(Trouble(format!("{area}: there are no sources there")));
        }
        for path in within {
            let text = fs::read_to_string(root.join(path))?;
            let found = find::find(&text).map_err(|e| Trouble(format!("{path}: {e}")))?;
            tests.extend(found.test_modules.iter().map(|name| module(path, name)));
            sources.push(Source {
                path: path.clone(),
                area,
                text,
                found,
                first: 0,
                dropped: HashSet::new(),
                rewritten: Rewritten::default(),
            });
        }
    }
    sources.retain(|source| {
        let is_test = |module: &String| {
            source.path == format!("{module}.rs") || source.path.starts_with(&format!("{module}/"))
        };
        !tests.iter().any(is_test)
    });
    for source in &mut sources {
        source.first = first;
        first += source.found.changes.len();
    }
    Ok(sources)
}

/// Where a module's file is, without its ending.
fn module(parent: &str, name: &str) -> String {
    let stem = parent.strip_suffix(".rs").unwrap_or(parent);
    let folder = stem.strip_suffix("/mod").unwrap_or(stem);
    format!("{folder}/{name}")
}

fn crate_of(files: &[String], path: &str) -> Result<String, Trouble> {
    let mut folders = Path::new(path).ancestors().skip(1);
    folders
        .find(|folder| files.contains(&folder.join("Cargo.toml").to_string_lossy().into_owned()))
        .map(|folder| folder.to_string_lossy().into_owned())
        .ok_or_else(|| Trouble(format!("{path} belongs to no crate")))
}

fn write_changed(path: &Path, bytes: &[u8]) -> Result<(), Trouble> {
    if fs::read(path).is_ok_and(|there| there == bytes) {
        return Ok(());
    }
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)?;
    }
    fs::write(path, bytes)?;
    Ok(())
}

/// What was moved or removed since must not stay in the copy.
fn remove_others(folder: &Path, kept: &HashSet<PathBuf>) -> Result<(), Trouble> {
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() && !path.is_symlink() {
            remove_others(&path, kept)?;
            // Only an empty folder can be removed so.
            let _ = fs::remove_dir(&path);
        } else if !kept.contains(&path) {
            fs::remove_file(path)?;
        }
    }
    Ok(())
}
