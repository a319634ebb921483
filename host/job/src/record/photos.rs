//! Photographs kept with a job: copied byte for byte, and never written over.

use super::entry::{Photo, Says, Stage};
use super::error::JobError;
use super::folder::{Job, New, line};
use super::lock::Turn;
use super::plain_name::plain_name;
use crate::{inside, plain};
use jiff::civil::DateTime;
use std::fs;
use std::io::{self, Read as _, Write as _};
use std::path::{Component, Path, PathBuf};

/// The folder of photographs inside a job's folder.
pub const PHOTOS_FOLDER: &str = "photos";

/// A photograph that the record names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OnRecord {
    /// The line of the record, from 1: the latest that names this file.
    pub number: usize,
    /// What the line says.
    pub photo: Photo,
}

/// What became of a photograph.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// The name in the folder of photographs.
    pub file: String,
    /// How.
    pub how: How,
}

/// How a photograph came to be kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// It is new, and stands on this line.
    New(usize),
    /// The same bytes were there already, and this line now says something else
    /// about them.
    SaidAnew(usize),
    /// The same bytes were there already, with the same words on this line.
    Already(usize),
}

/// How, once it is known on which line.
type Became = fn(usize) -> How;

/// Copies on their way into a job. Until [`Job::keep`] takes them they are no part
/// of it, and are removed when this is dropped.
#[derive(Debug)]
pub struct Copies {
    folder: PathBuf,
    waiting: Vec<Waiting>,
}

#[derive(Debug)]
struct Waiting {
    path: PathBuf,
    stem: String,
    ending: &'static str,
    said: Said,
}

/// What is said of a photograph that is given; of one that is there already, what is not
/// said stays as it was.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Said {
    /// The part that it shows, in the words of the rules.
    pub part: Option<String>,
    /// Before, during or after the work.
    pub stage: Option<Stage>,
    /// What it shows.
    pub words: Option<String>,
}

impl Said {
    /// The photograph, with what was said of it before.
    fn of(&self, file: &str, before: Option<&Photo>) -> Photo {
        let before = before.cloned().unwrap_or_default();
        Photo {
            file: file.to_owned(),
            part: self.part.clone().or(before.part),
            stage: self.stage.unwrap_or(before.stage),
            words: self.words.clone().unwrap_or(before.words),
        }
    }
}

impl Copies {
    /// Gets the folder of photographs ready.
    ///
    /// # Errors
    /// If it cannot be made, or is a link to another place.
    pub fn new(job: &Job) -> Result<Copies, JobError> {
        let folder = job.folder().join(PHOTOS_FOLDER);
        inside::refuse_link(&folder).map_err(JobError::write(&folder))?;
        match fs::create_dir(&folder) {
            Ok(()) => plain::sync_folder(job.folder()).map_err(JobError::write(&folder))?,
            Err(why) if why.kind() == io::ErrorKind::AlreadyExists && folder.is_dir() => {}
            Err(why) => return Err(JobError::Write { path: folder, why }),
        }
        Ok(Copies {
            folder,
            waiting: Vec::new(),
        })
    }

    /// Copies a photograph's bytes to the disk. `named` is what its name is made of
    /// if neither its words nor its part give one.
    ///
    /// # Errors
    /// If the disk does not take them; nothing of them is left then.
    pub fn add(
        &mut self,
        bytes: &[u8],
        said: Said,
        named: &str,
        ending: &'static str,
    ) -> Result<(), JobError> {
        let part = said.part.as_deref().unwrap_or_default();
        let words = said.words.as_deref().unwrap_or_default();
        let stem = [words, part, named, "photograph"]
            .into_iter()
            .map(plain_name)
            .find(|name| !name.is_empty())
            .unwrap_or_default();
        let (mut file, path) =
            plain::create_unfinished(&self.folder).map_err(JobError::write(&self.folder))?;
        // Put in the list first, so that what a full disk left of it is removed.
        self.waiting.push(Waiting {
            path: path.clone(),
            stem,
            ending,
            said,
        });
        file.write_all(bytes)
            .and_then(|()| file.sync_all())
            .map_err(JobError::write(&path))
    }
}

impl Drop for Copies {
    fn drop(&mut self) {
        for waiting in &self.waiting {
            // What was kept has another name by now.
            let _ = fs::remove_file(&waiting.path);
        }
    }
}

impl Job {
    /// The photographs that the record names, each once, in the order in which they
    /// came.
    #[must_use]
    pub fn photos(&self) -> Vec<OnRecord> {
        let mut photos: Vec<OnRecord> = Vec::new();
        for entry in self.entries() {
            let Says::Photo(photo) = &entry.says else {
                continue;
            };
            let on_record = OnRecord {
                number: entry.number,
                photo: photo.clone(),
            };
            match photos.iter_mut().find(|p| p.photo.file == photo.file) {
                Some(earlier) => *earlier = on_record,
                None => photos.push(on_record),
            }
        }
        photos
    }

    /// Where a photograph of this name is kept; `None` for what is no plain name, as
    /// a hand may have written. Neither the file nor its folder need be there, and either
    /// may be a link ([`crate::inside`]).
    #[must_use]
    pub fn photo_path(&self, file: &str) -> Option<PathBuf> {
        let mut steps = Path::new(file).components();
        let is_plain = matches!(steps.next(), Some(Component::Normal(_))) && steps.next().is_none();
        let is_plain = is_plain && !file.contains(['/', '\\']);
        is_plain.then(|| self.folder().join(PHOTOS_FOLDER).join(file))
    }

    /// Whether a photograph of this name is kept.
    #[must_use]
    pub fn has_photo(&self, file: &str) -> bool {
        let folder = self.folder().join(PHOTOS_FOLDER);
        let is_file = |path| fs::symlink_metadata(path).is_ok_and(|what| what.is_file());
        inside::refuse_link(&folder).is_ok() && self.photo_path(file).is_some_and(is_file)
    }

    /// Names in the folder of photographs that the record does not know of, sorted.
    #[must_use]
    pub fn photos_not_on_record(&self) -> Vec<String> {
        let known = self.photos();
        let mut names = names(&self.folder().join(PHOTOS_FOLDER));
        names.retain(|name| known.iter().all(|k| k.photo.file != *name));
        names
    }

    /// Makes copies part of the job: each gets a plain name that nothing else has, and
    /// a line in the record. All of them, or none.
    ///
    /// # Errors
    /// If the disk does not take it; then the record has no line more and the folder
    /// no photograph more.
    pub fn keep(&mut self, copies: Copies, now: DateTime) -> Result<Vec<Kept>, JobError> {
        let turn = Turn::take(self.folder(), now)?;
        self.look_again()?;
        let mut new_files = Vec::new();
        let kept = self.take_in(&copies, now, &mut new_files);
        // A copy whose line may stand must stay, or the line has none.
        let line_may_stand = matches!(kept, Err(JobError::MayStand { .. }));
        if kept.is_err() && !line_may_stand {
            for path in &new_files {
                // The trouble is worth more to the user than what tidying says.
                let _ = fs::remove_file(path);
            }
        }
        drop(turn);
        kept
    }

    fn take_in(
        &mut self,
        copies: &Copies,
        now: DateTime,
        new_files: &mut Vec<PathBuf>,
    ) -> Result<Vec<Kept>, JobError> {
        let mut known: Vec<Photo> = self.photos().into_iter().map(|p| p.photo).collect();
        let mut number = self.last_number();
        let mut lines = String::new();
        let mut taken: Vec<(String, Became)> = Vec::new();
        for waiting in &copies.waiting {
            let same = same_bytes(&copies.folder, &waiting.path)?;
            let mut how: Became = How::SaidAnew;
            let file = match same {
                Some(file) => file,
                None => {
                    number += 1;
                    how = How::New;
                    let file = format!("{number}-{}.{}", waiting.stem, waiting.ending);
                    let path = copies.folder.join(&file);
                    plain::replace(&waiting.path, &path).map_err(JobError::write(&path))?;
                    new_files.push(path);
                    file
                }
            };
            let before = known.iter().rev().find(|known| known.file == file);
            let photo = waiting.said.of(&file, before);
            if before == Some(&photo) {
                how = How::Already;
            } else {
                lines.push_str(&line(
                    New::Entry(&Says::Photo(photo.clone())),
                    now,
                    &self.pen,
                )?);
                known.push(photo);
            }
            taken.push((file, how));
        }
        plain::sync_folder(&copies.folder).map_err(JobError::write(&copies.folder))?;
        if !lines.is_empty() {
            self.write(&lines, |_| Ok(()))?;
        }
        let on_record = self.photos();
        let line = |file: &str| {
            let named = on_record.iter().find(|p| p.photo.file == file);
            named.map_or(0, |p| p.number)
        };
        let kept = taken.into_iter().map(|(file, how)| Kept {
            how: how(line(&file)),
            file,
        });
        Ok(kept.collect())
    }

    /// The highest number that a name in the folder of photographs begins with.
    fn last_number(&self) -> u64 {
        let on_disk = entries(&self.folder().join(PHOTOS_FOLDER)).map(|(name, _)| name);
        let on_record = self.photos().into_iter().map(|p| p.photo.file);
        on_disk
            .chain(on_record)
            .filter_map(|name| name.split(['-', '.']).next()?.parse().ok())
            .filter(|number| *number < u64::MAX / 2)
            .max()
            .unwrap_or(0)
    }
}

/// What is in a folder: names, and whether each is a file. Nothing if the folder is a
/// link to another place.
pub(super) fn entries(folder: &Path) -> impl Iterator<Item = (String, bool)> + use<> {
    let read = inside::refuse_link(folder).and_then(|()| fs::read_dir(folder));
    read.into_iter().flatten().flatten().filter_map(|entry| {
        let is_file = entry.file_type().is_ok_and(|t| t.is_file());
        Some((entry.file_name().into_string().ok()?, is_file))
    })
}

/// The files in a folder by name, those on their way left out.
fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = entries(folder)
        .filter(|(name, is_file)| *is_file && !name.starts_with('.'))
        .map(|(name, _)| name)
        .collect();
    names.sort();
    names
}

/// The file of a folder that has the same bytes, by name.
fn same_bytes(folder: &Path, path: &Path) -> Result<Option<String>, JobError> {
    let length = fs::metadata(path).map_err(JobError::read(path))?.len();
    for name in names(folder) {
        let other = folder.join(&name);
        let as_long = fs::metadata(&other).is_ok_and(|m| m.len() == length);
        if as_long && are_same(path, &other).map_err(JobError::read(&other))? {
            return Ok(Some(name));
        }
    }
    Ok(None)
}

fn are_same(one: &Path, other: &Path) -> io::Result<bool> {
    let mut one = io::BufReader::new(inside::open_to_read(one)?).bytes();
    let mut other = io::BufReader::new(inside::open_to_read(other)?).bytes();
    loop {
        match (one.next().transpose()?, other.next().transpose()?) {
            (None, None) => return Ok(true),
            (a, b) if a != b => return Ok(false),
            _ => {}
        }
    }
}
