//! Praise of one thing: what it says is not so. "Runs fine" of "not running freely", "holds" of
//! "does not hold", "level" of "out of level", "key present" of "lost keys", "tooling good" of "rubbed
//! in the tooling".

use crate::candidate::{Seeker, Slots};
use crate::english::{Small, is_well};
use crate::lexicon::Saying;
use crate::mention::Mention;
use crate::stem::stem;
use std::collections::BTreeSet;

/// That something is where it belongs.
const THERE: [&str; 7] = [
    "there", "present", "intact", "complete", "here", "place", "correct",
];
/// Before something, that it is there.
const HAS: [&str; 4] = ["has", "have", "with", "got"];
/// What makes praise of a word that follows it no praise: "too tight".
const SPOILS: [&str; 6] = ["too", "over", "hardly", "barely", "only", "nearly"];

impl Seeker<'_> {
    /// The word that says that what a saying denies goes well: "nicely" of "shuts nicely", where
    /// the verb was said and nothing denies it.
    pub(crate) fn goes_well(
        &self,
        said: &BTreeSet<usize>,
        saying: &Saying,
        goes: usize,
        named: &BTreeSet<usize>,
    ) -> Option<usize> {
        let verb = &saying.words.get(goes)?.stem;
        let is_verb = |at: &usize| {
            let mut known = self.words[*at].known.iter();
            known.any(|known| stem(&known.word) == *verb)
        };
        let mut said = said.iter().copied().filter(|at| !named.contains(at));
        let at = said.find(is_verb)?;
        let is_denied = self.clause.iter().any(|&at| {
            let small = self.words[at].small;
            matches!(small, Some(Small::Not | Small::Missing | Small::Doubt))
        });
        let mut after = self.clause.iter().copied().filter(|&after| after > at);
        let praise = after.find(|&at| is_well(&self.words[at].token.text))?;
        (!is_denied).then_some(praise)
    }

    /// Whether what a saying denies is said by itself: "hinges tight" of "not tight", "catch holds"
    /// of "does not hold", "level" of "out of level".
    pub(crate) fn is_affirmed(&self, saying: &Saying, slots: &Slots, plain: &[Mention]) -> bool {
        let wanted = |slot: &usize| Some(*slot) != saying.turns;
        let said: Vec<(usize, usize)> = (0..slots.len())
            .filter(wanted)
            .filter_map(|slot| slots[slot].map(|(_, at)| (slot, at)))
            .collect();
        let is_all = said.len() == (0..slots.len()).filter(wanted).count();
        let is_plural = plain.iter().any(|mention| {
            let picks = &mention.step.picks;
            mention.step.is_plural || picks.len() > 1
        });
        // "Works", "holds": of what is, and of several "work", "hold".
        let is_now = |&(slot, at): &(usize, usize)| {
            let (typed, word) = (self.words[at].text(), saying.words[slot].word.as_str());
            let is_said = typed != word && typed.ends_with('s') && stem(typed) == stem(word);
            is_said || is_plural && (typed == word || typed == stem(word))
        };
        // "Sticks" is not "off the sticks".
        let is_verb = |typed: &str| saying.turns.is_some() && typed.ends_with('s');
        let is_itself = |&(slot, at): &(usize, usize)| {
            let typed = self.words[at].text();
            typed == saying.words[slot].word && !is_verb(typed)
        };
        // Of "doesn't hold shut" "hold" is the verb.
        let is_so = said.iter().all(|one| is_itself(one) || is_now(one))
            && (!saying.denies_verb || said.iter().any(is_now));
        let Some(last) = said.iter().map(|(_, at)| *at).max() else {
            return false;
        };
        // "The right upright" is not upright.
        let is_name = |at: usize| plain.iter().any(|mention| mention.words.contains(&at));
        let is_named = said.iter().all(|(_, at)| is_name(*at));
        is_all && !is_named && is_so && self.is_plainly_so(&said, last)
    }

    /// Whether nothing in the clause spoils what is said, and nothing but praise follows it:
    /// "works" and not "works loose".
    fn is_plainly_so(&self, said: &[(usize, usize)], last: usize) -> bool {
        let is_said = |at: usize| said.iter().any(|(_, word)| *word == at);
        self.clause.iter().all(|&at| {
            let word = &self.words[at];
            let spoils = match word.small {
                Some(Small::Not | Small::Missing) => true,
                Some(Small::Turn) => !is_well(&word.token.text),
                _ => SPOILS.contains(&word.token.text.as_str()),
            };
            let follows = at > last && word.is_word() && word.small.is_none();
            is_said(at) || !(spoils || follows && !is_well(&word.token.text))
        })
    }

    /// The word that says that what a saying misses is there: "present" of "key present", "has" of
    /// "has its key".
    pub(crate) fn is_there(
        &self,
        said: &BTreeSet<usize>,
        named: &BTreeSet<usize>,
    ) -> Option<usize> {
        let (first, last) = (*said.first()?, *said.last()?);
        let is_denied = self.clause.iter().any(|&at| {
            let small = self.words[at].small;
            matches!(small, Some(Small::Not | Small::Missing | Small::Turn))
        });
        // "With gold paint" is not that the gold is there.
        let says_more = self.clause.iter().any(|at| {
            let word = &self.words[*at];
            let is_there = THERE.contains(&word.token.text.as_str());
            let is_known = said.contains(at) || named.contains(at) || is_there;
            word.is_word() && word.small.is_none() && !is_known
        });
        if is_denied || says_more {
            return None;
        }
        let text = |at: usize| self.words[at].token.text.as_str();
        let passes = |at: &usize| {
            let small = self.words[*at].small;
            matches!(small, Some(Small::Empty | Small::All | Small::Degree))
        };
        let mut after = self.clause.iter().copied().filter(|&at| at > last);
        let after = after.find(|at| THERE.contains(&text(*at)) || !passes(at));
        match after {
            Some(at) => THERE.contains(&text(at)).then_some(at),
            None => {
                let mut before = self.clause.iter().rev().copied().filter(|&at| at < first);
                let before = before.find(|at| HAS.contains(&text(*at)) || !passes(at))?;
                HAS.contains(&text(before)).then_some(before)
            }
        }
    }

    /// The word that praises the thing that a saying speaks of, which was said and nothing else of
    /// it: "tooling good", "silvering is fine".
    pub(crate) fn is_praised(
        &self,
        saying: &Saying,
        slots: &Slots,
        named: &BTreeSet<usize>,
    ) -> Option<usize> {
        let thing = saying.words.len().checked_sub(1).filter(|&at| at > 0)?;
        let mut said = slots.iter().enumerate();
        let others = said.any(|(slot, word)| slot != thing && word.is_some());
        let (near, at) = slots.get(thing).copied().flatten()?;
        if others || near < 1.0 || named.contains(&at) || self.words[at].small.is_some() {
            return None;
        }
        let mut last = self.clause.iter().rev().copied();
        let praise = last.find(|&at| {
            let word = &self.words[at];
            word.is_word() && word.small != Some(Small::Degree)
        })?;
        let is_all = self.clause.iter().all(|&other| {
            let word = &self.words[other];
            let is_well = is_well(&word.token.text);
            let is_plain = matches!(
                word.small,
                Some(Small::Empty | Small::All | Small::Degree | Small::Doubt | Small::Certain)
            );
            other == at || named.contains(&other) || is_well || is_plain || !word.is_word()
        });
        (praise > at && is_well(&self.words[praise].token.text) && is_all).then_some(praise)
    }
}
