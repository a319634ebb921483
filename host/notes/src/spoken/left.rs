//! What of a clause stands in no finding.

use super::{Chosen, Spoken};
use crate::candidate::Candidate;
use crate::clause::Manner;
use crate::english::Small;
use crate::lexicon::Meaning;
use crate::mention::Mention;
use crate::reading::{Dropped, Heard, What, Why};
use crate::token::Sort;
use std::collections::BTreeSet;

impl Spoken<'_, '_> {
    /// What of the clause stands in no finding.
    pub(super) fn left_over(
        &self,
        used: &BTreeSet<usize>,
        manner: &Manner,
        chosen: &[Chosen],
    ) -> Vec<LeftOver> {
        let measured = chosen.iter().any(|(best, _)| best.quantity.is_some());
        let named = |at: &usize| chosen.iter().any(|(best, _)| best.mentioned.contains(at));
        let is_attribute = |text: &str| {
            chosen.iter().any(|(best, _)| match best.meaning {
                Meaning::Value(sign, _) => self.line.lexicon.is_attribute(sign, text),
                _ => false,
            })
        };
        let mut left = Vec::new();
        let circumstance = self.circumstance(used).min(self.wish());
        for &at in &self.clause.words {
            let word = &self.line.words[at];
            let text = word.token.text.as_str();
            let is_used = used.contains(&at) || named(&at) || manner.words.contains(&at);
            if is_used || (measured && self.line.lexicon.is_measuring(text)) || is_attribute(text) {
                continue;
            }
            if matches!(word.token.sort, Sort::Break(_) | Sort::Question | Sort::To) {
                continue;
            }
            let in_quantity = self
                .line
                .quantities
                .iter()
                .any(|q| (q.from..q.until).contains(&at));
            let why = match word.small {
                Some(Small::Degree) => Why::HowMuch,
                Some(Small::About) => Why::About,
                Some(_) if !in_quantity => continue,
                _ => Why::NoRule,
            };
            let is_house = word.known.iter().any(|known| known.near > 0.9);
            if word.is_one() && !in_quantity {
                continue;
            }
            // "4 legs loose", of four.
            let is_all = |best: &Candidate| self.counted(best) == Some(best.place.parts.len());
            let is_number = word.whole().is_some() && !in_quantity;
            if is_number && chosen.iter().any(|(best, _)| is_all(best)) {
                continue;
            }
            let is_figure = matches!(word.token.sort, Sort::Number(_)) && !in_quantity;
            left.push(LeftOver {
                at,
                why,
                is_figure,
                is_harmless: in_quantity
                    || !(is_house || is_figure)
                    || why != Why::NoRule
                    || (at >= circumstance && !is_figure),
            });
        }
        left
    }

    pub(super) fn heard(
        &self,
        found: Vec<(What, BTreeSet<usize>, Option<Candidate>)>,
        manner: &Manner,
        mentions: &[Mention],
        spoken_of: &Option<Vec<usize>>,
    ) -> Vec<Heard> {
        let used: BTreeSet<usize> = found
            .iter()
            .flat_map(|(_, words, _)| words.clone())
            .collect();
        let mut chosen: Vec<(Candidate, Vec<Candidate>)> = Vec::new();
        for (_, _, best) in &found {
            chosen.extend(best.clone().map(|best| (best, Vec::new())));
        }
        let mut left = self.left_over(&used, manner, &chosen);
        if chosen.is_empty() {
            let named = |at: usize| mentions.iter().any(|m| m.words.contains(&at));
            left.retain(|left| !named(left.at));
        }
        let mut dropped = self.dropped(&left);
        for (best, _) in &chosen {
            dropped.extend(self.dropped_of(best));
        }
        let about = match spoken_of {
            Some(parts) => parts.clone(),
            None => {
                let best = chosen.first().map(|(best, _)| &best.place);
                match (best, mentions) {
                    (Some(place), _) if place.is_sure => place.parts.clone(),
                    (Some(place), _) => self.line.finder.scene.built_into(&place.parts),
                    (None, [one]) => self.within(one),
                    (None, _) => Vec::new(),
                }
            }
        };
        let about = self.about(&about);
        let heard = found
            .into_iter()
            .enumerate()
            .map(|(at, (what, _, _))| Heard {
                typed: self.typed(),
                what,
                dropped: if at == 0 {
                    std::mem::take(&mut dropped)
                } else {
                    Vec::new()
                },
                about: about.clone(),
                is_instead: false,
                is_bound: false,
            });
        heard.collect()
    }

    /// What a finding says less exactly than was typed.
    pub(super) fn dropped_of(&self, best: &Candidate) -> Option<Dropped> {
        let quantity = best.quantity.as_ref()?;
        let words = self.line.words;
        let is_about = |at: &usize| words[*at].small == Some(Small::About);
        let about = (quantity.from.saturating_sub(2)..quantity.from).find(is_about);
        let first = words.get(about.unwrap_or(quantity.from))?.token.start;
        let last = words.get(quantity.until.checked_sub(1)?)?.token.end;
        let why = match (quantity.to, quantity.is_about) {
            (Some(_), _) => Why::Range,
            (None, true) => Why::About,
            (None, false) => return None,
        };
        Some(Dropped {
            typed: first..last,
            why,
        })
    }

    /// Words that are left over, those that stand together as one.
    pub(super) fn dropped(&self, left: &[LeftOver]) -> Vec<Dropped> {
        let mut dropped: Vec<Dropped> = Vec::new();
        let mut before = None;
        for left in left {
            let token = &self.line.words[left.at].token;
            let joins =
                |last: &Dropped| last.why == left.why && self.are_neighbours(before, left.at);
            match dropped.last_mut().filter(|last| joins(last)) {
                Some(last) => last.typed.end = token.end,
                None => dropped.push(Dropped {
                    typed: token.start..token.end,
                    why: left.why,
                }),
            }
            before = Some(left.at);
        }
        dropped
    }

    /// Whether nothing stands between two words but small ones.
    pub(super) fn are_neighbours(&self, before: Option<usize>, at: usize) -> bool {
        let between = before.map_or(at..at, |before| before + 1..at);
        before.is_some()
            && between.len() <= 3
            && between
                .clone()
                .all(|at| self.line.words[at].small == Some(Small::Empty))
    }
}

/// A word that stands in no finding.
pub(super) struct LeftOver {
    pub(super) at: usize,
    pub(super) why: Why,
    /// A number that nothing was made of.
    pub(super) is_figure: bool,
    /// It cannot be what was meant.
    pub(super) is_harmless: bool,
}
