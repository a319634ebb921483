//! One input, run under watch.

use crate::memory::Watch;
use crate::targets::{Seen, Target};
use std::cell::RefCell;
use std::panic::{self, AssertUnwindSafe};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicU64, Ordering::Relaxed};
use std::time::{Duration, Instant};

/// What a case may take.
#[derive(Clone, Copy, Debug)]
pub struct Bounds {
    /// Processor time.
    pub time: Duration,
    /// Bytes of memory at once; a target may allow more.
    pub memory: usize,
}

impl Default for Bounds {
    fn default() -> Self {
        Self {
            time: Duration::from_secs(1),
            memory: 512 << 20,
        }
    }
}

/// What is wrong with what a case did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Harm {
    /// It panicked.
    Panic {
        /// Where: file and line.
        at: String,
        /// What it said.
        said: String,
    },
    /// It took too long.
    Slow {
        /// Thousandths of a second.
        milliseconds: u128,
    },
    /// It took too much memory.
    Hungry {
        /// Bytes.
        bytes: usize,
    },
    /// The process died, or did not come back; said by who watched it.
    Crash(String),
}

impl Harm {
    /// The same for the same mistake, as far as can be told.
    #[must_use]
    pub fn key(&self) -> String {
        match self {
            Harm::Panic { at, .. } => at.clone(),
            Harm::Slow { .. } => "slow".to_owned(),
            Harm::Hungry { .. } => "hungry".to_owned(),
            Harm::Crash(how) => how.clone(),
        }
    }
}

impl std::fmt::Display for Harm {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Harm::Panic { at, said } => write!(f, "panics at {at}: {said}"),
            Harm::Slow { milliseconds } => write!(f, "takes {milliseconds} ms"),
            Harm::Hungry { bytes } => write!(f, "takes {} MB", bytes >> 20),
            Harm::Crash(how) => write!(f, "crashes: {how}"),
        }
    }
}

/// What a case took, and the harm it did.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// Time on the wall.
    pub took: Duration,
    /// Most bytes at once.
    pub memory: usize,
    /// What is wrong, if anything.
    pub harm: Option<Harm>,
}

thread_local! {
    static PANICKED: RefCell<Option<(String, String)>> = const { RefCell::new(None) };
}

/// Keeps quiet about the panics of cases, and remembers where they were.
pub fn catch_panics() {
    panic::set_hook(Box::new(|info| {
        let at = info.location().map_or_else(
            || "nowhere".to_owned(),
            |l| format!("{}:{}", l.file(), l.line()),
        );
        let payload = info.payload();
        let said = payload
            .downcast_ref::<&str>()
            .map(|said| (*said).to_owned())
            .or_else(|| payload.downcast_ref::<String>().cloned())
            .unwrap_or_else(|| "no text".to_owned());
        if BEGUN.load(Relaxed) == 0 {
            eprintln!("panicked between cases, at {at}: {said}");
        }
        PANICKED.with_borrow_mut(|panicked| *panicked = Some((at, said)));
    }));
}

/// Runs a target over one input.
pub fn run(target: &Target, input: &[u8], seen: &mut Seen, bounds: &Bounds) -> Outcome {
    let mut outcome = once(target, input, seen);
    if outcome.harm.is_none() && outcome.took > bounds.time {
        // Others may have had the processor: what counts is this process's own time.
        let again = (0..3).map(|_| own_time(|| drop(once(target, input, &mut Seen::default()))));
        let least = again.min().unwrap_or_default();
        if least > bounds.time {
            outcome.harm = Some(Harm::Slow {
                milliseconds: least.as_millis(),
            });
        }
    }
    if outcome.harm.is_none() && outcome.memory > bounds.memory.max(target.memory) {
        outcome.harm = Some(Harm::Hungry {
            bytes: outcome.memory,
        });
    }
    outcome
}

/// Milliseconds from [`beginning`] to when the case that runs was begun; 0 between cases.
static BEGUN: AtomicU64 = AtomicU64::new(0);

fn beginning() -> Instant {
    static BEGINNING: OnceLock<Instant> = OnceLock::new();
    *BEGINNING.get_or_init(Instant::now)
}

/// How long the case that runs has been running.
#[must_use]
pub fn running_for() -> Duration {
    match BEGUN.load(Relaxed) {
        0 => Duration::ZERO,
        begun => beginning()
            .elapsed()
            .saturating_sub(Duration::from_millis(begun)),
    }
}

fn once(target: &Target, input: &[u8], seen: &mut Seen) -> Outcome {
    let watch = Watch::begin();
    let start = Instant::now();
    let begun = start.saturating_duration_since(beginning()).as_millis();
    BEGUN.store(u64::try_from(begun).unwrap_or(0) + 1, Relaxed);
    let done = panic::catch_unwind(AssertUnwindSafe(|| (target.run)(input, seen)));
    BEGUN.store(0, Relaxed);
    let took = start.elapsed();
    let memory = watch.most();
    let harm = done.err().map(|_| {
        let panicked = PANICKED.with_borrow_mut(Option::take);
        let (at, said) = panicked.unwrap_or_default();
        Harm::Panic { at, said }
    });
    Outcome { took, memory, harm }
}

/// What this thread itself takes of a processor; time on the wall where the system does
/// not tell.
fn own_time(work: impl FnOnce()) -> Duration {
    let on_processor = || {
        let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
        let nanoseconds = text.split(' ').next()?.parse().ok()?;
        Some(Duration::from_nanos(nanoseconds))
    };
    let (start, before) = (Instant::now(), on_processor());
    work();
    match (before, on_processor()) {
        (Some(before), Some(after)) => after.saturating_sub(before),
        _ => start.elapsed(),
    }
}
