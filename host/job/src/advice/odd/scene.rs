//! A piece with some of its findings, and how one more fits among them.

use tellmark_core::inspection::{Given, Inspection};
use tellmark_core::piece::{Answer, Part};

use super::Doubt;
use super::bands::{bands, right_bands};

/// A piece with some findings.
pub(super) struct Scene<'m> {
    pub(super) inspection: Inspection<'m, 'm, f64>,
}

/// The chances of what a finding tells apart, on a piece of which nothing else is known.
pub(super) struct Usual {
    /// Without the finding.
    before: Vec<f64>,
    /// With it.
    with_it: Vec<f64>,
}

impl<'m> Scene<'m> {
    /// A piece as it was looked over.
    pub(super) fn new(inspection: Inspection<'m, 'm, f64>) -> Self {
        Self { inspection }
    }

    /// The parts of the piece.
    pub(super) fn parts(&self) -> &[Part] {
        self.inspection.piece().parts()
    }

    /// Adds a finding.
    pub(super) fn add(&mut self, given: Given) {
        // It was accepted on a piece with the same parts.
        let _ = self.inspection.answer(given.part, given.ask, given.answer);
    }

    /// Takes a finding back.
    pub(super) fn take_back(&mut self, given: Given) {
        let nothing = Answer::NotLooked;
        let _ = self.inspection.answer(given.part, given.ask, nothing);
    }

    /// The chances of what a finding tells apart, as the piece now is; `None` if no rule
    /// reads it, or if the findings clash.
    pub(super) fn bands(&mut self, given: Given) -> Option<Vec<f64>> {
        bands(&mut self.inspection, given)
    }

    /// What is usual of a finding. The piece must be without findings, and is so again.
    pub(super) fn usual(&mut self, given: Given) -> Option<Usual> {
        let before = self.bands(given)?;
        self.add(given);
        let with_it = self.bands(given);
        self.take_back(given);
        let with_it = with_it?;
        Some(Usual { before, with_it })
    }

    /// How much rarer a finding is beside those that are here than by itself; it is not
    /// among them, and is not afterwards. `None` as in [`Scene::bands`].
    pub(super) fn doubt(&mut self, given: Given, usual: &Usual) -> Option<Doubt> {
        let beside = self.bands(given)?;
        self.add(given);
        let with_it = self.bands(given);
        self.take_back(given);
        let with_it = with_it?;
        let rarer = usual.rarer(&beside, &with_it)?;
        let right = right_bands(&self.inspection, given);
        let slip = right.map_or(0.0, |(from, to)| {
            let right = with_it.get(from..=to).unwrap_or(&[1.0]);
            1.0 - right.iter().sum::<f64>()
        });
        Some(Doubt { rarer, slip })
    }
}

impl Usual {
    /// P(f | others) / P(f), from the chances of what f tells apart beside the others,
    /// without f and with it.
    ///
    /// With b one of the possibilities, P(f | b) is the same whatever else was found. So
    /// by Bayes' rule P(f) = P(f | b) P(b) / P(b | f), and likewise beside the others.
    /// Any b will do; the one that is least rare in all four is the most exact.
    fn rarer(&self, beside: &[f64], with_it: &[f64]) -> Option<f64> {
        let usual = self.before.iter().zip(&self.with_it);
        let rows = usual.zip(beside.iter().zip(with_it));
        let rows = rows.map(|((a, b), (c, d))| (a.min(*b).min(*c).min(*d), (b / a) * (c / d)));
        let best = rows.max_by(|x, y| x.0.total_cmp(&y.0));
        best.filter(|(least, _)| *least > 0.0)
            .map(|(_, rarer)| rarer)
    }
}
