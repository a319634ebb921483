//! Photographs as they stand on the page: part by part, before and after side by side.

use super::matter::Matter;
use super::when::noted;
use crate::picture::{self, LARGEST_FILE};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD as BASE64;
use serde::Serialize;
use std::fs;
use std::path::PathBuf;
use tellmark_job::inside;
use tellmark_job::plain::io_reason;
use tellmark_job::record::{PHOTOS_FOLDER, Says};
use tellmark_language::words::{capital, sentence};

/// The longer side of a photograph on the page, in dots: sharp on paper at 8 cm.
const LONGEST: u32 = 900;
/// The same of the large one, which is as wide as the page.
const LARGE: u32 = 1400;

/// A photograph.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Shot {
    /// Its name in the job's folder of photographs.
    pub file: String,
    /// "before", "during" or "after".
    pub stage: String,
    /// What it shows; may be empty.
    pub words: String,
    /// The day on which it was added.
    pub day: String,
    /// A small copy, as it may stand in a page; empty until it is loaded.
    pub picture: String,
    /// Dots across and down, of the small copy.
    pub size: (u32, u32),
    /// Why it cannot be shown; empty if it can.
    pub missing: String,
    /// Whether the letter shows it, so that the record need not.
    pub in_letter: bool,
    /// Whether the record shows it beside what was found on its part.
    pub beside_finding: bool,
    /// Whether it is the large one at the head of the letter.
    #[serde(skip)]
    pub(super) is_large: bool,
    /// Whether the photograph itself says where it was taken; false until it is loaded.
    #[serde(skip)]
    pub tells_place: bool,
    /// Where it is; `None` for what is no plain name.
    #[serde(skip)]
    pub(super) path: Option<PathBuf>,
}

/// The photographs of one part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct OfPart {
    /// The part, with a capital.
    pub part: String,
    /// Before the work first, then during it, then after it.
    pub shots: Vec<Shot>,
    /// Whether there are some that neither the letter nor the finding they show has.
    pub is_elsewhere: bool,
}

/// All photographs.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Photographs {
    /// Those of the whole piece first, then part by part as they came.
    pub parts: Vec<OfPart>,
}

pub(super) fn photographs(matter: &Matter<'_>) -> Photographs {
    let mut photographs = Photographs::default();
    for on_record in matter.job().photos() {
        let photo = on_record.photo;
        let entry = matter
            .job()
            .entries()
            .iter()
            .find(|entry| matches!(&entry.says, Says::Photo(p) if p.file == photo.file));
        let shot = Shot {
            stage: photo.stage.name().to_owned(),
            words: if photo.words.is_empty() {
                String::new()
            } else {
                sentence(&photo.words)
            },
            day: entry.map_or_else(String::new, |entry| noted(entry.when)),
            picture: String::new(),
            size: (0, 0),
            missing: String::new(),
            in_letter: false,
            beside_finding: false,
            is_large: false,
            tells_place: false,
            path: matter.job().photo_path(&photo.file),
            file: photo.file,
        };
        let part = photo
            .part
            .as_deref()
            .map_or("The whole piece".to_owned(), capital);
        let whole = photo.part.is_none();
        match photographs.parts.iter_mut().find(|of| of.part == part) {
            Some(of) => of.shots.push(shot),
            None => {
                let shots = vec![shot];
                let at = if whole { 0 } else { photographs.parts.len() };
                photographs.parts.insert(
                    at,
                    OfPart {
                        part,
                        shots,
                        is_elsewhere: true,
                    },
                );
            }
        }
    }
    for of in &mut photographs.parts {
        of.shots
            .sort_by_key(|shot| tellmark_job::record::Stage::of_name(&shot.stage));
    }
    photographs
}

impl Photographs {
    /// Notes which parts have photographs that stand nowhere else.
    pub(super) fn note_the_rest(&mut self) {
        for of in &mut self.parts {
            of.is_elsewhere = of.shots.iter().any(|s| !s.in_letter && !s.beside_finding);
        }
    }

    /// How many there are.
    #[must_use]
    pub fn number(&self) -> usize {
        self.parts.iter().map(|of| of.shots.len()).sum()
    }

    /// The photograph that stands there.
    pub(super) fn shot_mut(&mut self, of: usize, shot: usize) -> Option<&mut Shot> {
        self.parts.get_mut(of)?.shots.get_mut(shot)
    }

    /// Makes the small copies; `told` hears before each which one of how many it is.
    /// One that cannot be shown says why on the page.
    pub fn load(&mut self, mut told: impl FnMut(usize, usize)) {
        let number = self.number();
        let shots = self.parts.iter_mut().flat_map(|of| &mut of.shots);
        for (at, shot) in (1..).zip(shots) {
            told(at, number);
            if let Err(why) = shot.load() {
                shot.missing = why;
            }
        }
    }

    /// Each that cannot be shown, and why.
    pub fn missing(&self) -> impl Iterator<Item = (&str, &str)> {
        let shots = self.parts.iter().flat_map(|of| &of.shots);
        let missing = shots.filter(|shot| !shot.missing.is_empty());
        missing.map(|shot| (shot.file.as_str(), shot.missing.as_str()))
    }

    /// Those that say where they were taken, by name. Their small copies do not.
    pub fn telling_place(&self) -> impl Iterator<Item = &str> {
        let shots = self.parts.iter().flat_map(|of| &of.shots);
        let telling = shots.filter(|shot| shot.tells_place);
        telling.map(|shot| shot.file.as_str())
    }
}

impl Shot {
    fn load(&mut self) -> Result<(), String> {
        let bytes = self.bytes()?;
        self.tells_place = picture::tells_place(&bytes);
        let longest = if self.is_large { LARGE } else { LONGEST };
        let small = picture::small(&bytes, longest).map_err(|why| why.to_string())?;
        self.picture = format!("data:image/jpeg;base64,{}", BASE64.encode(&small.jpeg));
        self.size = (small.width, small.height);
        Ok(())
    }

    /// The photograph itself, or what follows "the photograph": why it cannot be had.
    pub(super) fn bytes(&self) -> Result<Vec<u8>, String> {
        let Some(path) = self.path.as_deref() else {
            return Err(format!(
                "is no plain name, so I did not look for it in {PHOTOS_FOLDER}."
            ));
        };
        let unreadable = |why: std::io::Error| format!("could not be read: {}.", io_reason(&why));
        if let Some(folder) = path.parent() {
            inside::refuse_link(folder).map_err(unreadable)?;
        }
        if fs::symlink_metadata(path).map_err(unreadable)?.len() > LARGEST_FILE {
            return Err(picture::PictureError::TooLarge.to_string());
        }
        inside::read(path).map_err(unreadable)
    }
}
