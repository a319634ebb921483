//! The numbers of invoices and credits: one series a year, over all jobs of a workshop.
//!
//! They stand in `invoices.txt`, in the folder that holds the jobs. A number is written down
//! there before its paper is, and again when the paper and its line in the job's record are
//! on the disk. So a program that is stopped, or a write that fails, leaves a number that is
//! begun: whoever comes next looks whether its paper is there, and says either that it is
//! written, or that the number was not used, and uses it.

use super::error::JobError;
use super::folder::Job;
use super::lines::Tail;
use super::lock::Turn;
use super::paper::{PaperKind, PaperName, checksum};
use super::papers::{NewPaper, PaperWritten};
use crate::inside;
use jiff::civil::{Date, DateTime};
use std::fmt;
use std::fs;
use std::io::{self, Read as _, Write as _};
use std::path::{Path, PathBuf};

/// The file with the numbers.
pub const SERIES_FILE: &str = "invoices.txt";
const LOCK_FILE: &str = "invoices.lock";

/// So many folders above a job are looked in.
const LEVELS: usize = 3;

const HEAD: &str = "\
# The numbers of invoices and credits of the jobs in this folder and in those below it.
# One series a year. A number is begun, and then written when its paper is on the disk; or
# it was not used, and the next paper has it. Leave the lines as they are.
";

/// Why no number can be given.
#[derive(Debug)]
pub enum NoNumber {
    /// The job or the disk.
    Job(JobError),
    /// A line of the file is none of ours.
    Line {
        /// The file.
        path: PathBuf,
        /// Its line, from 1.
        line: usize,
    },
    /// A number was begun for a job that is not there.
    Lost {
        /// The file.
        path: PathBuf,
        /// The paper.
        name: PaperName,
        /// The job, as the file says.
        job: String,
    },
    /// The job has a paper whose number the file does not know.
    NotInSeries {
        /// The file.
        path: PathBuf,
        /// The paper.
        name: PaperName,
    },
    /// The last paper has a later day than today.
    Clock {
        /// The last paper.
        name: PaperName,
        /// Its day.
        day: Date,
    },
    /// The job's folder has a name that cannot stand in the file.
    Name(PathBuf),
    /// The record has lines that the paper was made without.
    Changed,
    /// A number of this job is of another, of which this one is a copy.
    Copied {
        /// The number.
        name: PaperName,
        /// The other job.
        job: String,
    },
}

impl From<JobError> for NoNumber {
    fn from(why: JobError) -> NoNumber {
        NoNumber::Job(why)
    }
}

impl fmt::Display for NoNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoNumber::Job(why) => why.fmt(f),
            NoNumber::Line { path, line } => write!(
                f,
                "Line {line} of {} is not as I wrote it, so I give no number: one could be given \
                 twice. Put the line back as it was.",
                path.display()
            ),
            NoNumber::Lost { path, name, job } => write!(
                f,
                "{} says that {name} was begun for the job {job}, which is not there, so I cannot \
                 tell whether the number was used. Put the job's folder back where it was, and try \
                 again.",
                path.display()
            ),
            NoNumber::NotInSeries { path, name } => write!(
                f,
                "There is {name}, and {} does not name it, so I give no number: one could be given \
                 twice. Put back the {SERIES_FILE} in which it stands.",
                path.display()
            ),
            NoNumber::Clock { name, day } => write!(
                f,
                "The last number, {name}, is of {day}, which is later than today by this \
                 machine's clock. Numbers follow the days: put the clock right."
            ),
            NoNumber::Changed => f.write_str(
                "The record has got new lines while this was worked out: another program wrote, \
                 or a paper had no line yet. Ask again, so that nothing is charged twice.",
            ),
            NoNumber::Copied { name, job } => write!(
                f,
                "{} is of the job {job}, so this one is a copy of it: what is charged or taken \
                 back is so there.",
                tellmark_language::words::capital(&name.to_string())
            ),
            NoNumber::Name(path) => write!(
                f,
                "The name of the folder {} cannot stand in {SERIES_FILE}: use letters, figures, \
                 spaces and strokes.",
                path.display()
            ),
        }
    }
}

impl std::error::Error for NoNumber {}

/// A paper of the series that was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Numbered {
    /// The paper.
    pub written: PaperWritten,
    /// The file with the numbers.
    pub series: PathBuf,
    /// It was made just now.
    pub is_new: bool,
}

impl Job {
    /// Writes a paper under the next number of the year. `write` is told the number.
    ///
    /// # Errors
    /// See [`NoNumber`]. The number is free then, or whoever comes next finds out.
    pub fn keep_in_series(
        &mut self,
        kind: PaperKind,
        now: DateTime,
        write: impl FnOnce(PaperName) -> NewPaper,
    ) -> Result<Numbered, NoNumber> {
        let mut series = Series::of(self.folder())?;
        let turn = Turn::take_by(series.folder.join(LOCK_FILE), now)?;
        let is_new = series.read()?;
        series.settle(now)?;
        series.must_know(self)?;
        series.must_know_all()?;
        self.must_be_as_seen(now)?;
        let name = series.next(kind, now)?;
        let paper = write(name);
        let begun = State::Begun {
            checksum: checksum(paper.text.as_bytes()),
            job: series.path_of(self.folder())?,
        };
        series.add(name, &begun, now)?;
        let written = match self.keep_numbered(name, &paper, now) {
            Ok(written) => written,
            Err(why) => {
                // If it cannot be said that the number is free, the next one finds out.
                if !matches!(why, JobError::MayStand { .. }) {
                    let _ = series.add(name, &State::NotUsed, now);
                }
                return Err(why.into());
            }
        };
        // The paper is on the disk and in the record: whoever comes next would find it.
        let _ = series.add(name, &State::Written, now);
        drop(turn);
        Ok(Numbered {
            written,
            series: series.path,
            is_new,
        })
    }
}

impl Job {
    /// What the paper was made from must still be all there is: another writer, or a paper of a
    /// program that was stopped, may have charged the same.
    fn must_be_as_seen(&mut self, now: DateTime) -> Result<(), NoNumber> {
        let seen = (self.lines().len(), self.entries().len());
        self.put_papers_on_record(now)?;
        match (self.lines().len(), self.entries().len()) == seen {
            true => Ok(()),
            false => Err(NoNumber::Changed),
        }
    }
}

/// What the file says of a number.
#[derive(Clone, Debug, PartialEq, Eq)]
enum State {
    Begun { checksum: u32, job: String },
    Written,
    NotUsed,
}

impl State {
    fn read(text: &str) -> Option<State> {
        match text {
            "written" => return Some(State::Written),
            "not used" => return Some(State::NotUsed),
            _ => {}
        }
        let (sum, job) = text.strip_prefix("begun; checksum ")?.split_once("; ")?;
        Some(State::Begun {
            checksum: u32::from_str_radix(sum, 16).ok()?,
            job: job.to_owned(),
        })
    }
}

impl fmt::Display for State {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            State::Begun { checksum, job } => write!(f, "begun; checksum {checksum:08x}; {job}"),
            State::Written => f.write_str("written"),
            State::NotUsed => f.write_str("not used"),
        }
    }
}

/// The last that the file says of a number.
struct Given {
    name: PaperName,
    state: State,
    day: Date,
    /// The job that it was begun for, as seen from the file's folder.
    job: Option<String>,
}

struct Series {
    folder: PathBuf,
    path: PathBuf,
    given: Vec<Given>,
}

impl Series {
    /// The nearest file above a job's folder; if there is none, it will be beside the folder.
    fn of(job: &Path) -> Result<Series, NoNumber> {
        let job = fs::canonicalize(job).map_err(JobError::read(job))?;
        let above = || job.ancestors().skip(1).take(LEVELS);
        let has_one = |folder: &&Path| fs::symlink_metadata(folder.join(SERIES_FILE)).is_ok();
        let folder = above().find(has_one).or_else(|| above().next());
        let folder = folder.ok_or_else(|| NoNumber::Name(job.clone()))?;
        Ok(Series {
            folder: folder.to_owned(),
            path: folder.join(SERIES_FILE),
            given: Vec::new(),
        })
    }

    /// Reads the file; `true` if it is not there yet.
    fn read(&mut self) -> Result<bool, NoNumber> {
        let bytes = match inside::read(&self.path) {
            Err(why) if why.kind() == io::ErrorKind::NotFound => return Ok(true),
            read => read.map_err(JobError::read(&self.path))?,
        };
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let whole = match Tail::of(&bytes) {
            Tail::Ended => text.as_str(),
            // What was cut short was never gone by.
            Tail::ByHand | Tail::Torn => text.rsplit_once('\n').map_or("", |(whole, _)| whole),
        };
        for (at, line) in whole.lines().enumerate() {
            let is_cut = line.ends_with(super::CUT_SHORT.trim());
            if line.trim().is_empty() || line.starts_with('#') || is_cut {
                continue;
            }
            let given = read_line(line).ok_or_else(|| NoNumber::Line {
                path: self.path.clone(),
                line: at + 1,
            })?;
            self.take(given);
        }
        Ok(false)
    }

    fn take(&mut self, given: Given) {
        match self.given.iter_mut().find(|known| known.is(given.name)) {
            Some(known) => {
                let begun_for = known.job.take();
                *known = given;
                known.job = known.job.take().or(begun_for);
            }
            None => self.given.push(given),
        }
    }

    /// Finds out what became of a number that was begun.
    fn settle(&mut self, now: DateTime) -> Result<(), NoNumber> {
        let begun: Vec<(PaperName, u32, String)> = self
            .given
            .iter()
            .filter_map(|given| match &given.state {
                State::Begun { checksum, job } => Some((given.name, *checksum, job.clone())),
                State::Written | State::NotUsed => None,
            })
            .collect();
        for (name, sum, at) in begun {
            let mut job = Job::open(&self.folder.join(&at)).map_err(|_| NoNumber::Lost {
                path: self.path.clone(),
                name,
                job: at.clone(),
            })?;
            let path = job.paper_path(name);
            let state = match inside::read(&path) {
                Ok(bytes) if checksum(&bytes) == sum => {
                    job.put_papers_on_record(now)?;
                    State::Written
                }
                Err(why) if why.kind() == io::ErrorKind::NotFound => State::NotUsed,
                Ok(_) => return Err(JobError::Taken(path).into()),
                Err(why) => return Err(JobError::Read { path, why }.into()),
            };
            self.add(name, &state, now)?;
        }
        Ok(())
    }

    /// Every number that the job has must stand here.
    fn must_know(&self, job: &Job) -> Result<(), NoNumber> {
        let own = job.papers().into_iter().map(|known| known.paper.name);
        let mut own = own.filter(|name| name.kind.is_of_the_year());
        let is_written = |name: &PaperName| {
            let mut given = self.given.iter();
            given.any(|given| given.name == *name && given.state == State::Written)
        };
        if let Some(name) = own.find(|name| !is_written(name)) {
            return Err(NoNumber::NotInSeries {
                path: self.path.clone(),
                name,
            });
        }
        let mut own = job.papers().into_iter().map(|known| known.paper.name);
        own.try_for_each(|name| self.must_be_of(job, name))
    }

    /// A number must not be of another job: this one would be a copy of that.
    fn must_be_of(&self, job: &Job, name: PaperName) -> Result<(), NoNumber> {
        let mut given = self.given.iter().filter(|given| given.name == name);
        let of = given.find_map(|given| given.job.as_ref());
        let Some(of) = of.filter(|of| self.path_of(job.folder()).as_ref().ok() != Some(of)) else {
            return Ok(());
        };
        // Under its old name it is not there any more: it was given another.
        match Job::open(&self.folder.join(of)) {
            Ok(other) if inside::read(&other.paper_path(name)).is_ok() => Err(NoNumber::Copied {
                name,
                job: of.clone(),
            }),
            _ => Ok(()),
        }
    }

    /// Every number of the jobs in the folder, and in the folders in it, must stand here: else
    /// the file is not the one by which they were given.
    fn must_know_all(&self) -> Result<(), NoNumber> {
        let folders = |folder: &Path| -> Vec<PathBuf> {
            let entries = fs::read_dir(folder).into_iter().flatten().flatten();
            let is_folder = |entry: &fs::DirEntry| entry.file_type().is_ok_and(|t| t.is_dir());
            entries
                .filter(is_folder)
                .map(|entry| entry.path())
                .collect()
        };
        let near = folders(&self.folder);
        let further = near.iter().flat_map(|folder| folders(folder));
        for folder in near.iter().cloned().chain(further) {
            if let Ok(job) = Job::open(&folder) {
                let is_known = |name: &PaperName| self.given.iter().any(|given| given.is(*name));
                let own = job.papers().into_iter().map(|known| known.paper.name);
                let mut own = own.filter(|name| name.kind.is_of_the_year());
                if let Some(name) = own.find(|name| !is_known(name)) {
                    return Err(NoNumber::NotInSeries {
                        path: self.path.clone(),
                        name,
                    });
                }
            }
        }
        Ok(())
    }

    fn next(&self, kind: PaperKind, now: DateTime) -> Result<PaperName, NoNumber> {
        let written = || self.given.iter().filter(|g| g.state == State::Written);
        if let Some(last) = written().max_by_key(|given| given.day)
            && last.day > now.date()
        {
            return Err(NoNumber::Clock {
                name: last.name,
                day: last.day,
            });
        }
        let year = Some(now.year());
        let of_year = written().filter(|given| given.name.year == year);
        let last = of_year.map(|given| given.name.number).max().unwrap_or(0);
        Ok(PaperName {
            kind,
            year,
            number: last.saturating_add(1),
        })
    }

    /// Where a job is, seen from the file: "walnut-chest", "2026/walnut-chest".
    fn path_of(&self, job: &Path) -> Result<String, NoNumber> {
        let whole = fs::canonicalize(job).map_err(JobError::read(job))?;
        let steps = whole.strip_prefix(&self.folder).unwrap_or(&whole);
        let steps: Option<Vec<&str>> = steps.iter().map(|step| step.to_str()).collect();
        let path = steps.map(|steps| steps.join("/")).unwrap_or_default();
        match path.is_empty() || path.contains(char::is_control) || path != path.trim() {
            true => Err(NoNumber::Name(whole)),
            false => Ok(path),
        }
    }

    /// Adds a line, and forces it to the disk.
    fn add(&mut self, name: PaperName, state: &State, now: DateTime) -> Result<(), NoNumber> {
        let mut file = inside::open_to_add(&self.path).map_err(JobError::write(&self.path))?;
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes)
            .map_err(JobError::read(&self.path))?;
        let mut adding = Tail::of(&bytes).ending();
        if bytes.is_empty() {
            adding.push_str(HEAD);
        }
        adding.push_str(&super::lines::written(
            &format!("{name}; {state}"),
            now,
            &super::lines::Pen::default(),
        ));
        let written = file
            .write_all(adding.as_bytes())
            .and_then(|()| file.sync_all())
            .and_then(|()| crate::plain::sync_folder(&self.folder));
        if let Err(why) = written {
            // Nothing must stand that could not be written.
            let _ = file.set_len(bytes.len() as u64);
            let path = self.path.clone();
            return Err(JobError::Write { path, why }.into());
        }
        self.take(Given::new(name, state.clone(), now.date()));
        Ok(())
    }
}

impl Given {
    fn new(name: PaperName, state: State, day: Date) -> Given {
        let job = match &state {
            State::Begun { job, .. } => Some(job.clone()),
            State::Written | State::NotUsed => None,
        };
        Given {
            name,
            state,
            day,
            job,
        }
    }

    /// Invoices and credits share their numbers.
    fn is(&self, name: PaperName) -> bool {
        (self.name.year, self.name.number) == (name.year, name.number)
    }
}

/// "2026-11-29 10:14  invoice 2026-001; written".
fn read_line(line: &str) -> Option<Given> {
    let (day, rest) = line.split_once(' ')?;
    let (_, said) = rest.split_once("  ")?;
    let (name, state) = said.split_once("; ")?;
    let name = PaperName::read(name).filter(|name| name.kind.is_of_the_year())?;
    let day = Date::strptime("%Y-%m-%d", day).ok()?;
    Some(Given::new(name, State::read(state)?, day))
}
