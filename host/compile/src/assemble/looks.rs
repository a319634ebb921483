//! Where states can be at all, datings, rounds, and the sentences that give reasons.

use tellmark_core::pack::{Bound, Dating, OnlyIf, Round, Sentence, Step};

use super::Writer;
use crate::numbers::{Number as _, Overflow};
use tellmark_language::model::{DateBound, Evidence, HowOften, Region, SourceId, StateId};
use tellmark_language::span::Span;

impl Writer<'_> {
    pub(super) fn only_ifs(&mut self) -> Result<Vec<OnlyIf>, Overflow> {
        let model = self.rules.model;
        let only_ifs = model.only_ifs.iter();
        only_ifs
            .map(|only_if| {
                let state = self.rules.states.number(only_if.state);
                Ok(OnlyIf {
                    state,
                    ask: self.rules.states.states[usize::from(state)].ask,
                    condition: self.condition(Some(&only_if.when))?,
                })
            })
            .collect()
    }

    pub(super) fn datings(&mut self) -> Result<Vec<Dating>, Overflow> {
        let model = self.rules.model;
        model
            .datings
            .iter()
            .map(|dating| {
                let bound = match &dating.bound {
                    DateBound::NotEarlier(year) => Bound::NotEarlier(*year),
                    DateBound::NotLater(year) => Bound::NotLater(*year),
                    DateBound::Usually(from, to) => Bound::Usually(*from, *to),
                    DateBound::LaterThan(kind) => Bound::Later(kind.0),
                    DateBound::Lost(what) => Bound::Lost(self.texts.add(what)?),
                };
                Ok(Dating {
                    subject: dating.subject.0,
                    source: self.source(dating.source)?,
                    condition: self.condition(dating.when.as_ref())?,
                    bound,
                    strength: match dating.evidence {
                        Evidence::Weak => 0,
                        Evidence::Fair => 1,
                        Evidence::Strong => 2,
                    },
                    region: match dating.region {
                        None => 0,
                        Some(Region::British) => 1,
                        Some(Region::American) => 2,
                    },
                })
            })
            .collect()
    }

    pub(super) fn rounds(&mut self) -> Result<(Vec<Round>, Vec<Step>), Overflow> {
        let model = self.rules.model;
        let mut rounds = Vec::new();
        let mut steps = Vec::new();
        for round in &model.rounds {
            rounds.push(Round {
                piece: round.piece.0,
                first: steps.len().half()?,
                steps: round.steps.len().half()?,
            });
            for step in &round.steps {
                steps.push(Step {
                    ask: self.rules.states.ask(step.sign),
                    condition: self.condition(step.only_if.as_ref())?,
                });
            }
        }
        Ok((rounds, steps))
    }

    /// The sentences that give reasons, so that the unit can show them.
    pub(super) fn sentences(
        &mut self,
        words_of: &dyn Fn(Span) -> String,
    ) -> Result<Vec<Sentence>, Overflow> {
        let model = self.rules.model;
        let rules = model
            .rules
            .iter()
            .flat_map(|r| r.results().map(|state| (state, r.strength, r.at, r.source)));
        let means = model
            .means
            .iter()
            .map(|m| (m.fault, m.strength, m.at, m.source));
        let together = model.togethers.iter();
        let means = means.chain(together.map(|t| (t.fault, t.strength, t.at, t.source)));
        let all: Vec<(StateId, HowOften, Span, Option<SourceId>)> = rules.chain(means).collect();
        all.into_iter()
            .map(|(state, strength, at, source)| {
                Ok(Sentence {
                    state: self.rules.states.number(state),
                    strength: strength.chance.0,
                    text: self.texts.add(&words_of(at))?,
                    source: self.source(source)?,
                })
            })
            .collect()
    }
}
