//! Each campaign in a process of its own: what overflows its stack, is aborted or never
//! comes back is found by the input that it left behind.

use crate::campaign::{Orders, Tally, campaign, last_case, save};
use crate::case::{Harm, running_for};
use crate::minimise::minimise;
use crate::targets::{Target, set_scratch};
use std::collections::BTreeMap;
use std::env;
use std::fs;
use std::io::{self, BufRead as _, BufReader, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::Mutex;
use std::thread;
use std::time::{Duration, Instant};

/// A case that takes so long will not come back.
const HANGS: Duration = Duration::from_secs(60);
/// The exit code of a process whose case hangs.
const HUNG: i32 = 77;
/// How often a campaign is begun anew after it died.
const LIVES: u64 = 6;

/// A folder for case files and the files of targets: in memory, where the system has
/// such a place.
fn scratch() -> PathBuf {
    let memory = Path::new("/dev/shm");
    let parent = if memory.is_dir() {
        memory.to_owned()
    } else {
        env::temp_dir()
    };
    parent.join(format!("tellmark-fuzz-{}", std::process::id()))
}

/// Campaigns for these targets, so many processes at a time. The seconds are shared out;
/// every target runs at least its seeds.
///
/// # Errors
/// If a process cannot be started, or a finding not written down.
pub fn campaigns(
    targets: &[&'static Target],
    orders: &Orders,
    jobs: usize,
) -> io::Result<BTreeMap<&'static str, (Tally, Duration)>> {
    // One target alone gets all the processes.
    let copies = if targets.len() == 1 { jobs } else { 1 };
    let mut waiting: Vec<(&'static Target, u64)> = Vec::new();
    for copy in 0..copies {
        waiting.extend(targets.iter().rev().map(|t| (*t, copy as u64 * 1_000)));
    }
    let share = orders
        .time
        .mul_f64(jobs as f64 / waiting.len().max(1) as f64);
    let share = share.min(orders.time);
    let waiting = Mutex::new(waiting);
    let all = Mutex::new(BTreeMap::<&'static str, (Tally, Duration)>::new());
    let scratch = scratch();
    let done: io::Result<()> = thread::scope(|scope| {
        let threads: Vec<_> = (0..jobs)
            .map(|job| {
                let (waiting, all, scratch) = (&waiting, &all, &scratch);
                scope.spawn(move || -> io::Result<()> {
                    loop {
                        let next = waiting.lock().map_or(None, |mut w| w.pop());
                        let Some((target, copy)) = next else {
                            return Ok(());
                        };
                        let start = Instant::now();
                        let folder = scratch.join(format!("{job}"));
                        let orders = Orders {
                            seed: orders.seed + copy,
                            time: share,
                            ..orders.clone()
                        };
                        let tally = watched(target, &orders, &folder)?;
                        if let Ok(mut all) = all.lock() {
                            let (sum, time) = all.entry(target.name).or_default();
                            add(sum, &tally);
                            *time += start.elapsed();
                        }
                    }
                })
            })
            .collect();
        threads
            .into_iter()
            .try_for_each(|thread| thread.join().unwrap_or(Ok(())))
    });
    let _ = fs::remove_dir_all(&scratch);
    done?;
    Ok(all.into_inner().unwrap_or_default())
}

fn add(sum: &mut Tally, tally: &Tally) {
    sum.cases += tally.cases;
    sum.kept = sum.kept.max(tally.kept);
    sum.marks = sum.marks.max(tally.marks);
    sum.edges = sum.edges.max(tally.edges);
    sum.slowest = sum.slowest.max(tally.slowest);
    sum.memory = sum.memory.max(tally.memory);
    for (key, times) in &tally.findings {
        *sum.findings.entry(key.clone()).or_default() += times;
    }
}

/// A campaign in another process, begun anew when that dies.
fn watched(target: &'static Target, orders: &Orders, folder: &Path) -> io::Result<Tally> {
    let start = Instant::now();
    let mut sum = Tally::default();
    for life in 0..LIVES {
        fs::create_dir_all(folder)?;
        let left = orders.time.saturating_sub(start.elapsed());
        let orders = Orders {
            seed: orders.seed + life * 7_919,
            cases: orders.cases.saturating_sub(sum.cases),
            time: left,
            ..orders.clone()
        };
        let mut child = start_worker(target, &orders, folder)?;
        let mut tally = Tally::default();
        if let Some(out) = child.stdout.take() {
            for line in BufReader::new(out).lines().map_while(Result::ok) {
                tally = from_line(&line).unwrap_or(tally);
            }
        }
        let ended = child.wait()?;
        if ended.success() {
            add(&mut sum, &tally);
            return Ok(sum);
        }
        let harm = Harm::Crash(how_it_ended(ended));
        *tally.findings.entry(harm.key()).or_default() += 1;
        add(&mut sum, &tally);
        let Some(input) = last_case(&folder.join("case")) else {
            // It did not come as far as its first case: nothing to begin anew with.
            return Ok(sum);
        };
        save(&orders.findings, target, &input, &harm)?;
        let shorter = minimise(&input, Duration::from_secs(60), |input| {
            dies_alike(target, input, folder, ended).unwrap_or(false)
        });
        save(&orders.findings, target, &shorter, &harm)?;
        let _ = fs::remove_dir_all(folder);
    }
    Ok(sum)
}

fn how_it_ended(ended: ExitStatus) -> String {
    if ended.code() == Some(HUNG) {
        format!("does not come back in {} s", HANGS.as_secs())
    } else {
        ended.to_string()
    }
}

fn start_worker(target: &Target, orders: &Orders, folder: &Path) -> io::Result<Child> {
    let mut command = Command::new(env::current_exe()?);
    command
        .arg("--worker")
        .arg(folder)
        .args(["--target", target.name])
        .args(["--seed", &orders.seed.to_string()])
        .args(["--cases", &orders.cases.to_string()])
        .args(["--seconds", &orders.time.as_secs_f64().to_string()])
        .args(["--slow", &orders.bounds.time.as_secs_f64().to_string()])
        .arg("--findings")
        .arg(&orders.findings);
    if let Some(corpus) = &orders.corpus {
        command.arg("--corpus").arg(corpus);
    }
    command.stdout(Stdio::piped()).spawn()
}

fn dies_alike(target: &Target, input: &[u8], folder: &Path, ended: ExitStatus) -> io::Result<bool> {
    let path = folder.join("shorter");
    fs::write(&path, input)?;
    let status = Command::new(env::current_exe()?)
        .args(["--target", target.name, "--repro"])
        .arg(&path)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()?;
    Ok(status == ended)
}

/// The other process: runs the campaign and prints how it stands.
///
/// # Errors
/// If something cannot be written.
pub fn work(target: &Target, orders: &Orders, folder: &Path) -> io::Result<()> {
    set_scratch(&folder.join("files"));
    watch_for_hangs();
    let orders = Orders {
        case_file: Some(folder.join("case")),
        ..orders.clone()
    };
    let mut out = io::stdout().lock();
    campaign(target, &orders, |tally| {
        // Nobody may be listening any more; then this process is ended soon.
        let _ = writeln!(out, "{}", to_line(tally));
        let _ = out.flush();
    })?;
    Ok(())
}

/// Ends this process when a case does not come back.
pub fn watch_for_hangs() {
    thread::spawn(|| {
        loop {
            thread::sleep(Duration::from_millis(500));
            if running_for() > HANGS {
                std::process::exit(HUNG);
            }
        }
    });
}

fn to_line(tally: &Tally) -> String {
    let findings: String = tally
        .findings
        .iter()
        .map(|(key, times)| format!("\t{times} {key}"))
        .collect();
    format!(
        "{}\t{}\t{}\t{}\t{}\t{}{findings}",
        tally.cases,
        tally.kept,
        tally.marks,
        tally.edges,
        tally.slowest.as_micros(),
        tally.memory
    )
}

fn from_line(line: &str) -> Option<Tally> {
    let mut fields = line.split('\t');
    let mut number = || fields.next()?.parse::<u64>().ok();
    let mut tally = Tally {
        cases: number()?,
        kept: usize::try_from(number()?).ok()?,
        marks: usize::try_from(number()?).ok()?,
        edges: usize::try_from(number()?).ok()?,
        slowest: Duration::from_micros(number()?),
        memory: usize::try_from(number()?).ok()?,
        findings: BTreeMap::new(),
    };
    for finding in fields {
        let (times, key) = finding.split_once(' ')?;
        tally.findings.insert(key.to_owned(), times.parse().ok()?);
    }
    Some(tally)
}
