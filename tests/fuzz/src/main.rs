//! Runs campaigns from the command line; `README.md` beside this says how.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::Duration;
use tellmark_fuzz::campaign::{Orders, Tally};
use tellmark_fuzz::case::{Bounds, catch_panics, run};
use tellmark_fuzz::coverage::Edges;
use tellmark_fuzz::memory::set_ceiling;
use tellmark_fuzz::targets::{Seen, TARGETS, Target, named, set_scratch};
use tellmark_fuzz::workers::{campaigns, watch_for_hangs, work};

const USAGE: &str = "\
Usage: tellmark-fuzz (--all | --target NAME) [--seconds N] [--cases N] [--seed N]
                     [--jobs N] [--slow SECONDS] [--findings DIR] [--corpus DIR]
       tellmark-fuzz --repro FILE [--target NAME]

  --seconds   for how long in all; shared out among the targets (60)
  --cases     how many cases for each target (no end)
  --seed      where inputs begin (1); the same seed makes the same cases
  --jobs      how many processes at a time (1)
  --slow      a case that takes the processor for longer is a finding (1)
  --findings  where harmful inputs go (tests/fuzz/findings)
  --corpus    a folder in which inputs that did something new are kept
  --repro     runs one input: a finding, or a file of tests/fuzz/corpus";

/// Memory that a process may take in all before an allocation fails.
const CEILING: usize = 3 << 30;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match parse(&arguments) {
        Ok(asked) => match go(asked) {
            Ok(code) => ExitCode::from(code),
            Err(why) => {
                eprintln!("{why}");
                ExitCode::from(3)
            }
        },
        Err(why) => {
            eprintln!("{why}\n\n{USAGE}");
            eprintln!("\nTargets: {}", TARGETS.map(|t| t.name).join(", "));
            ExitCode::from(2)
        }
    }
}

struct Asked {
    targets: Vec<&'static Target>,
    orders: Orders,
    jobs: usize,
    repro: Option<PathBuf>,
    worker: Option<PathBuf>,
}

fn parse(arguments: &[String]) -> Result<Asked, String> {
    let mut asked = Asked {
        targets: Vec::new(),
        orders: Orders {
            seed: 1,
            cases: u64::MAX,
            time: Duration::from_secs(60),
            bounds: Bounds::default(),
            findings: Path::new(env!("CARGO_MANIFEST_DIR")).join("findings"),
            case_file: None,
            corpus: None,
        },
        jobs: 1,
        repro: None,
        worker: None,
    };
    let mut rest = arguments.iter();
    while let Some(option) = rest.next() {
        if option == "--all" {
            asked.targets = TARGETS.iter().collect();
            continue;
        }
        let value = rest.next().ok_or(format!("{option} lacks a value."))?;
        let bad = || format!("{option} {value}: that is no number.");
        let seconds = || {
            value
                .parse()
                .ok()
                .and_then(|s| Duration::try_from_secs_f64(s).ok())
        };
        match option.as_str() {
            "--target" => {
                let target = named(value).ok_or(format!("There is no target {value}."))?;
                asked.targets.push(target);
            }
            "--seconds" => asked.orders.time = seconds().ok_or_else(bad)?,
            "--slow" => asked.orders.bounds.time = seconds().ok_or_else(bad)?,
            "--cases" => {
                asked.orders.cases = value.parse().map_err(|_| bad())?;
                if !arguments.iter().any(|a| a == "--seconds") {
                    asked.orders.time = Duration::from_secs(u64::from(u32::MAX));
                }
            }
            "--seed" => asked.orders.seed = value.parse().map_err(|_| bad())?,
            "--jobs" => asked.jobs = value.parse().map_err(|_| bad())?,
            "--findings" => asked.orders.findings = value.into(),
            "--corpus" => asked.orders.corpus = Some(value.into()),
            "--repro" => asked.repro = Some(value.into()),
            "--worker" => asked.worker = Some(value.into()),
            _ => return Err(format!("There is no option {option}.")),
        }
    }
    if let Some(path) = &asked.repro
        && asked.targets.is_empty()
    {
        asked.targets.extend(target_of(path));
    }
    if asked.targets.is_empty() || asked.jobs == 0 {
        return Err("Which target, and how many processes?".to_owned());
    }
    Ok(asked)
}

/// The target that a finding is of: "notes-1a2b3c4d", or a file in a folder "notes".
fn target_of(path: &Path) -> Option<&'static Target> {
    let name = path.file_name()?.to_string_lossy();
    let folder = path.parent().and_then(Path::file_name);
    let folder = folder.map(|folder| folder.to_string_lossy());
    let named_so = |target: &&Target| {
        let dashed = name.rsplit_once('-').is_some_and(|(n, _)| n == target.name);
        dashed || folder.as_deref() == Some(target.name)
    };
    TARGETS.iter().find(named_so)
}

fn go(asked: Asked) -> std::io::Result<u8> {
    if let Some(path) = &asked.repro {
        return repro(asked.targets[0], path, &asked.orders.bounds);
    }
    if let Some(folder) = &asked.worker {
        set_ceiling(CEILING);
        catch_panics();
        work(asked.targets[0], &asked.orders, folder)?;
        return Ok(0);
    }
    if !cfg!(debug_assertions) {
        eprintln!("Built without checks of overflow and assertions: use --profile fuzz.");
    }
    let all = campaigns(&asked.targets, &asked.orders, asked.jobs)?;
    print(&all, &asked);
    let found = all.values().any(|(tally, _)| !tally.findings.is_empty());
    Ok(u8::from(found))
}

fn repro(target: &Target, path: &Path, bounds: &Bounds) -> std::io::Result<u8> {
    let input = std::fs::read(path)?;
    let scratch = std::env::temp_dir().join(format!("tellmark-fuzz-repro-{}", std::process::id()));
    set_scratch(&scratch);
    set_ceiling(CEILING);
    catch_panics();
    watch_for_hangs();
    let outcome = run(target, &input, &mut Seen::default(), bounds);
    let _ = std::fs::remove_dir_all(&scratch);
    println!(
        "{}: {} bytes, {} ms, {} kB",
        target.name,
        input.len(),
        outcome.took.as_millis(),
        outcome.memory >> 10
    );
    match outcome.harm {
        Some(harm) => {
            println!("{} {harm}", target.name);
            Ok(1)
        }
        None => {
            println!("No harm.");
            Ok(0)
        }
    }
}

fn print(all: &BTreeMap<&'static str, (Tally, Duration)>, asked: &Asked) {
    let edges = if Edges::are_counted() { "   edges" } else { "" };
    println!(
        "target        cases  seconds  cases/s   kept  marks{edges}  slowest, ms  memory, MB  findings"
    );
    let mut sum = 0;
    for target in &asked.targets {
        let Some((tally, time)) = all.get(target.name) else {
            continue;
        };
        sum += tally.cases;
        let seconds = time.as_secs_f64();
        let edges = if Edges::are_counted() {
            format!("  {:6}", tally.edges)
        } else {
            String::new()
        };
        println!(
            "{:8} {:10}  {:7.0}  {:7.0} {:6} {:6}{edges}  {:11.1}  {:10.1}  {:8}",
            target.name,
            tally.cases,
            seconds,
            tally.cases as f64 / seconds.max(0.001),
            tally.kept,
            tally.marks,
            tally.slowest.as_secs_f64() * 1000.0,
            tally.memory as f64 / f64::from(1 << 20),
            tally.findings.len()
        );
        for (key, times) in &tally.findings {
            println!("    {times} times: {key}");
        }
    }
    println!("{sum} cases, seed {}.", asked.orders.seed);
    if all.values().any(|(tally, _)| !tally.findings.is_empty()) {
        println!("Harmful inputs are in {}.", asked.orders.findings.display());
    }
}
