//! Parts that are said to be as they should be.

use super::Noting;
use crate::record::Job;
use crate::worries::Worries;
use tellmark_language::model::{
    Disturbs, Fact, Found, Model, Nature, PartRef, Sense, SignId, Sure,
};
use tellmark_language::words::fact_line;
use tellmark_notes::{Understood, What};

impl Noting<'_> {
    /// What is answered of each part that is said to be as it should be: whatever can be
    /// seen, felt, heard or smelled of it without taking it apart, that the rules say how it
    /// should be, and that was not noted before.
    pub(super) fn in_order(
        &self,
        job: &Job,
        understood: &Understood,
        beside: &[Fact],
    ) -> Vec<(PartRef, Vec<Fact>)> {
        let mut known: Vec<Fact> = self
            .findings(job)
            .standing()
            .map(|one| one.fact.clone())
            .collect();
        known.extend(beside.iter().cloned());
        let worries = Worries::of(self.model);
        let mut all = Vec::new();
        for heard in &understood.heard {
            let What::InOrder(said) = &heard.what else {
                continue;
            };
            for part in &said.parts {
                // A part that is not there is not sound either.
                let kind = self.scene.kind_of(part);
                let is_none = known.iter().any(|fact| match fact.found {
                    Found::Count { part, number: 0 } => Some(part) == kind,
                    _ => false,
                });
                if is_none {
                    continue;
                }
                let facts = self.answers(&worries, &known, part, said.sure);
                if !facts.is_empty() {
                    all.push((part.clone(), facts));
                }
            }
        }
        all
    }

    fn answers(&self, worries: &Worries, known: &[Fact], part: &PartRef, sure: Sure) -> Vec<Fact> {
        let Some(kind) = self.scene.kind_of(part) else {
            return Vec::new();
        };
        let is_known = |fact: &Fact| {
            known.iter().any(|one| {
                sign_of(self.model, &one.found) == sign_of(self.model, &fact.found)
                    && self.scene.single_parts(&one.part).contains(part)
            })
        };
        let mut lines: Vec<String> = Vec::new();
        let mut facts: Vec<Fact> = Vec::new();
        let signs = (0..).map(SignId).zip(&self.model.signs);
        for (id, sign) in signs.filter(|(_, sign)| self.model.is_kind_of(kind, sign.kind)) {
            let is_looked_at = matches!(
                sign.sense,
                Sense::See | Sense::Feel | Sense::Hear | Sense::Smell
            ) && sign.disturbs != Disturbs::ALot
                && sign.worked.is_none();
            let answer = worries.as_it_should_be(self.model, id, part, sure);
            let Some(answer) = answer.filter(|_| is_looked_at) else {
                continue;
            };
            // As the rules read it: what a special kind says again counts for it.
            let line = fact_line(self.model, &answer);
            let Ok(read) = self.exact.facts(&line) else {
                continue;
            };
            if lines.contains(&line) || read.iter().any(is_known) {
                continue;
            }
            lines.push(line);
            facts.extend(read);
        }
        facts
    }
}

/// The sign that a finding answers, if it is one that can be asked.
fn sign_of(model: &Model, found: &Found) -> Option<SignId> {
    match *found {
        Found::State { state, .. } => match model.states.get(state.index())?.nature {
            Nature::Seen(sign) | Nature::CountsAs { sign, .. } => Some(sign),
            Nature::Hidden { .. } => None,
        },
        Found::Measure { sign, .. }
        | Found::Choice { sign, .. }
        | Found::Degree { sign, .. }
        | Found::SignCannotBeSeen(sign)
        | Found::NotLooked(sign) => Some(sign),
        _ => None,
    }
}
