//! Which photograph stands where in the letter.

use super::super::kind::Kind;
use super::super::matter::Matter;
use super::super::photographs::Photographs;
use super::Letter;
use serde::Serialize;
use tellmark_job::record::Stage;

/// Where a photograph stands among all of them: `photographs.parts[of].shots[shot]`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct At {
    /// Which part's.
    pub of: usize,
    /// Which of them.
    pub shot: usize,
}

/// The photographs, each with what it shows.
#[derive(Debug, Default)]
pub(in super::super) struct Album {
    shots: Vec<Pictured>,
}

#[derive(Debug)]
struct Pictured {
    at: At,
    stage: Stage,
    /// The parts that it shows; the piece itself where it names none.
    parts: Vec<usize>,
}

impl Album {
    pub(in super::super) fn of(matter: &Matter<'_>, photographs: &Photographs) -> Album {
        let parts_of = |file: &str| {
            let mut on_record = matter.progress.photos.iter().rev();
            let told = on_record.find(|told| told.what.photo.file == file);
            let named = told.map(|told| told.what.parts.indices.clone());
            named
                .filter(|parts| !parts.is_empty())
                .unwrap_or_else(|| vec![0])
        };
        let shots = photographs.parts.iter().enumerate().flat_map(|(of, part)| {
            let shots = part.shots.iter().enumerate();
            shots.map(move |(shot, one)| (At { of, shot }, one))
        });
        let shots = shots.filter_map(|(at, one)| {
            Some(Pictured {
                at,
                stage: Stage::of_name(&one.stage)?,
                parts: parts_of(&one.file),
            })
        });
        Album {
            shots: shots.collect(),
        }
    }

    /// The large photograph: the whole piece, as it is at the moment.
    pub(super) fn large(&self, kind: Kind) -> Option<At> {
        let stages: &[Stage] = match kind {
            Kind::Estimate => &[Stage::Before],
            Kind::Progress => &[Stage::During, Stage::Before],
            Kind::HandBack => &[Stage::After, Stage::During, Stage::Before],
        };
        stages.iter().find_map(|&stage| self.of_parts(stage, &[0]))
    }

    /// Every photograph of a part.
    pub(in super::super) fn all_of(&self, part: usize) -> Vec<At> {
        let shown = self.shots.iter().filter(|shot| shot.parts.contains(&part));
        shown.map(|shot| shot.at).collect()
    }

    /// The latest photograph of one of these parts at a stage.
    pub(super) fn of_parts(&self, stage: Stage, parts: &[usize]) -> Option<At> {
        let such = self.shots.iter().filter(|shot| shot.stage == stage);
        let mut shown = such.filter(|shot| shot.parts.iter().any(|part| parts.contains(part)));
        shown.next_back().map(|shot| shot.at)
    }
}

/// Marks the photographs that the letter shows, so that the record need not show them again,
/// and the large one.
pub(super) fn mark(letter: &Letter, photographs: &mut Photographs) {
    let pairs = letter.repairs.iter().flat_map(|r| [r.before, r.after]);
    let found = letter.found.iter().map(|found| found.picture);
    let shown = pairs.chain(found).chain([letter.large]).flatten();
    for at in shown {
        if let Some(shot) = photographs.shot_mut(at.of, at.shot) {
            shot.in_letter = true;
            shot.is_large |= letter.large == Some(at);
        }
    }
}
