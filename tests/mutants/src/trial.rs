//! Tries changes: runs the tests that come to each, until one fails.

use crate::Trouble;
use crate::process::{Ended, Room, run};
use crate::suite::{Test, into_inner, lock};
use std::collections::HashMap;
use std::fmt;
use std::path::Path;
use std::sync::Mutex;
use std::time::Duration;

/// A change to be tried.
#[derive(Clone, Debug)]
pub struct Mutant {
    /// What switches it on.
    pub number: usize,
    /// The part of the workspace it is in.
    pub area: &'static str,
    /// Its file, from the workspace's folder.
    pub file: String,
    /// Its line there.
    pub line: usize,
    /// The function, and what is changed.
    pub what: String,
}

impl Mutant {
    /// What it is called, whatever line it is on.
    pub fn key(&self) -> String {
        format!("{} {}", self.file, self.what)
    }
}

/// What came of a change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// A test failed.
    Caught,
    /// A test took four times as long as it does, and 20 seconds at least, of the
    /// processor's time.
    TookTooLong,
    /// All tests that come to it passed.
    Survived,
    /// No test comes to it.
    NotReached,
}

impl Outcome {
    /// Every outcome.
    pub const ALL: [Self; 4] = [
        Self::Caught,
        Self::TookTooLong,
        Self::Survived,
        Self::NotReached,
    ];
}

impl fmt::Display for Outcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Caught => "caught",
            Self::TookTooLong => "took too long",
            Self::Survived => "survived",
            Self::NotReached => "not reached",
        })
    }
}

/// Shortest time after which a test counts as one without end.
const SHORTEST: Duration = Duration::from_secs(20);

/// Which tests caught how many changes, by file.
type Catches = HashMap<(String, usize), u32>;

/// Tries each change, `jobs` at a time, and says of each as soon as it is known what
/// came of it.
pub fn try_all(
    mutants: Vec<Mutant>,
    tests: &[Test],
    copy: &Path,
    room: &Path,
    jobs: usize,
    say: &(impl Fn(&Mutant, Outcome, &str) + Sync),
) -> Result<(), Trouble> {
    let waiting = Mutex::new(mutants.into_iter());
    let catches = Mutex::new(Catches::new());
    let troubles = Mutex::new(Vec::new());
    std::thread::scope(|scope| {
        for job in 0..jobs {
            let (waiting, catches, troubles) = (&waiting, &catches, &troubles);
            scope.spawn(move || {
                let room = room.join(format!("trial-{job}"));
                loop {
                    let next = lock(waiting).next();
                    let Some(mutant) = next else { break };
                    match try_one(&mutant, tests, copy, &room, catches) {
                        Ok((outcome, test)) => say(&mutant, outcome, &test),
                        Err(trouble) => {
                            lock(troubles).push(trouble);
                            break;
                        }
                    }
                }
            });
        }
    });
    into_inner(troubles).pop().map_or(Ok(()), Err)
}

/// Tries one change; with the test that caught it.
fn try_one(
    mutant: &Mutant,
    tests: &[Test],
    copy: &Path,
    room: &Path,
    catches: &Mutex<Catches>,
) -> Result<(Outcome, String), Trouble> {
    let mut reaching: Vec<(usize, &Test)> = tests
        .iter()
        .enumerate()
        .filter(|(_, test)| test.reaches.contains(&mutant.number))
        .collect();
    if reaching.is_empty() {
        return Ok((Outcome::NotReached, String::new()));
    }
    let place = |at: usize| (mutant.file.clone(), at);
    // The quickest first; what caught others in this file counts for quicker.
    {
        let catches = lock(catches);
        reaching.sort_by_cached_key(|(at, test)| {
            let caught = catches.get(&place(*at)).copied().unwrap_or(0);
            test.takes / (1 + 10 * caught)
        });
    }
    let room = Room::make(room)?;
    let number = mutant.number.to_string();
    for (at, test) in reaching {
        let longest = SHORTEST.max(test.takes * 4);
        let chosen = ("MUTANT", number.as_ref());
        let (ended, _) = run(&test.program, &test.name, copy, &room, chosen, longest)?;
        let outcome = match ended {
            Ended::Passed => continue,
            Ended::Failed => Outcome::Caught,
            Ended::TookTooLong => Outcome::TookTooLong,
        };
        *lock(catches).entry(place(at)).or_default() += 1;
        return Ok((outcome, format!("{} {}", test.program.name, test.name)));
    }
    Ok((Outcome::Survived, String::new()))
}
