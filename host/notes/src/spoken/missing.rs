//! Parts that are not there, or cannot be seen: what needs no words of the house to be said.

use super::Spoken;
use crate::candidate::Candidate;
use crate::clause::{Cannot, Manner};
use crate::findings::Findings;
use crate::mention::{Mention, Pick};
use crate::reading::{MOST_READINGS, Reading, What};
use tellmark_language::model::Fact;

impl Spoken<'_, '_> {
    /// Findings that need no saying: a part that cannot be seen, a part that is not there.
    pub(super) fn without_saying(
        &self,
        facts: &Findings<'_, '_>,
        manner: &Manner,
        mentions: &[Mention],
        whole: Option<&Candidate>,
    ) -> Option<What> {
        let is_said =
            whole.is_some_and(|whole| !whole.place.parts.is_empty() && whole.coverage > 0.99);
        if is_said {
            return None;
        }
        if manner.cannot == Some(Cannot::Reach) {
            let parts = self.spoken_of(mentions)?;
            let facts = facts.out_of_sight(&parts)?;
            return Some(match self.is_beside(mentions) {
                true => What::Choose(vec![Reading { facts, fits: 0.5 }]),
                false => What::Found(facts),
            });
        }
        let has = |wanted: &[&str]| {
            let mut words = self.clause.words.iter();
            words.any(|&at| wanted.contains(&self.line.words[at].token.text.as_str()))
        };
        let says_none = !manner.missing.is_empty()
            || mentions.iter().any(Mention::is_none)
            || (!manner.nots.is_empty() && has(&["have", "has", "got", "there", "with"]));
        let says_more = whole.is_some() || manner.is_doubted || !manner.turns.is_empty();
        let [mention] = mentions else {
            return None;
        };
        let is_denied = !manner.missing.is_empty() && !manner.nots.is_empty();
        if is_denied || !says_none || (says_more && manner.missing.is_empty()) {
            return None;
        }
        // "The lock is missing its key": something else is missing.
        let is_its = |at: usize| {
            let next = self.line.words.get(at + 1);
            next.is_some_and(|word| matches!(word.token.text.as_str(), "its" | "their" | "his"))
        };
        if manner.missing.iter().any(|&at| is_its(at)) {
            return None;
        }
        let counted = facts.none_of(&self.line.finder, mention, self.subject);
        // "The lock is missing its key": it is not the lock that is missing.
        let is_more = self.clause.words.iter().any(|at| {
            let word = &self.line.words[*at];
            let is_named = mention.words.contains(at) || manner.missing.contains(at);
            // "One tray missing": not all of them.
            let is_number = word.whole().is_some() || word.is_one();
            !is_named && (is_number || (word.is_word() && word.small.is_none()))
        });
        let is_plain = !manner.is_doubted && manner.turns.is_empty() && !is_more;
        // "Knob missing on drawer 1", where nobody knows knobs: it is not the drawer.
        let is_of_another = self.clause.words.iter().any(|at| {
            let word = &self.line.words[*at];
            let is_named = mention.words.contains(at) || manner.missing.contains(at);
            !is_named && word.is_word() && word.small.is_none() && !word.is_one()
        });
        let fewer = match is_of_another {
            true => Vec::new(),
            false => self.fewer(facts, manner, mention),
        };
        let fewer = fewer.into_iter().map(|facts| Reading { facts, fits: 0.65 });
        let fewer: Vec<Reading> = fewer.take(MOST_READINGS - 1).collect();
        match counted {
            Some((facts, true)) if is_plain && !self.is_one_of_several(mention) => {
                Some(What::Found(facts))
            }
            // One after the other, where it may be any of several, and all together.
            Some((facts, is_sure)) => {
                let one = |fact: &Fact| Reading {
                    facts: vec![fact.clone()],
                    fits: 0.6,
                };
                let mut readings: Vec<Reading> = match facts.len() {
                    2..MOST_READINGS if !is_sure => facts.iter().map(one).collect(),
                    _ => Vec::new(),
                };
                readings.push(Reading { facts, fits: 0.6 });
                readings.splice(0..0, fewer);
                readings.truncate(MOST_READINGS);
                Some(What::Choose(readings))
            }
            None if !fewer.is_empty() => Some(What::Choose(fewer)),
            None => {
                let parts = self.spoken_of(mentions)?;
                let facts = facts.out_of_sight(&parts)?;
                // "Two handles missing", of drawers that have two each: not all of them.
                let counts = self.clause.words.iter().any(|&at| {
                    self.line.words[at].whole().is_some() && !mention.words.contains(&at)
                });
                (!manner.missing.is_empty() && !is_of_another && !counts)
                    .then(|| What::Choose(vec![Reading { facts, fits: 0.5 }]))
            }
        }
    }

    /// Some of several parts are missing: "one tray missing", "tray 2 missing", "tray missing"
    /// where there are three; of "handle missing", where every drawer has some, one reading for
    /// each drawer.
    fn fewer(
        &self,
        facts: &Findings<'_, '_>,
        manner: &Manner,
        mention: &Mention,
    ) -> Vec<Vec<Fact>> {
        if manner.missing.is_empty() {
            return Vec::new();
        }
        let picks = &mention.step.picks;
        let is_which = picks
            .iter()
            .any(|pick| matches!(pick, Pick::Numbers(_) | Pick::Names(_) | Pick::Place(_)));
        let is_all = picks
            .iter()
            .any(|pick| matches!(pick, Pick::All | Pick::Both));
        let number = self.clause.words.iter().find_map(|&at| {
            let word = &self.line.words[at];
            let number = word.whole().or_else(|| word.is_one().then_some(1));
            number.filter(|_| !mention.words.contains(&at))
        });
        let meant = self.line.finder.meant(mention, self.subject).parts;
        let lost = match (is_which, number) {
            (true, _) => u8::try_from(meant.len()).ok(),
            (false, Some(number)) => u8::try_from(number).ok(),
            (false, None) if is_all || mention.step.is_plural => None,
            (false, None) => Some(1),
        };
        let Some(lost) = lost else {
            return Vec::new();
        };
        let mut owners: Vec<Option<usize>> = Vec::new();
        for &part in &meant {
            let owner = facts.scene.parts[part].owner;
            if !owners.contains(&owner) {
                owners.push(owner);
            }
        }
        let each = owners.into_iter().filter_map(|owner| {
            let of_it = meant.iter().copied();
            let of_it = of_it.filter(|&part| facts.scene.parts[part].owner == owner);
            facts.fewer(&of_it.collect::<Vec<_>>(), lost)
        });
        each.collect()
    }

    /// "Stretcher missing", where there are several: one of them may be meant.
    pub(super) fn is_one_of_several(&self, mention: &Mention) -> bool {
        let mut parts = self.line.finder.scene.parts.iter();
        let kinds = &mention.step.kinds;
        !mention.step.is_plural && parts.any(|part| kinds.contains(&part.kind) && part.of > 1)
    }
}
