//! Copies of the photographs to hand over, without what the camera noted in them.

use super::photographs::{Photographs, Shot};
use crate::picture;
use std::fs;
use std::io::ErrorKind;
use std::path::Path;
use tellmark_job::plain::{self, io_reason};

/// What became of the copies.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct HandedOver {
    /// How many there are in the folder.
    pub copies: usize,
    /// Each that there is no copy of, and what follows "the photograph": why.
    pub missing: Vec<(String, String)>,
}

/// Writes a copy of every photograph into a folder, under its name, without what the
/// camera noted of place, time and owner. The photographs themselves stay as they are, and
/// nothing is written over that is not the same copy.
///
/// # Errors
/// If the folder is the one that the photographs are in, or cannot be made: what is wrong
/// with it, as a sentence.
pub fn hand_over(photographs: &Photographs, folder: &Path) -> Result<HandedOver, String> {
    let said = |why: std::io::Error| {
        format!(
            "I could not write {}: {}.",
            folder.display(),
            io_reason(&why)
        )
    };
    fs::create_dir_all(folder).map_err(said)?;
    let into = fs::canonicalize(folder).map_err(said)?;
    let shots = photographs.parts.iter().flat_map(|of| &of.shots);
    let mut handed = HandedOver::default();
    for shot in shots {
        let own = shot.path.as_deref().and_then(Path::parent);
        if own.and_then(|own| fs::canonicalize(own).ok()).as_deref() == Some(&into) {
            return Err(format!(
                "{} is where the photographs of the job are, and they stay as they are. Choose \
                 another folder.",
                folder.display()
            ));
        }
        match copy(shot, &into) {
            Ok(()) => handed.copies += 1,
            Err(why) => handed.missing.push((shot.file.clone(), why)),
        }
    }
    Ok(handed)
}

fn copy(shot: &Shot, folder: &Path) -> Result<(), String> {
    let copy = picture::without_place(&shot.bytes()?).map_err(|why| why.to_string())?;
    let path = folder.join(&shot.file);
    match plain::read(&path) {
        Ok(there) if there == copy => return Ok(()),
        Err(why) if why.kind() == ErrorKind::NotFound => {}
        _ => {
            return Err(
                "was not copied: something else of this name is in that folder. Choose another \
                 folder, or take it away."
                    .to_owned(),
            );
        }
    }
    plain::write_whole(&path, &copy)
        .map_err(|why| format!("could not be copied: {}.", io_reason(&why)))
}
