//! A pack, with what the host needs to talk about it.

use crate::fit::{self, Reached, ReachedTogether};
use crate::fitted::Fitted;
use crate::ground::{Ground, GroundPart};
use crate::limits;
use crate::obtained::{self, Obtained, Sentence};
use crate::packing::Packed;
use crate::places::Places;
use crate::problem::Problem;
use crate::room::PackBytes;
use crate::rules::{Listed, Rules};
use crate::size::Sizes;
use crate::states::States;
use crate::tangle;
use tellmark_language::model::Model;
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

/// Compiles a model whose rules have no circles. `words_of` gives the words of an entry
/// on one line. Every limit is seen to before the work is done.
///
/// # Errors
/// See [`Problem`].
pub fn build(model: &Model, words_of: &dyn Fn(Span) -> String) -> Result<Built, Problem> {
    build_listed(model, Listed::of(model)?, words_of)
}

/// The same, from places and states that are listed already.
pub(crate) fn build_listed(
    model: &Model,
    listed: Listed,
    words_of: &dyn Fn(Span) -> String,
) -> Result<Built, Problem> {
    let rules = listed.rules(model);
    limits::check(rules)?;
    tangle::check(rules)?;
    let fitted = fit::fit(rules)?;
    let Packed { fragments, bytes } = Packed::of(rules, &fitted, words_of)?;
    let sizes = Sizes::of(rules, &fragments, &bytes);
    let Listed { places, states } = listed;
    Ok(Built {
        bytes,
        states,
        places,
        sizes,
        fitted,
    })
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
        let Listed { places, states } = Listed::of(model).ok()?;
        Some(Self {
            bytes,
            states,
            places,
            sizes: kept.sizes,
            fitted: kept.fitted,
        })
    }

    /// The rules that it was built from, as the compiler takes them.
    #[must_use]
    pub fn rules<'b>(&'b self, model: &'b Model) -> Rules<'b> {
        Rules {
            model,
            states: &self.states,
            places: &self.places,
        }
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
        fit::reached(self.rules(model), &self.bytes)
    }

    /// What every `that means` sentence about several signs comes to, in the same way.
    #[must_use]
    pub fn reached_together(&self, model: &Model) -> Vec<ReachedTogether> {
        fit::reached_together(self.rules(model), &self.bytes)
    }

    /// What the sentences that are `wanted` come to, once their condition is answered: on
    /// each kind of piece as it usually is, at each place that they speak of.
    #[must_use]
    pub fn obtained(
        &self,
        model: &Model,
        wanted: impl Fn(Sentence, Span) -> bool,
    ) -> Vec<Obtained> {
        obtained::obtained(self.rules(model), &self.bytes, wanted)
    }

    /// The ground network of a piece with these counts: the same rules laid out part
    /// by part, for checks, for bench hours and for finding reasons.
    #[must_use]
    pub fn ground(
        &self,
        model: &Model,
        root: usize,
        count: impl FnMut(&[GroundPart], usize, usize) -> u8,
    ) -> Ground {
        Ground::of(self.rules(model), &self.fitted, root, count)
    }
}
