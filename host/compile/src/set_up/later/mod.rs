//! The piece after something was mended: what was noted, put to its moment.
//!
//! What is noted speaks of the moment at which it is noted. Where nothing that was mended
//! in between bears on it, all moments are one, and the latest line counts; else the earlier
//! line speaks of the piece as it was, and the later one of the piece as it is since.

mod asked;
mod groups;
mod line_up;
mod runs;
mod scene;

use std::collections::{BTreeMap, BTreeSet};

use tellmark_core::inspection::{Given, Inspection};
use tellmark_core::pack::Pack;
use tellmark_core::piece::SetUpError;

use super::{Origin, SetUp};
use crate::circuit::TooLarge;
use crate::moments::{Joint, Moments, Pair};
use crate::room::Room;
use groups::{Groups, lasting};
use line_up::LineUp;
use runs::{Runs, sorted, still};
use scene::{Scene, Without, usual};
use tellmark_language::model::{StateId, Sureness};

pub use line_up::sound;

/// What a line of the record says was mended.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// The line.
    pub line: usize,
    /// The states, each with its part.
    pub states: Vec<(usize, StateId)>,
    /// How likely it is not to hold: the state is then as it was.
    pub fails: f64,
}

/// A state that was mended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mended {
    /// The part.
    pub part: usize,
    /// The state.
    pub state: StateId,
    /// The line that says so.
    pub line: usize,
    /// Whether it may have been there before: it is hidden, or was noted. What was never seen
    /// before the mend is new when it is seen after it: the mend has not failed.
    pub was_there: bool,
    /// The line that says it is there after the mend, if one does.
    pub again: Option<usize>,
    /// How likely it is to be there now: the mend may have failed.
    pub chance: f64,
    /// How likely the mend was not to hold.
    pub fails: f64,
}

impl Mended {
    /// Whether it was found again, or its mend is in doubt: then it no longer counts as
    /// mended.
    #[must_use]
    pub fn is_in_doubt(&self) -> bool {
        self.again.is_some() || is_in_doubt(self.chance, self.fails)
    }
}

/// Whether a mend is in doubt: what it mended is possibly there (15 in 100), and likelier than
/// the mend is to fail by itself, so that something speaks for it.
fn is_in_doubt(chance: f64, fails: f64) -> bool {
    const ROUNDING: f64 = 1e-9;
    chance >= possible() && chance > fails + ROUNDING
}

/// From which chance on something is possible.
fn possible() -> f64 {
    f64::from(Sureness::Possibly.percent()) / 100.0
}

/// A fact as it counts at one moment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct At {
    /// Which of the facts.
    pub fact: usize,
    /// The parts of which it counts; `None`: all that it speaks of.
    pub parts: Option<Vec<usize>>,
}

/// The facts, moment by moment.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sorted {
    /// What was noted of the piece as it was found.
    pub found: Vec<At>,
    /// What was noted of it and holds now.
    pub now: Vec<At>,
    /// What was noted before something was mended that bears on it: nobody has looked since.
    pub overtaken: Vec<At>,
    /// What was noted of something that was itself mended since, with the line that says so.
    pub mended: Vec<(At, usize)>,
}

/// Why the piece as it is now cannot be worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoLater {
    /// It cannot be set up.
    SetUp(SetUpError),
    /// The rules tie too many parts of it together.
    TooTangled,
}

/// The piece as it is now, after something was mended.
#[derive(Clone, Debug)]
pub struct Later {
    /// What was mended, in the order of the record.
    pub mended: Vec<Mended>,
    /// What each fact says, and of when.
    pub sorted: Sorted,
    moments: Moments,
    joint: Joint,
    /// For each state of the network, how likely what was noted of it is.
    likely: Vec<Pair>,
    /// For each state of the network, its chance; `None` if what was noted cannot all be
    /// true.
    chances: Option<Vec<Option<f64>>>,
    /// For what gave each answer: how likely the rest is without it, where that differs.
    without: BTreeMap<Origin, Without>,
    /// Signs that were seen before something was mended and may well be there still.
    still: Vec<Given>,
    /// What each fact is called by whoever goes by the facts that count now.
    names: Vec<usize>,
}

impl SetUp<'_> {
    /// The piece as it is now, if anything was mended. The facts are all that the record
    /// says, oldest first, with the line of each.
    ///
    /// # Errors
    /// See [`NoLater`].
    pub fn later(
        &self,
        pack: Pack<'_>,
        lines: &[usize],
        mends: &[Mend],
    ) -> Result<Option<Later>, NoLater> {
        if mends.iter().all(|mend| mend.states.is_empty()) {
            return Ok(None);
        }
        let mut room = Room::<f64>::default();
        let inspection = self.bare(pack, &mut room).map_err(NoLater::SetUp)?;
        let ground = self.ground(&inspection);
        let mut line_up = LineUp {
            set_up: self,
            pack,
            groups: Groups::of(self, &ground, &pack),
            notes: Vec::new(),
            whole: Vec::new(),
            changes: Vec::new(),
            moment: 0,
            set: BTreeMap::new(),
            fails: Vec::new(),
            mended: Vec::new(),
            mends: BTreeMap::new(),
        };
        line_up.go_through(&inspection, &ground, lines, mends);
        let lasts = lasting(self, &ground);
        let moments = Moments::of(ground, &lasts, &line_up.changes, &line_up.fails);
        line_up.weigh(moments, inspection).map(Some)
    }
}

impl LineUp<'_> {
    /// What was mended, each with how likely it is to be there now.
    fn weighed_mends(&self, moments: &Moments, chances: Option<&[Option<f64>]>) -> Vec<Mended> {
        let chance = |mended: &Mended| {
            let row = self.set_up.built.states.declared(mended.state);
            let mut states = moments.ground.states.iter().take(moments.states());
            let state = states.position(|s| (s.part, s.row) == (mended.part, row))?;
            chances?[moments.node(moments.last(), state)]
        };
        let weighed = self.mended.iter().map(|mended| Mended {
            chance: chance(mended).unwrap_or_default(),
            ..*mended
        });
        weighed.collect()
    }

    /// What was noted, as what it says of each moment.
    fn weigh(
        self,
        moments: Moments,
        mut inspection: Inspection<'_, '_, f64>,
    ) -> Result<Later, NoLater> {
        let runs = Runs {
            moments: &moments,
            groups: &self.groups,
            notes: &self.notes,
        };
        let mut likely: Vec<Pair> = vec![(1.0, 1.0); moments.ground.states.len()];
        let mut without: BTreeMap<Origin, Without> = BTreeMap::new();
        // Every moment from which on something was noted anew.
        let mut starts: BTreeSet<usize> =
            self.notes.iter().map(|n| runs.first(n, n.moment)).collect();
        starts.insert(0);
        let usual = usual(&mut inspection, &moments);
        for &start in &starts {
            let scene = Scene::of(self.set_up, &self.pack, &runs, start, &usual);
            scene.weigh(&mut inspection, &mut likely, &mut without);
        }
        let last = moments.last();
        let found_out = (0..likely.len()).filter(|&s| likely[s].0 != likely[s].1);
        let of_now = (0..moments.states()).map(|s| moments.node(last, s));
        let watched: Vec<usize> = found_out.chain(of_now).collect();
        let joint = Joint::of(&moments, watched).map_err(|TooLarge| NoLater::TooTangled)?;
        let chances = joint.chances(&likely);
        let mended = self.weighed_mends(&moments, chances.as_deref());
        let still = still(self.set_up, &runs, chances.as_deref());
        let sorted = sorted(&runs, &self.whole, &self.mends, self.set_up.facts.len());
        Ok(Later {
            mended,
            sorted,
            likely,
            chances,
            without,
            still,
            names: Vec::new(),
            joint,
            moments,
        })
    }
}
