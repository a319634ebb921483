//! The tests: how long each takes, and which changes it comes to.

use crate::Trouble;
use crate::building::{Build, Program};
use crate::process::{Ended, Room, run};
use std::collections::{HashMap, HashSet};
use std::ffi::OsStr;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Mutex;
use std::time::{Duration, UNIX_EPOCH};

/// A test.
#[derive(Clone, Debug)]
pub struct Test {
    /// The program it is in.
    pub program: Program,
    /// Its name there.
    pub name: String,
    /// How long it takes when nothing is changed, of the processor's time.
    pub takes: Duration,
    /// The changes whose place it comes to.
    pub reaches: HashSet<usize>,
}

/// Programs that look at the sources themselves, which differ in the copy.
const ABOUT_SOURCES: [&str; 1] = ["tests:layers"];

/// How long a test may take while it is looked at.
const LONGEST: Duration = Duration::from_secs(900);

/// Runs every test once. What is known of a program that was not built anew is taken
/// from `notes`.
///
/// # Errors
/// If every test fails: then nothing can be said of changes. One that fails is named, and
/// left out.
pub fn trace(
    build: &Build,
    copy: &Path,
    room: &Path,
    notes: &Path,
    jobs: usize,
) -> Result<Vec<Test>, Trouble> {
    let helpers = build
        .helpers
        .iter()
        .map(|path| stamp(path))
        .collect::<String>();
    let known = fs::read_to_string(notes).unwrap_or_default();
    let known: HashMap<&str, &str> = known
        .lines()
        .filter_map(|line| line.split_once('\t'))
        .collect();
    let mut tests = Vec::new();
    let mut waiting = Vec::new();
    let is_about_sources = |program: &&Program| ABOUT_SOURCES.contains(&program.name.as_str());
    for program in build
        .programs
        .iter()
        .filter(|program| !is_about_sources(program))
    {
        for name in names(program)? {
            let key = format!(
                "{}{} {} {name}",
                stamp(&program.path),
                helpers,
                program.name
            );
            match known.get(key.as_str()).and_then(|said| read(said)) {
                Some((takes, reaches)) => tests.push((
                    key,
                    Test {
                        program: program.clone(),
                        name,
                        takes,
                        reaches,
                    },
                )),
                None => waiting.push((key, program.clone(), name)),
            }
        }
    }
    eprintln!(
        "{} tests, {} of them to be looked at …",
        tests.len() + waiting.len(),
        waiting.len()
    );
    let (tests, waiting, failed) = (
        Mutex::new(tests),
        Mutex::new(waiting),
        Mutex::new(Vec::new()),
    );
    std::thread::scope(|scope| {
        for job in 0..jobs {
            let (tests, waiting, failed) = (&tests, &waiting, &failed);
            scope.spawn(move || {
                while let Some((key, program, name)) = next(waiting) {
                    match look(&program, &name, copy, &room.join(format!("trace-{job}"))) {
                        Ok(test) => lock(tests).push((key, test)),
                        Err(trouble) => lock(failed).push(trouble.0),
                    }
                }
            });
        }
    });
    let (tests, failed) = (into_inner(tests), into_inner(failed));
    let mut text = String::new();
    for (key, test) in &tests {
        let numbers: Vec<String> = test.reaches.iter().map(usize::to_string).collect();
        let _ = writeln!(
            text,
            "{key}\t{}\t{}",
            test.takes.as_millis(),
            numbers.join(" ")
        );
    }
    fs::write(notes, text)?;
    // A browser that is not installed, say: the others can still notice a change.
    for failed in &failed {
        eprintln!("Left out: {failed}");
    }
    if tests.is_empty() {
        return Err(Trouble("No test passes when nothing is changed.".to_owned()));
    }
    Ok(tests.into_iter().map(|(_, test)| test).collect())
}

/// Tells one build of a program from another.
fn stamp(path: &Path) -> String {
    let Ok(about) = fs::metadata(path) else {
        return String::new();
    };
    let written = about
        .modified()
        .ok()
        .and_then(|at| at.duration_since(UNIX_EPOCH).ok());
    format!(
        "{:x}.{:x} ",
        written.unwrap_or_default().as_nanos(),
        about.len()
    )
}

fn read(said: &str) -> Option<(Duration, HashSet<usize>)> {
    let (takes, numbers) = said.split_once('\t')?;
    let takes = Duration::from_millis(takes.parse().ok()?);
    let numbers = numbers
        .split_whitespace()
        .map(str::parse)
        .collect::<Result<_, _>>();
    Some((takes, numbers.ok()?))
}

fn names(program: &Program) -> Result<Vec<String>, Trouble> {
    let output = Command::new(&program.path)
        .args(["--list", "--format", "terse"])
        .current_dir(&program.folder)
        .output()?;
    let text = String::from_utf8_lossy(&output.stdout);
    let names = text.lines().filter_map(|line| line.strip_suffix(": test"));
    Ok(names.map(str::to_owned).collect())
}

/// Runs one test and sees which places it comes to.
fn look(program: &Program, name: &str, copy: &Path, room: &Path) -> Result<Test, Trouble> {
    let room = Room::make(room)?;
    let trace: PathBuf = room.folder.join("trace");
    fs::create_dir_all(&trace)?;
    let pass = |key: &str, value: &OsStr| {
        let (ended, takes) = run(program, name, copy, &room, (key, value), LONGEST)?;
        if ended == Ended::Passed {
            return Ok(takes);
        }
        Err(Trouble(format!(
            "{} {name}: this test fails when nothing is changed",
            program.name
        )))
    };
    // Once to see what it comes to, which takes longer, and once to see how long it takes.
    pass("MUTANT_TRACE", trace.as_os_str())?;
    let takes = pass("MUTANT", OsStr::new("0"))?;
    let mut reaches = HashSet::new();
    for entry in fs::read_dir(&trace)? {
        let text = fs::read_to_string(entry?.path())?;
        reaches.extend(text.lines().filter_map(|line| line.parse::<usize>().ok()));
    }
    Ok(Test {
        program: program.clone(),
        name: name.to_owned(),
        takes,
        reaches,
    })
}

fn next<T>(waiting: &Mutex<Vec<T>>) -> Option<T> {
    lock(waiting).pop()
}

/// What a mutex guards here is never left half done.
pub fn lock<T>(mutex: &Mutex<T>) -> std::sync::MutexGuard<'_, T> {
    mutex
        .lock()
        .unwrap_or_else(std::sync::PoisonError::into_inner)
}

/// What a mutex guarded.
pub fn into_inner<T>(mutex: Mutex<T>) -> T {
    mutex
        .into_inner()
        .unwrap_or_else(std::sync::PoisonError::into_inner)
}
