//! What was done, part by part, so that it can be put beside a paper.

use super::estimate::EstimateJob;
use crate::advice::{Mark, Progress};
use crate::open_job::JobView;
use crate::record::When;
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::part_ref;
use tellmark_core::number::UFloat;
use tellmark_core::piece::SetUpError;
use tellmark_language::model::Minutes;
use tellmark_language::words;

/// A job that was ticked, and not taken back since.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tick {
    /// The line of the record.
    pub line: usize,
    /// When it was written down.
    pub when: When,
    /// The job.
    pub job: String,
    /// The parts that it was done for; none: wherever it was called for.
    pub parts: Vec<String>,
    /// What it took, in all; `None` if nobody said.
    pub minutes: Option<Minutes>,
    at: Vec<usize>,
}

impl Tick {
    /// What share of its time is of some of the parts that it was done for, where time is shared
    /// out evenly: `of` are the lines of a paper for that share, `all` are all lines of the paper
    /// that it covers.
    #[must_use]
    pub(super) fn share(&self, of: usize, all: usize) -> Decimal {
        let all = self.at.len().max(all).max(1);
        Decimal::from(of.min(all)) / Decimal::from(all)
    }
}

/// Everything that was ticked, oldest first.
#[derive(Clone, Debug, Default)]
pub struct Ticks {
    /// The ticks.
    pub ticks: Vec<Tick>,
    names: Vec<String>,
    owners: Vec<Vec<usize>>,
}

impl Ticks {
    /// What the record of a job says.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn of(view: &JobView<'_>, progress: &Progress) -> Result<Ticks, SetUpError> {
        let mut room = Room::<UFloat>::default();
        let set_up = view.set_up();
        let bare = set_up.bare(view.pack, &mut room)?;
        let piece = bare.piece();
        let parts = || 0..piece.parts().len();
        let name = |part| {
            let reference = part_ref(&view.built.places, piece.parts(), part);
            words::part_name(view.model(), &reference)
        };
        let done = progress
            .marks
            .iter()
            .filter(|told| told.what.mark == Mark::Done);
        let ticks = done.map(|told| Tick {
            line: told.line,
            when: told.when,
            job: told.what.job.clone(),
            parts: told.what.parts.names.clone(),
            minutes: told.what.took,
            at: told.what.parts.indices.clone(),
        });
        Ok(Ticks {
            ticks: ticks.collect(),
            names: parts().map(name).collect(),
            owners: parts().map(|part| piece.owners(part).collect()).collect(),
        })
    }

    /// The ticks that say that a job was done for the part of a line of a paper, after a line of
    /// the record. `listed` has the lines of the paper: a tick on a part that has a line of its
    /// own for the job is of that line, and not of those for what is built into it.
    pub fn covering<'t>(
        &'t self,
        line: &'t EstimateJob,
        listed: &[&EstimateJob],
        after: usize,
    ) -> impl Iterator<Item = &'t Tick> {
        let place = |part: &str| self.names.iter().position(|name| name == part);
        let of_job = listed.iter().filter(|other| other.job == line.job);
        let with_line: Vec<usize> = of_job.filter_map(|other| place(&other.part)).collect();
        let at = place(&line.part);
        let ticks = self.ticks.iter().filter(move |tick| tick.line > after);
        ticks.filter(move |tick| tick.job == line.job && self.is_on(tick, at, &with_line))
    }

    /// How many of these lines of a paper each tick covers, by its line of the record.
    pub(super) fn covered<'l>(
        &self,
        lines: impl Iterator<Item = &'l EstimateJob>,
        listed: &[&EstimateJob],
        after: usize,
    ) -> BTreeMap<usize, usize> {
        let mut covered = BTreeMap::new();
        for line in lines {
            for tick in self.covering(line, listed, after) {
                *covered.entry(tick.line).or_default() += 1;
            }
        }
        covered
    }

    /// The part itself was ticked, or something that it is built into and that has no line of
    /// its own.
    fn is_on(&self, tick: &Tick, part: Option<usize>, with_line: &[usize]) -> bool {
        let Some(part) = part else {
            return tick.at.is_empty();
        };
        let owners = self.owners.get(part).into_iter().flatten();
        let mut meant = owners.filter(|owner| !with_line.contains(owner));
        tick.at.is_empty() || tick.at.contains(&part) || meant.any(|at| tick.at.contains(at))
    }
}
