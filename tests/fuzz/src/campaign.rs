//! Many inputs for one target, from a seed. An input with which the target does something
//! that it did with none before is kept and changed further.

use crate::case::{Bounds, Harm, Outcome, run};
use crate::coverage::Edges;
use crate::minimise::minimise;
use crate::mutate::Mutator;
use crate::targets::{Seen, Target, kept};
use std::collections::{BTreeMap, HashSet};
use std::fs::{self, File};
use std::io::{self, Seek as _, Write as _};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// Inputs kept at most; then the oldest make room.
const KEPT: usize = 4_000;
/// How long a harmful input is made shorter.
const PATIENCE: Duration = Duration::from_secs(20);
/// How often the campaign says how it stands.
const PULSE: Duration = Duration::from_secs(2);

/// What to do.
#[derive(Clone, Debug)]
pub struct Orders {
    /// Where inputs begin.
    pub seed: u64,
    /// Cases at most.
    pub cases: u64,
    /// Time at most.
    pub time: Duration,
    /// What a case may take.
    pub bounds: Bounds,
    /// Where harmful inputs go.
    pub findings: PathBuf,
    /// The file that always holds the input being run, for whoever watches.
    pub case_file: Option<PathBuf>,
    /// A folder of inputs to begin with as well, and to keep new ones in.
    pub corpus: Option<PathBuf>,
}

/// How a campaign stands.
#[derive(Clone, Debug, Default)]
pub struct Tally {
    /// Cases run.
    pub cases: u64,
    /// Inputs kept.
    pub kept: usize,
    /// Marks seen.
    pub marks: usize,
    /// Edges taken, if they are counted.
    pub edges: usize,
    /// The longest case.
    pub slowest: Duration,
    /// The most memory of a case, in bytes.
    pub memory: usize,
    /// Harmful inputs, by the mistake, with how often.
    pub findings: BTreeMap<String, u64>,
}

/// Runs a campaign; `told` hears how it stands every now and then, and at the end.
///
/// # Errors
/// If a finding or the running case cannot be written down.
pub fn campaign(
    target: &Target,
    orders: &Orders,
    mut told: impl FnMut(&Tally),
) -> io::Result<Tally> {
    let start = Instant::now();
    let mut corpus: Vec<Vec<u8>> = (target.seeds)();
    corpus.extend(kept(target).into_iter().map(|(_, bytes)| bytes));
    corpus.extend(read_corpus(orders.corpus.as_deref()));
    if corpus.is_empty() {
        corpus.push(Vec::new());
    }
    for seed in &mut corpus {
        seed.truncate(target.longest);
    }
    let mut mutator = Mutator::new(orders.seed, target.form, (target.words)(), target.longest);
    let mut running = Running {
        target,
        orders,
        case_file: orders.case_file.as_ref().map(File::create).transpose()?,
        room: Vec::new(),
        seen: Seen::default(),
        all: HashSet::new(),
        edges: Edges::default(),
        tally: Tally::default(),
    };
    let mut pulse = start;
    // Even with no time at all, every seed is run once.
    let seeds = corpus.len();
    for at in 0.. {
        let is_seed = at < seeds;
        let is_over = running.tally.cases >= orders.cases || start.elapsed() >= orders.time;
        if is_over && !is_seed {
            break;
        }
        let input = if is_seed {
            corpus[at].clone()
        } else {
            mutator.next(&corpus)
        };
        let is_new = running.case(&input)?;
        if is_new && !is_seed {
            if let Some(folder) = &orders.corpus {
                let name = format!("{:016x}", crate::targets::sum(&input));
                fs::create_dir_all(folder)?;
                fs::write(folder.join(name), &input)?;
            }
            corpus.push(input);
            if corpus.len() > KEPT {
                corpus.remove(seeds.min(KEPT / 2));
            }
        }
        running.tally.kept = corpus.len();
        if pulse.elapsed() > PULSE {
            pulse = Instant::now();
            told(&running.tally);
        }
    }
    told(&running.tally);
    Ok(running.tally)
}

fn read_corpus(folder: Option<&Path>) -> Vec<Vec<u8>> {
    let entries = folder.and_then(|folder| fs::read_dir(folder).ok());
    let mut paths: Vec<PathBuf> = entries
        .into_iter()
        .flatten()
        .flatten()
        .map(|entry| entry.path())
        .collect();
    paths.sort();
    paths
        .iter()
        .filter_map(|path| fs::read(path).ok())
        .collect()
}

struct Running<'o> {
    target: &'o Target,
    orders: &'o Orders,
    case_file: Option<File>,
    room: Vec<u8>,
    seen: Seen,
    all: HashSet<u64>,
    edges: Edges,
    tally: Tally,
}

impl Running<'_> {
    /// Runs one input; whether it did something new and no harm.
    fn case(&mut self, input: &[u8]) -> io::Result<bool> {
        self.write_down(input)?;
        self.seen.clear();
        self.edges.begin();
        let outcome = run(self.target, input, &mut self.seen, &self.orders.bounds);
        self.tally.cases += 1;
        self.tally.slowest = self.tally.slowest.max(outcome.took);
        self.tally.memory = self.tally.memory.max(outcome.memory);
        let is_new = self.seen.add_to(&mut self.all) | self.edges.is_new();
        self.tally.marks = self.all.len();
        self.tally.edges = self.edges.taken;
        let Outcome { harm, .. } = outcome;
        if let Some(harm) = harm {
            self.harmed(input, &harm)?;
            return Ok(false);
        }
        Ok(is_new)
    }

    /// Writes the input where it is found if this process does not come back.
    fn write_down(&mut self, input: &[u8]) -> io::Result<()> {
        let Some(file) = &mut self.case_file else {
            return Ok(());
        };
        let length = u32::try_from(input.len()).unwrap_or(u32::MAX);
        self.room.clear();
        self.room.extend(length.to_le_bytes());
        self.room.extend_from_slice(input);
        file.rewind()?;
        file.write_all(&self.room)
    }

    fn harmed(&mut self, input: &[u8], harm: &Harm) -> io::Result<()> {
        let times = self.tally.findings.entry(harm.key()).or_default();
        *times += 1;
        if *times > 1 {
            return Ok(());
        }
        save(&self.orders.findings, self.target, input, harm)?;
        let (target, bounds) = (self.target, &self.orders.bounds);
        let shorter = minimise(input, PATIENCE, |shorter| {
            let harm_now = run(target, shorter, &mut Seen::default(), bounds).harm;
            harm_now.is_some_and(|now| now.key() == harm.key())
        });
        save(&self.orders.findings, self.target, &shorter, harm)
    }
}

/// Where an input that did this harm is saved, and what of it is said beside it.
///
/// # Errors
/// If it cannot be written.
pub fn save(folder: &Path, target: &Target, input: &[u8], harm: &Harm) -> io::Result<()> {
    let name = format!(
        "{}-{:08x}",
        target.name,
        crate::targets::sum(harm.key().as_bytes()) & 0xFFFF_FFFF
    );
    fs::create_dir_all(folder)?;
    fs::write(folder.join(&name), input)?;
    fs::write(
        folder.join(format!("{name}.txt")),
        format!("{name} {harm}\n"),
    )
}

/// The input that a process was running when it died.
#[must_use]
pub fn last_case(case_file: &Path) -> Option<Vec<u8>> {
    let bytes = fs::read(case_file).ok()?;
    let (length, rest) = bytes.split_first_chunk::<4>()?;
    let length = u32::from_le_bytes(*length) as usize;
    Some(rest.get(..length)?.to_vec())
}
