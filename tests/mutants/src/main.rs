//! Makes small changes to the sources, one at a time, and sees whether a test notices.
//!
//! A tool that builds the workspace anew for every change takes 40 seconds for each,
//! and there are some two thousand. This one puts all of them into one copy of the
//! sources, each behind a switch that an environment variable turns on
//! ([`rewrite`]), builds the tests once ([`building`]), sees which tests come to which
//! change ([`suite`]), and runs only those, the quickest first ([`trial`]).
//!
//! Everything it writes is in its own `target` folder.

mod allowed;
mod building;
mod copy;
mod find;
mod process;
mod rewrite;
mod suite;
mod table;
mod trial;

use std::fmt;
use std::fs;
use std::path::Path;
use std::process::ExitCode;
use std::sync::Mutex;

use copy::Copy;
use table::Outcomes;
use trial::{Mutant, Outcome};

/// The parts of the workspace whose sources are changed.
const AREAS: [&str; 9] = [
    "core/src/belief",
    "core/src/logic",
    "core/src/pack/condition",
    "core/src/plan",
    "core/src/dating",
    "core/src/log",
    "host/job/src/hours",
    "host/job/src/record",
    "host/job/src/advice",
];

const HELP: &str = "\
Makes small changes to the sources, one at a time, and sees whether a test notices.

    cargo run --release --manifest-path tests/mutants/Cargo.toml -- [options]

    --only PATH    changes in this folder or file only; may be given more than once
    --sample N     N of them only
    --seed N       which ones (1)
    --again        only those that no test noticed the last time
    --new          only those that were never tried
    --quick N      leave out tests that take longer than N seconds
    --without NAME leave out the tests of this program, such as command:all; may be given
                   more than once
    --jobs N       so many at a time (2)
    --list         say what would be changed, and end
    --table        say what is known, and end

Ends with 0 if tests notice every change that is not in allowed.txt, else with 1.
";

/// Something that keeps this tool from doing its work, in words.
#[derive(Debug)]
pub struct Trouble(pub String);

impl<E: std::error::Error> From<E> for Trouble {
    fn from(error: E) -> Self {
        Self(error.to_string())
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// What was asked for.
struct Options {
    only: Vec<String>,
    sample: Option<usize>,
    seed: u64,
    again: bool,
    new: bool,
    quick: Option<u64>,
    without: Vec<String>,
    jobs: usize,
    list: bool,
    table: bool,
}

impl Options {
    /// `None` if help is asked for.
    fn read(mut words: impl Iterator<Item = String>) -> Result<Option<Self>, Trouble> {
        let mut options = Self {
            only: Vec::new(),
            sample: None,
            seed: 1,
            again: false,
            new: false,
            quick: None,
            without: Vec::new(),
            jobs: 2,
            list: false,
            table: false,
        };
        while let Some(word) = words.next() {
            let mut value = || {
                let missing = || Trouble(format!("{word} what? See --help."));
                words.next().ok_or_else(missing)
            };
            match word.as_str() {
                "--only" => options.only.push(value()?.trim_end_matches('/').to_owned()),
                "--sample" => options.sample = Some(value()?.parse()?),
                "--seed" => options.seed = value()?.parse()?,
                "--quick" => options.quick = Some(value()?.parse()?),
                "--without" => options.without.push(value()?),
                "--jobs" => options.jobs = value()?.parse::<usize>()?.max(1),
                "--again" => options.again = true,
                "--new" => options.new = true,
                "--list" => options.list = true,
                "--table" => options.table = true,
                "--help" => return Ok(None),
                _ => {
                    return Err(Trouble(format!(
                        "{word}: there is no such option. See --help."
                    )));
                }
            }
        }
        Ok(Some(options))
    }

    fn asks_for(&self, mutant: &Mutant) -> bool {
        let is_in =
            |path: &String| mutant.file == *path || mutant.file.starts_with(&format!("{path}/"));
        self.only.is_empty() || self.only.iter().any(is_in)
    }
}

fn main() -> ExitCode {
    let done = Options::read(std::env::args().skip(1)).and_then(|options| match options {
        Some(options) => work(&options),
        None => {
            print!("{HELP}");
            Ok(true)
        }
    });
    match done {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::from(1),
        Err(trouble) => {
            eprintln!("{trouble}");
            ExitCode::from(2)
        }
    }
}

/// Whether every change that was tried is noticed or allowed.
fn work(options: &Options) -> Result<bool, Trouble> {
    let own = Path::new(env!("CARGO_MANIFEST_DIR"));
    let root = fs::canonicalize(own.join("../.."))?;
    let target = own.join("target");
    fs::create_dir_all(target.join("copy"))?;
    let mut copy = Copy::make(&root, &fs::canonicalize(target.join("copy"))?, &AREAS)?;
    let all = mutants(&copy);
    let allowed = allowed::read(&own.join("allowed.txt"), &all)?;
    if options.list {
        for mutant in all.iter().filter(|mutant| options.asks_for(mutant)) {
            println!("{}:{} {}", mutant.file, mutant.line, mutant.what);
        }
        return Ok(true);
    }
    let kept = target.join("outcomes.txt");
    let outcomes = table::read(&fs::read_to_string(&kept).unwrap_or_default());
    let dropped = target.join("dropped.txt");
    building::recall(&mut copy, &dropped);
    if options.table {
        print!("{}", table::table(&mutants(&copy), &outcomes, &allowed));
        return Ok(true);
    }

    let build = building::build(&mut copy, &target.join("build"), &dropped)?;
    let dropped: usize = copy.sources.iter().map(|source| source.dropped.len()).sum();
    let all = mutants(&copy);
    println!("{} changes; {dropped} more do not compile.", all.len());
    let room = target.join("room");
    let mut tests = suite::trace(
        &build,
        &copy.folder,
        &room,
        &target.join("trace.txt"),
        options.jobs,
    )?;

    if let Some(seconds) = options.quick {
        tests.retain(|test| test.takes.as_secs() < seconds);
    }
    tests.retain(|test| !options.without.contains(&test.program.name));
    let is_unnoticed =
        |outcome: &Outcome| matches!(outcome, Outcome::Survived | Outcome::NotReached);
    let mut chosen: Vec<Mutant> = all
        .iter()
        .filter(|mutant| options.asks_for(mutant) && !allowed.contains_key(&mutant.key()))
        .filter(|mutant| {
            let known = outcomes.get(&mutant.key());
            (!options.again || known.is_some_and(is_unnoticed)) && (!options.new || known.is_none())
        })
        .cloned()
        .collect();
    if let Some(sample) = options.sample {
        shuffle(&mut chosen, options.seed);
        chosen.truncate(sample);
    }
    let tried: Vec<String> = chosen.iter().map(Mutant::key).collect();
    println!("{} of them are tried.", chosen.len());

    let outcomes = Mutex::new(outcomes);
    trial::try_all(
        chosen,
        &tests,
        &copy.folder,
        &room,
        options.jobs,
        &|mutant, outcome, test| {
            println!(
                "{outcome}: {}:{} {} [{test}]",
                mutant.file, mutant.line, mutant.what
            );
            let mut outcomes = suite::lock(&outcomes);
            outcomes.insert(mutant.key(), outcome);
            if let Err(error) = fs::write(&kept, table::write(&outcomes)) {
                eprintln!("{}: {error}", kept.display());
            }
        },
    )?;
    let outcomes: Outcomes = suite::into_inner(outcomes);
    println!();
    print!("{}", table::table(&all, &outcomes, &allowed));
    Ok(!tried
        .iter()
        .filter_map(|key| outcomes.get(key))
        .any(is_unnoticed))
}

/// Every change in the copy, those that do not compile left out.
fn mutants(copy: &Copy) -> Vec<Mutant> {
    let mut all = Vec::new();
    for source in &copy.sources {
        for (at, change) in source.found.changes.iter().enumerate() {
            if !source.dropped.contains(&at) {
                all.push(Mutant {
                    number: source.first + at,
                    area: source.area,
                    file: source.path.clone(),
                    line: change.line,
                    what: change.what.clone(),
                });
            }
        }
    }
    all
}

/// Puts things in an order that the seed alone decides (Fisher and Yates, with
/// SplitMix64).
fn shuffle<T>(things: &mut [T], seed: u64) {
    let mut state = seed;
    for last in (1..things.len()).rev() {
        state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        let at = usize::try_from(z % (last as u64 + 1)).unwrap_or(0);
        things.swap(last, at);
    }
}
