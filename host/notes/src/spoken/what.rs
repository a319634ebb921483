//! What a clause comes to: a finding, or what is asked.

use super::Spoken;
use crate::candidate::Candidate;
use crate::clause::{Cannot, Manner};
use crate::findings::{Findings, Put};
use crate::lexicon::Meaning;
use crate::reading::{MOST_READINGS, Reading, What};
use tellmark_language::model::{Fact, Sure};

/// How much better the best must fit than any other to be taken without asking.
const BETTER: f64 = 0.15;

impl Spoken<'_, '_> {
    /// What is written or offered for the best candidate and those beside it.
    pub(super) fn what(
        &self,
        best: &Candidate,
        rivals: &[Candidate],
        manner: &Manner,
        put: Put,
        is_plain: bool,
        two_ways: bool,
    ) -> What {
        let facts = Findings {
            house: self.house,
            scene: self.line.finder.scene,
        };
        let put_for = |one: &Candidate| Put {
            yes: !one.is_well && (one.is_by_not || (put.yes && !one.place.is_no)),
            ..put
        };
        let nots = manner.nots.len() + usize::from(best.place.is_no);
        let is_careful =
            best.is_hidden && (best.coverage < 0.99 || best.near < 0.97 || best.is_loose);
        let asks_back = matches!(
            manner.cannot,
            Some(Cannot::Reach | Cannot::Any | Cannot::Doubt)
        );
        // "Walnut top" is not what the whole piece is made of, nor is "right leaf faded" all of it;
        // "frass under the base" only says where, and "dark corners of the top" does not.
        let is_value = matches!(best.meaning, Meaning::Value(..));
        let is_said_of_it =
            best.mentioned.first() < best.words.first() || self.is_of_it(best.mentioned.first());
        let is_far = best.place.far > 0.1 && (is_value || is_said_of_it);
        let is_not_what_is = self.is_not_what_is(best, manner);
        let may_be_else =
            asks_back || is_far || is_not_what_is || best.is_well || self.ends_in_praise(best);
        let is_clear = is_plain
            && !may_be_else
            && best.is_whole()
            && best.place.is_sure
            && nots <= 1
            && !is_careful
            && rivals
                .iter()
                .all(|rival| rival.score() < best.score() - BETTER);
        if is_clear && let Some(found) = facts.clear(best, put_for(best)) {
            return What::Found(found);
        }
        let mut readings: Vec<Reading> = Vec::new();
        let mut offer = |found: Vec<Fact>, fits: f64| {
            let is_new = !readings.iter().any(|one| one.facts == found);
            if is_new && !found.is_empty() && readings.len() < MOST_READINGS {
                readings.push(Reading { facts: found, fits });
            }
        };
        if !put_for(best).yes && manner.cannot.is_none() {
            offer(self.none_of_these(best, rivals, put), best.score());
        }
        for one in std::iter::once(best).chain(rivals) {
            let put = put_for(one);
            // Said in a way that can be taken for something else too.
            let or_else = match manner.cannot {
                Some(Cannot::Doubt) => Some(Put {
                    yes: true,
                    sure: Sure::Looks,
                    cannot: false,
                }),
                Some(Cannot::Any) => Some(Put {
                    yes: false,
                    sure: Sure::Ordinary,
                    cannot: false,
                }),
                _ => None,
            };
            // "No key" is no lock that is not stiff to the key.
            let is_denied = !put.yes && !one.is_well && !self.says(&["negative"]);
            if is_denied && !one.ends_it && !one.is_whole() && manner.cannot.is_none() {
                continue;
            }
            let turned = (two_ways || is_not_what_is).then_some(Put {
                yes: !put.yes,
                ..put
            });
            // "Rings gone": that they are not there, or were.
            let is_beside = |at: usize| {
                let (first, last) = (one.words.first(), one.words.last());
                last.is_some_and(|&last| at > last) || first.is_some_and(|&first| at + 1 == first)
            };
            let mut missing = manner.missing.iter().filter(|at| !one.words.contains(at));
            let is_gone = put.yes && !one.is_by_not && missing.any(|&at| is_beside(at));
            let gone = is_gone.then_some(Put { yes: false, ..put });
            for put in [gone, Some(put), or_else, turned].into_iter().flatten() {
                let of_these = self.counted(one).and_then(|n| facts.so_many(one, n, put));
                for found in of_these.unwrap_or_else(|| facts.offered(one, put)) {
                    offer(found, one.score());
                }
            }
        }
        if readings.is_empty() {
            What::Nothing
        } else {
            What::Choose(readings)
        }
    }

    /// How many are spoken of: "2" of "2 handles loose".
    pub(super) fn counted(&self, one: &Candidate) -> Option<usize> {
        let words = self.line.words;
        let is_of_it = |at: usize| one.words.contains(&at) || one.mentioned.contains(&at);
        let mut numbers = self.clause.words.iter().copied().filter(|&at| {
            let is_number = words[at].whole().is_some() && !words[at].is_one();
            is_number && !self.line.is_measured(at)
        });
        let counts = |at: &usize| is_of_it(at + 1) && !is_of_it(*at);
        let at = numbers.find(counts)?;
        usize::try_from(words[at].whole()?).ok()
    }

    /// "Dark in the corners of the top": whether a part is tied to what is said by an "of".
    fn is_of_it(&self, part: Option<&usize>) -> bool {
        let words = self.line.words;
        let before = part.and_then(|&part| words.get(..part));
        let mut before = before.into_iter().flatten().rev();
        let tie = before.find(|word| !matches!(word.token.text.as_str(), "the" | "its" | "a"));
        tie.is_some_and(|tie| tie.token.text == "of")
    }

    /// "No rings": none of all that ends with the word. Empty if there is only one such.
    pub(super) fn none_of_these(
        &self,
        best: &Candidate,
        rivals: &[Candidate],
        put: Put,
    ) -> Vec<Fact> {
        let facts = Findings {
            house: self.house,
            scene: self.line.finder.scene,
        };
        let put = Put { yes: false, ..put };
        let such = std::iter::once(best).chain(rivals).filter(|one| {
            one.is_well == best.is_well
                && (one.kind == best.kind || !(one.is_well || best.mentioned.is_empty()))
                && (one.ends_it || one.is_well)
                && (!one.is_hidden || one.is_well)
                && one.place.is_sure
                && one.words == best.words
                && (one.coverage - best.coverage).abs() < 0.1
        });
        let each: Vec<Vec<Fact>> = such.filter_map(|one| facts.clear(one, put)).collect();
        if each.len() < 2 {
            return Vec::new();
        }
        each.into_iter().flatten().collect()
    }
}
