//! What does not fit together in a job's folder, as stopped programs and hands leave it,
//! and how it is mended. Nothing is deleted but a lock that nobody holds.

use super::error::JobError;
use super::folder::{Job, RECORD_FILE};
use super::lines::{Tail, Why};
use super::lock::{LOCK_FILE, Turn, is_left_behind};
use super::paper::PaperName;
use super::papers::PAPERS_FOLDER;
use super::photos::{PHOTOS_FOLDER, entries};
use super::plans::PLANS_FOLDER;
use crate::inside;
use crate::plain::{self, UNFINISHED};
use jiff::civil::DateTime;
use std::fs;
use std::io;
use std::path::Path;

/// The folder inside a job's folder for what has no place of its own.
pub const SET_ASIDE: &str = "set-aside";

/// Something that does not fit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Amiss {
    /// A file on its way into the folder, left by a program that was stopped.
    Leftover {
        /// Its path in the folder, with strokes.
        path: String,
    },
    /// A lock that nobody holds.
    Lock,
    /// A last line that nothing ends, and that may have been cut short.
    NotEnded {
        /// Its line in the record, from 1.
        line: usize,
        /// What there is of it.
        text: String,
    },
    /// A photograph that no line of the record names.
    NoLine {
        /// Its name in the folder of photographs.
        file: String,
    },
    /// A line of the record that names a photograph that is not there.
    NoPhoto {
        /// The line, from 1.
        line: usize,
        /// The name in the folder of photographs.
        file: String,
    },
    /// A paper that no line of the record names.
    PaperWithoutLine(PaperName),
    /// A line of the record that names a paper that is not there, or not as it was written.
    NoPaper {
        /// The line, from 1.
        line: usize,
        /// The paper.
        name: PaperName,
        /// It is there, but it was changed.
        changed: bool,
    },
}

/// What was done about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mended {
    /// It was moved to this path in the folder.
    SetAside(String),
    /// The lock was removed.
    Removed,
    /// The line was marked as cut short.
    Marked,
    /// It has its line in the record.
    OnRecord,
    /// Nothing: only somebody who knows the piece can.
    Not,
}

impl Job {
    /// Everything that does not fit.
    ///
    /// # Errors
    /// If the record cannot be read.
    pub fn amiss(&self) -> Result<Vec<Amiss>, JobError> {
        let mut amiss: Vec<Amiss> = self.leftovers();
        if is_left_behind(self.folder()) {
            amiss.push(Amiss::Lock);
        }
        if self.tail()? == Tail::Torn {
            let last = self.unread().last();
            amiss.extend(
                last.filter(|u| u.why == Why::NotEnded)
                    .map(|unread| Amiss::NotEnded {
                        line: unread.number,
                        text: unread.text.clone(),
                    }),
            );
        }
        let strays = self.photos_not_on_record().into_iter();
        amiss.extend(strays.map(|file| Amiss::NoLine { file }));
        let missing = self.photos().into_iter();
        let missing = missing.filter(|p| !self.has_photo(&p.photo.file));
        amiss.extend(missing.map(|p| Amiss::NoPhoto {
            line: p.number,
            file: p.photo.file,
        }));
        let strays = self.papers_not_on_record().into_iter();
        amiss.extend(strays.map(|(name, _)| Amiss::PaperWithoutLine(name)));
        for known in self.papers() {
            let name = known.paper.name;
            if self.paper_text(name).is_err() {
                amiss.push(Amiss::NoPaper {
                    line: known.line,
                    name,
                    changed: self.paper_path(name).is_file(),
                });
            }
        }
        Ok(amiss)
    }

    /// Mends what can be mended without knowing the piece, and says what became of each.
    ///
    /// # Errors
    /// If something cannot be written. What was mended before stays so, and the rest as it
    /// was.
    pub fn mend(&mut self, now: DateTime) -> Result<Vec<(Amiss, Mended)>, JobError> {
        let amiss = self.amiss()?;
        let turn = Turn::take(self.folder(), now)?;
        self.look_again()?;
        let mut told = Vec::new();
        for one in amiss {
            let mended = match &one {
                Amiss::Leftover { path } => self.set_aside(path)?,
                // It is ours now, and goes when our turn ends.
                Amiss::Lock => Mended::Removed,
                Amiss::NotEnded { .. } if self.tail()? == Tail::Torn => {
                    self.write("", |_| Ok(()))?;
                    Mended::Marked
                }
                Amiss::PaperWithoutLine(_) => {
                    self.add_lines_of_papers(now)?;
                    Mended::OnRecord
                }
                Amiss::NotEnded { .. }
                | Amiss::NoLine { .. }
                | Amiss::NoPhoto { .. }
                | Amiss::NoPaper { .. } => Mended::Not,
            };
            told.push((one, mended));
        }
        drop(turn);
        Ok(told)
    }

    fn leftovers(&self) -> Vec<Amiss> {
        // The second is how earlier versions named a report on its way.
        let is_leftover =
            |name: &str| name.starts_with(UNFINISHED) || name.ends_with(".html.unfinished");
        let mut paths = Vec::new();
        for folder in ["", PHOTOS_FOLDER, PLANS_FOLDER, PAPERS_FOLDER] {
            let stroke = if folder.is_empty() { "" } else { "/" };
            let names = entries(&self.folder().join(folder)).map(|(name, _)| name);
            let names = names.filter(|name| is_leftover(name));
            paths.extend(names.map(|name| format!("{folder}{stroke}{name}")));
        }
        paths.sort();
        let amiss = |path| Amiss::Leftover { path };
        paths.into_iter().map(amiss).collect()
    }

    /// Moves something to a name that nothing has, in a folder where it can be seen.
    fn set_aside(&self, path: &str) -> Result<Mended, JobError> {
        let aside = self.folder().join(SET_ASIDE);
        inside::refuse_link(&aside).map_err(JobError::write(&aside))?;
        match fs::create_dir(&aside) {
            Ok(()) => plain::sync_folder(self.folder()).map_err(JobError::write(&aside))?,
            Err(why) if why.kind() == io::ErrorKind::AlreadyExists && aside.is_dir() => {}
            Err(why) => return Err(JobError::Write { path: aside, why }),
        }
        let name = path.rsplit('/').next().unwrap_or_default();
        let name = name.trim_start_matches('.');
        let later = (2..).map(|n: u64| format!("{name}-{n}"));
        let is_free = |name: &String| fs::symlink_metadata(aside.join(name)).is_err();
        let free = std::iter::once(name.to_owned()).chain(later).find(is_free);
        let free = free.unwrap_or_default();
        let (from, to) = (self.folder().join(path), aside.join(&free));
        plain::replace(&from, &to).map_err(JobError::write(&to))?;
        for folder in [from.parent(), Some(aside.as_path())].into_iter().flatten() {
            let folder: &Path = folder;
            plain::sync_folder(folder).map_err(JobError::write(folder))?;
        }
        Ok(Mended::SetAside(format!("{SET_ASIDE}/{free}")))
    }
}

impl Amiss {
    /// Its path in the folder, with strokes.
    #[must_use]
    pub fn place(&self) -> String {
        match self {
            Amiss::Leftover { path } => path.clone(),
            Amiss::Lock => LOCK_FILE.to_owned(),
            Amiss::NotEnded { .. } => RECORD_FILE.to_owned(),
            Amiss::NoLine { file } | Amiss::NoPhoto { file, .. } => {
                format!("{PHOTOS_FOLDER}/{file}")
            }
            Amiss::PaperWithoutLine(name) | Amiss::NoPaper { name, .. } => {
                format!("{PAPERS_FOLDER}/{}", name.file())
            }
        }
    }
}
