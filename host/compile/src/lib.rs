//! From the resolved rules to a pack.
//!
//! Kinds of part, where they stand in the tree of a piece, become belief
//! fragments; conditions become small programs; everything else becomes tables.
//! A pack knows kinds of part, not one piece: it serves any piece the rules
//! speak of, with any number of drawers.

mod assemble;
mod bytes;
pub mod check;
mod circuit;
mod condition;
mod factor;
mod fit;
pub mod flat;
mod formula;
mod fragment;
pub mod ground;
mod network;
mod order;
mod places;
pub mod room;
pub mod set_up;
mod size;
mod states;
mod tables;

pub use circuit::{Laid, TooLarge};
pub use condition::least_chance;
pub use fit::Reached;
pub use places::{Place, Places};
pub use size::{KindSize, PieceSize, Sizes};
pub use states::{AskRow, Asked, StateRow, States, count_sign, range};

use std::collections::HashSet;

use fit::Fitted;
use fragment::{Fragment, Tangled};
use network::{Network, Without};

use crate::room::{PackBytes, Room};
use tellmark_language::model::{Condition, Model, Predicate, StateId};
use tellmark_language::span::Span;

/// The part of a [`Built`] that takes time to work out.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Kept {
    pack: Vec<u8>,
    sizes: Sizes,
    fitted: Fitted,
}

/// A pack, with what the host needs to talk about it.
#[derive(Clone, Debug)]
pub struct Built {
    /// The pack.
    pub bytes: PackBytes,
    /// Its states and asks.
    pub states: States,
    /// Its places.
    pub places: Places,
    /// What it costs on the bench unit, kind by kind.
    pub sizes: Sizes,
    fitted: Fitted,
}

/// How far a `that means` sentence may miss its figure.
pub const TOLERANCE: f64 = 0.02;

/// Rules too tangled for the bench unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TooTangled {
    /// The place that is too tangled.
    pub place: usize,
    /// The kind that stands there.
    pub kind: tellmark_language::model::KindId,
    /// States of owners that it would have to weigh at once.
    pub interface: usize,
    /// Sums and products, if it came that far.
    pub nodes: Option<usize>,
    /// The sentence whose removal saves most.
    pub remove: Option<Span>,
}

impl Built {
    /// What is worth keeping of it.
    #[must_use]
    pub fn kept(&self) -> Kept {
        Kept {
            pack: self.bytes.bytes().to_vec(),
            sizes: self.sizes.clone(),
            fitted: self.fitted.clone(),
        }
    }

    /// The same again, from what was kept and the model it was built from;
    /// `None` if the pack does not open.
    #[must_use]
    pub fn from_kept(model: &Model, kept: Kept) -> Option<Self> {
        let bytes = PackBytes::new(&kept.pack);
        bytes.open().ok()?;
        Some(Self {
            bytes,
            states: States::of(model),
            places: Places::of(model),
            sizes: kept.sizes,
            fitted: kept.fitted,
        })
    }

    /// Chance that a sign shows at a place when nothing is wrong, if a `that
    /// means` sentence made the compiler fit it.
    #[must_use]
    pub fn false_alarm(&self, place: usize, state: usize) -> Option<f64> {
        self.fitted.false_alarm(place, state)
    }

    /// What every `that means` sentence comes to, on each kind of piece as it
    /// usually is.
    #[must_use]
    pub fn reached(&self, model: &Model) -> Vec<Reached> {
        let readings = fit::readings(model, &self.states, &self.places);
        let mut reached = Vec::new();
        with_pieces(&self.places, &self.bytes, |inspection, root| {
            let end = self.places.get(root).end;
            for reading in readings.iter().filter(|r| (root..end).contains(&r.place)) {
                reached.extend(fit::reached(
                    model,
                    &self.states,
                    &self.places,
                    inspection,
                    reading,
                ));
            }
        });
        reached
    }

    /// The ground network of a piece with these counts: the same rules by
    /// another road, for checks and for finding reasons.
    #[must_use]
    pub fn ground(
        &self,
        model: &Model,
        root: usize,
        count: impl FnMut(&[ground::GroundPart], usize, usize) -> u8,
    ) -> ground::Ground {
        ground::Ground::of(model, &self.states, &self.places, &self.fitted, root, count)
    }
}

/// Compiles a model whose rules have no circles. `words_of` gives the words of
/// an entry on one line.
///
/// # Errors
/// [`TooTangled`] names the kind of part and the sentence to take out.
pub fn build(model: &Model, words_of: &dyn Fn(Span) -> String) -> Result<Built, TooTangled> {
    let states = States::of(model);
    let places = Places::of(model);
    let compiler = Compiler {
        model,
        states: &states,
        places: &places,
        words_of,
    };
    let readings = fit::readings(model, &states, &places);
    let fitted = compiler.fit(&readings)?;
    let (fragments, bytes) = compiler.compile(&fitted)?;
    let sizes = Sizes::of(model, &places, &fragments, &bytes);
    Ok(Built {
        bytes,
        states,
        places,
        sizes,
        fitted,
    })
}

struct Compiler<'m> {
    model: &'m Model,
    states: &'m States,
    places: &'m Places,
    words_of: &'m dyn Fn(Span) -> String,
}

impl Compiler<'_> {
    fn fragments(
        &self,
        fitted: &Fitted,
        without: Without,
    ) -> Result<Vec<Fragment>, (usize, Tangled)> {
        let network = Network::of(self.model, self.states, self.places, fitted, without);
        (0..self.places.len())
            .map(|place| {
                Fragment::of(&network, self.places, place).map_err(|tangled| (place, tangled))
            })
            .collect()
    }

    fn compile(&self, fitted: &Fitted) -> Result<(Vec<Fragment>, PackBytes), TooTangled> {
        let fragments = self
            .fragments(fitted, Without::Nothing)
            .map_err(|(place, tangled)| self.too_tangled(fitted, place, tangled))?;
        let bytes = assemble::pack(&assemble::Parts {
            model: self.model,
            states: self.states,
            places: self.places,
            fragments: &fragments,
            words_of: self.words_of,
        });
        Ok((fragments, PackBytes::new(&bytes)))
    }

    /// Looks for the sentence whose removal makes the tangled place smallest.
    fn too_tangled(&self, fitted: &Fitted, place: usize, tangled: Tangled) -> TooTangled {
        let rules = (0..self.model.rules.len()).map(Without::Rule);
        let means = (0..self.model.means.len()).map(Without::Means);
        let measure = |without: Without| {
            let network = Network::of(self.model, self.states, self.places, fitted, without);
            let site = &network.sites[place];
            let interface = site.reads.len() + site.feeds.len();
            match Fragment::of(&network, self.places, place) {
                Ok(fragment) => (interface, fragment.nodes()),
                Err(tangled) => (interface, tangled.nodes.unwrap_or(usize::MAX)),
            }
        };
        let now = measure(Without::Nothing);
        let best = rules
            .chain(means)
            .map(|without| (measure(without), without))
            .min_by_key(|(size, _)| *size)
            .filter(|(size, _)| *size < now);
        let remove = best.and_then(|(_, without)| match without {
            Without::Nothing => None,
            Without::Rule(i) => Some(self.model.rules[i].at),
            Without::Means(i) => Some(self.model.means[i].at),
        });
        TooTangled {
            place,
            kind: self.places.kind(place),
            interface: tangled.interface,
            nodes: tangled.nodes,
            remove,
        }
    }

    /// Fits the `that means` sentences. Signs that are themselves causes of
    /// something come first, so that what depends on them sees them as they
    /// will be.
    fn fit(&self, readings: &[fit::Reading]) -> Result<Fitted, TooTangled> {
        let mut fitted = fit::unlinked(readings);
        if readings.is_empty() {
            return Ok(fitted);
        }
        let read = read_by_rules(self.model);
        let is_cause = |reading: &fit::Reading| {
            let declared = self.states.states[reading.row].declared;
            declared.is_some_and(|state| read.contains(&state))
        };
        let (causes, rest): (Vec<_>, Vec<_>) = readings.iter().cloned().partition(is_cause);
        for generation in [causes, rest] {
            if generation.is_empty() {
                continue;
            }
            let (_, bytes) = self.compile(&fitted)?;
            let mut next = fitted.clone();
            with_pieces(self.places, &bytes, |inspection, root| {
                let end = self.places.get(root).end;
                for reading in generation.iter().filter(|r| (root..end).contains(&r.place)) {
                    fit::fit(
                        self.model,
                        self.states,
                        self.places,
                        inspection,
                        reading,
                        &mut next,
                    );
                }
            });
            fitted = next;
        }
        Ok(fitted)
    }
}

/// Calls `each` with every kind of piece as it usually is, all parts there.
fn with_pieces(
    places: &Places,
    bytes: &PackBytes,
    mut each: impl FnMut(&mut tellmark_core::inspection::Inspection<'_, '_, f64>, usize),
) {
    let Ok(pack) = bytes.open() else { return };
    let mut room: Room<f64> = Room::default();
    for root in (0..places.len()).filter(|&p| places.owner(p).is_none()) {
        let usual = |_: &[_], _, place| {
            let record = pack.place(place);
            record.usual.max(1).min(record.most)
        };
        if let Ok(mut inspection) = room.inspection(pack, root, usual) {
            each(&mut inspection, root);
        }
    }
}

/// Every state that a rule reads.
fn read_by_rules(model: &Model) -> HashSet<StateId> {
    fn collect(condition: &Condition, read: &mut HashSet<StateId>) {
        match condition {
            Condition::All(parts) | Condition::Any(parts) => {
                for part in parts {
                    collect(part, read);
                }
            }
            Condition::Test(test) => {
                if let Predicate::State { state, .. } = test.what {
                    read.insert(state);
                }
            }
        }
    }
    let mut read = HashSet::new();
    for rule in &model.rules {
        collect(&rule.when, &mut read);
        if let Some(unless) = &rule.unless {
            collect(unless, &mut read);
        }
    }
    read
}
