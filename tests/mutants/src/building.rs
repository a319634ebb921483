//! Builds the copy's tests, with every change that compiles.

use crate::Trouble;
use crate::copy::Copy;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet, HashSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// A program that runs tests.
#[derive(Clone, Debug)]
pub struct Program {
    /// The program.
    pub path: PathBuf,
    /// The folder of its package, where its tests run.
    pub folder: PathBuf,
    /// Its package's folder and its own name.
    pub name: String,
}

/// What came of building.
#[derive(Debug)]
pub struct Build {
    /// The programs that run tests.
    pub programs: Vec<Program>,
    /// Programs that tests may run.
    pub helpers: Vec<PathBuf>,
}

/// Builds, and leaves out the changes that do not compile until the rest does.
pub fn build(copy: &mut Copy, target: &Path, notes: &Path) -> Result<Build, Trouble> {
    for round in 1.. {
        copy.rewrite()?;
        eprintln!("Building the tests, round {round} …");
        let messages = cargo(&copy.folder, target)?;
        let errors: Vec<&Value> = messages
            .iter()
            .filter_map(|m| {
                m.get("message")
                    .filter(|_| m["reason"] == "compiler-message")
            })
            .filter(|m| m["level"] == "error" && !m["spans"].as_array().is_none_or(Vec::is_empty))
            .collect();
        if errors.is_empty() {
            if messages.last().is_some_and(|m| m["success"] == true) {
                return Ok(built(&copy.folder, &messages));
            }
            return Err(Trouble("the copy does not build".to_owned()));
        }
        let mut dropped = 0;
        for error in &errors {
            dropped += drop_blamed(copy, error);
        }
        eprintln!(
            "  {} errors: {dropped} changes that do not compile are left out",
            errors.len()
        );
        remember(copy, notes)?;
        if dropped == 0 {
            let rendered = errors.first().and_then(|e| e["rendered"].as_str());
            return Err(Trouble(format!(
                "the copy does not build, and no change is to blame:\n{}",
                rendered.unwrap_or("")
            )));
        }
    }
    unreachable!("rounds have no end");
}

fn cargo(folder: &Path, target: &Path) -> Result<Vec<Value>, Trouble> {
    let mut command = Command::new("cargo");
    command
        .args(["test", "--workspace", "--no-run", "--message-format=json"])
        .current_dir(folder)
        .env("CARGO_TARGET_DIR", target)
        .env("CARGO_PROFILE_DEV_DEBUG", "0")
        .env("RUSTFLAGS", "--cap-lints=allow")
        .stderr(Stdio::null());
    let output = command.output()?;
    let text = String::from_utf8_lossy(&output.stdout);
    Ok(text
        .lines()
        .filter_map(|line| serde_json::from_str(line).ok())
        .collect())
}

fn built(folder: &Path, messages: &[Value]) -> Build {
    let mut programs = BTreeMap::new();
    let mut helpers = BTreeSet::new();
    for message in messages {
        let Some(path) = message["executable"].as_str() else {
            continue;
        };
        if message["profile"]["test"] != true {
            helpers.insert(PathBuf::from(path));
            continue;
        }
        let manifest = Path::new(message["manifest_path"].as_str().unwrap_or(""));
        let package = manifest.parent().unwrap_or(folder);
        let place = package.strip_prefix(folder).unwrap_or(package);
        let target = message["target"]["name"].as_str().unwrap_or("");
        let program = Program {
            path: PathBuf::from(path),
            folder: package.to_owned(),
            name: format!("{}:{target}", place.display()),
        };
        programs.insert(program.path.clone(), program);
    }
    Build {
        programs: programs.into_values().collect(),
        helpers: helpers.into_iter().collect(),
    }
}

/// Leaves out the changes that an error is due to; how many there are.
fn drop_blamed(copy: &mut Copy, error: &Value) -> usize {
    let no_spans = Vec::new();
    let mut spans: Vec<&Value> = error["spans"]
        .as_array()
        .unwrap_or(&no_spans)
        .iter()
        .collect();
    // Where it lies first, then what it has to do with.
    spans.sort_by_key(|span| span["is_primary"] != true);
    for span in spans {
        let name = span["file_name"].as_str().unwrap_or("");
        let number = |key| {
            span[key]
                .as_u64()
                .and_then(|n: u64| usize::try_from(n).ok())
        };
        let (Some(start), Some(end)) = (number("byte_start"), number("byte_end")) else {
            continue;
        };
        let source = copy
            .sources
            .iter_mut()
            .find(|source| name.ends_with(&source.path));
        let Some(source) = source else { continue };
        let blamed = source.rewritten.blame(&(start..end)).to_vec();
        if blamed.is_empty() {
            continue;
        }
        let new = blamed
            .into_iter()
            .filter(|&change| source.dropped.insert(change));
        return new.count();
    }
    0
}

/// Keeps what does not compile for the next time.
fn remember(copy: &Copy, notes: &Path) -> Result<(), Trouble> {
    let mut text = String::new();
    for source in &copy.sources {
        for change in &source.dropped {
            text += &format!("{} {change}\n", source.key());
        }
    }
    fs::write(notes, text)?;
    Ok(())
}

/// Leaves out what was found not to compile before.
pub fn recall(copy: &mut Copy, notes: &Path) {
    let text = fs::read_to_string(notes).unwrap_or_default();
    let known: HashSet<&str> = text.lines().collect();
    for source in &mut copy.sources {
        let key = source.key();
        let is_known = |change: &usize| known.contains(format!("{key} {change}").as_str());
        source.dropped = (0..source.found.changes.len()).filter(is_known).collect();
    }
}
