//! Papers kept with a job: written once, numbered, and never changed.
//!
//! A paper is put in its place whole, and then its line goes into the record, both while it
//! is our turn to write. A program that is stopped between the two leaves a paper without a
//! line: it has its number, so it gets its line before the next one is written.

use super::entry::Says;
use super::error::JobError;
use super::folder::{Job, New, line};
use super::lines::{Pen, When};
use super::lock::Turn;
use super::paper::{KeptPaper, PaperKind, PaperName, checksum};
use super::photos::entries;
use crate::{inside, plain};
use jiff::civil::DateTime;
use std::fmt;
use std::fs;
use std::io::{self, Write as _};
use std::path::PathBuf;
use tellmark_language::words::list;

/// The folder of papers inside a job's folder.
pub const PAPERS_FOLDER: &str = "papers";

/// The label of the line of a paper that says it in short, for the record.
pub const IN_SHORT: &str = "in short";

/// A paper that the record names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PaperOnRecord {
    /// The line of the record, from 1.
    pub line: usize,
    /// When it was written down.
    pub when: When,
    /// What the line says.
    pub paper: KeptPaper,
}

/// A paper to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewPaper {
    /// All of its text.
    pub text: String,
    /// What it says, in short; it stands in the text too, after [`IN_SHORT`].
    pub words: String,
}

/// What became of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PaperWritten {
    /// What it is called.
    pub name: PaperName,
    /// The line of the record that names it.
    pub line: usize,
    /// Its file.
    pub path: PathBuf,
    /// Papers without a line that got theirs now.
    pub found: Vec<PaperName>,
}

/// Why a paper cannot be gone by.
#[derive(Debug)]
pub enum PaperTrouble {
    /// It is not there, or the disk does not give it.
    Read(JobError),
    /// Its bytes are others than those that were written.
    Changed(PaperName, PathBuf),
    /// The record names no such paper; those that it names.
    Unknown(PaperName, Vec<PaperName>),
    /// A later version of the program wrote it, or a hand.
    NotUnderstood(PaperName, String),
}

impl fmt::Display for PaperTrouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PaperTrouble::Read(why) => why.fmt(f),
            PaperTrouble::Changed(name, path) => write!(
                f,
                "{} is not as it was written, so I do not go by {name}. A paper is never \
                 changed: put back the file as it was, or keep a new paper.",
                path.display()
            ),
            PaperTrouble::Unknown(name, known) => {
                let known: Vec<String> = known.iter().map(ToString::to_string).collect();
                write!(f, "The record of this job names no {name}.")?;
                match known.is_empty() {
                    true => Ok(()),
                    false => write!(f, " It names {}.", list(&known)),
                }
            }
            PaperTrouble::NotUnderstood(name, what) => {
                write!(f, "I cannot read {name}: {what}")
            }
        }
    }
}

impl std::error::Error for PaperTrouble {}

impl Job {
    /// The papers that the record names, oldest first.
    #[must_use]
    pub fn papers(&self) -> Vec<PaperOnRecord> {
        let mut papers: Vec<PaperOnRecord> = Vec::new();
        for entry in self.entries() {
            let Says::Kept(paper) = &entry.says else {
                continue;
            };
            // A line that was copied by hand is no second paper.
            if papers.iter().all(|known| known.paper.name != paper.name) {
                papers.push(PaperOnRecord {
                    line: entry.number,
                    when: entry.when,
                    paper: paper.clone(),
                });
            }
        }
        papers
    }

    /// Where a paper lies.
    #[must_use]
    pub fn paper_path(&self, name: PaperName) -> PathBuf {
        self.folder().join(PAPERS_FOLDER).join(name.file())
    }

    /// The text of a paper, if it is as it was written.
    ///
    /// # Errors
    /// See [`PaperTrouble`].
    pub fn paper_text(&self, name: PaperName) -> Result<String, PaperTrouble> {
        let papers = self.papers();
        let known = papers.iter().find(|known| known.paper.name == name);
        let known = known.ok_or_else(|| {
            let known = papers.iter().map(|known| known.paper.name);
            PaperTrouble::Unknown(name, known.collect())
        })?;
        let path = self.paper_path(name);
        let bytes = self.paper_bytes(name).map_err(PaperTrouble::Read)?;
        match String::from_utf8(bytes) {
            Ok(text) if checksum(text.as_bytes()) == known.paper.checksum => Ok(text),
            _ => Err(PaperTrouble::Changed(name, path)),
        }
    }

    fn paper_bytes(&self, name: PaperName) -> Result<Vec<u8>, JobError> {
        let folder = self.folder().join(PAPERS_FOLDER);
        inside::refuse_link(&folder).map_err(JobError::read(&folder))?;
        let path = self.paper_path(name);
        inside::read(&path).map_err(JobError::read(&path))
    }

    /// Keeps a paper of this job's own series. `write` is told its number, which no paper of
    /// the series had.
    ///
    /// # Errors
    /// Nothing of the paper is there then, and the number is free, except after
    /// [`JobError::MayStand`].
    pub fn keep_paper(
        &mut self,
        kind: PaperKind,
        now: DateTime,
        write: impl FnOnce(PaperName) -> NewPaper,
    ) -> Result<PaperWritten, JobError> {
        self.papers_folder()?;
        let turn = Turn::take(self.folder(), now)?;
        self.look_again()?;
        let found = self.papers_not_on_record();
        let on_record = self.papers().into_iter().map(|known| known.paper.name);
        let own = on_record
            .chain(found.iter().map(|(name, _)| *name))
            .filter(|name| !name.kind.is_of_the_year());
        let number = own
            .map(|name| name.number)
            .max()
            .unwrap_or(0)
            .saturating_add(1);
        let name = PaperName {
            kind,
            year: None,
            number,
        };
        let written = self.write_paper(name, &write(name), &found, now);
        drop(turn);
        written
    }

    /// Writes a paper of the year's series under a number that its caller vouches for.
    pub(super) fn keep_numbered(
        &mut self,
        name: PaperName,
        paper: &NewPaper,
        now: DateTime,
    ) -> Result<PaperWritten, JobError> {
        self.papers_folder()?;
        let turn = Turn::take(self.folder(), now)?;
        self.look_again()?;
        let mut found = self.papers_not_on_record();
        found.retain(|(found, _)| *found != name);
        let written = self.write_paper(name, paper, &found, now);
        drop(turn);
        written
    }

    /// Gives papers that lie in the folder without a line theirs.
    pub(super) fn put_papers_on_record(&mut self, now: DateTime) -> Result<(), JobError> {
        let turn = Turn::take(self.folder(), now)?;
        self.look_again()?;
        self.add_lines_of_papers(now)?;
        drop(turn);
        Ok(())
    }

    /// The same while it is our turn.
    pub(super) fn add_lines_of_papers(&mut self, now: DateTime) -> Result<(), JobError> {
        let lines = lines_of(&self.papers_not_on_record(), now, &self.pen)?;
        if !lines.is_empty() {
            self.write(&lines, |_| Ok(()))?;
        }
        Ok(())
    }

    /// Papers in the folder that no line of the record names, and what they say.
    #[must_use]
    pub fn papers_not_on_record(&self) -> Vec<(PaperName, KeptPaper)> {
        let known = self.papers();
        let on_disk = entries(&self.folder().join(PAPERS_FOLDER));
        let on_disk = on_disk.filter(|(_, is_file)| *is_file);
        let names = on_disk.filter_map(|(file, _)| PaperName::of_file(&file));
        let mut names: Vec<PaperName> = names
            .filter(|name| known.iter().all(|known| known.paper.name != *name))
            .collect();
        names.sort_by_key(|name| (name.year, name.number));
        let kept = names.into_iter().filter_map(|name| {
            let bytes = self.paper_bytes(name).ok()?;
            let text = std::str::from_utf8(&bytes).ok()?;
            let words = text
                .lines()
                .find_map(|line| line.strip_prefix(IN_SHORT)?.strip_prefix(": "))?;
            let paper = KeptPaper {
                name,
                checksum: checksum(&bytes),
                words: words.trim().to_owned(),
            };
            Some((name, paper))
        });
        kept.collect()
    }

    /// The folder of papers, made if it is not there.
    fn papers_folder(&self) -> Result<PathBuf, JobError> {
        let folder = self.folder().join(PAPERS_FOLDER);
        inside::refuse_link(&folder).map_err(JobError::write(&folder))?;
        match fs::create_dir(&folder) {
            Ok(()) => plain::sync_folder(self.folder()).map_err(JobError::write(&folder))?,
            Err(why) if why.kind() == io::ErrorKind::AlreadyExists && folder.is_dir() => {}
            Err(why) => return Err(JobError::Write { path: folder, why }),
        }
        Ok(folder)
    }

    /// Puts a paper in its place and its line in the record, while it is our turn.
    fn write_paper(
        &mut self,
        name: PaperName,
        paper: &NewPaper,
        found: &[(PaperName, KeptPaper)],
        now: DateTime,
    ) -> Result<PaperWritten, JobError> {
        let kept = KeptPaper {
            name,
            checksum: checksum(paper.text.as_bytes()),
            words: paper.words.clone(),
        };
        let mut lines = lines_of(found, now, &self.pen)?;
        lines.push_str(&line(New::Entry(&Says::Kept(kept)), now, &self.pen)?);
        let path = self.put_in_place(name, &paper.text)?;
        match self.write(&lines, |_| Ok(())) {
            Ok(added) => Ok(PaperWritten {
                name,
                line: added.number,
                path,
                found: found.iter().map(|(name, _)| *name).collect(),
            }),
            Err(why) => {
                // A paper whose line may stand must stay, or the line has none.
                if !matches!(why, JobError::MayStand { .. }) {
                    let _ = fs::remove_file(&path);
                }
                Err(why)
            }
        }
    }

    /// A new file under a name that nothing has.
    fn put_in_place(&self, name: PaperName, text: &str) -> Result<PathBuf, JobError> {
        let folder = self.folder().join(PAPERS_FOLDER);
        let path = self.paper_path(name);
        if fs::symlink_metadata(&path).is_ok() {
            return Err(JobError::Taken(path));
        }
        let (mut file, beside) =
            plain::create_unfinished(&folder).map_err(JobError::write(&folder))?;
        let written = file
            .write_all(text.as_bytes())
            .and_then(|()| file.sync_all())
            .and_then(|()| plain::replace(&beside, &path))
            .and_then(|()| plain::sync_folder(&folder));
        if let Err(why) = written {
            // Why it failed is worth more to the user than what tidying says.
            let _ = fs::remove_file(&beside);
            let _ = fs::remove_file(&path);
            return Err(JobError::Write { path, why });
        }
        Ok(path)
    }
}

fn lines_of(
    found: &[(PaperName, KeptPaper)],
    now: DateTime,
    pen: &Pen,
) -> Result<String, JobError> {
    let lines = found
        .iter()
        .map(|(_, paper)| line(New::Entry(&Says::Kept(paper.clone())), now, pen));
    lines.collect()
}
