//! Whether a reading is clear enough to be written without asking.

use super::{Chosen, Spoken};
use crate::candidate::{Candidate, Seeker};
use crate::clause::{Joint, Manner};
use crate::english::{Small, is_praise};
use crate::mention::{Mention, SOME};
use crate::reading::Why;
use crate::scene::Scene;
use crate::token::Sort;
use std::collections::BTreeSet;
use tellmark_language::model::{Fact, PIECE};

/// So much farther is what a part is built into than the part itself.
const ABOVE: f64 = 0.35;

impl Spoken<'_, '_> {
    /// Whether nothing in the clause speaks against what was chosen, or would be lost with it.
    pub(super) fn is_clear(
        &self,
        seeker: &Seeker<'_>,
        manner: &Manner,
        mentions: &[Mention],
        (chosen, used): (&[Chosen], &BTreeSet<usize>),
    ) -> bool {
        let wish = self.wish();
        let all = seeker.candidates(&|at| at < wish);
        let may_say = |at: usize| {
            all.iter().any(|one| {
                one.words.contains(&at)
                    && one.coverage >= 0.5
                    && one.place.far < 0.3
                    && one.words.iter().any(|word| !used.contains(word))
            })
        };
        let left = self.left_over(used, manner, chosen);
        // "Handles of drawer 3, one is loose".
        let of_some = chosen.iter().any(|(best, _)| best.place.parts.len() > 1)
            && self.clause.words.iter().any(|at| {
                let text = self.line.words[*at].token.text.as_str();
                !used.contains(at) && (text == "one" || SOME.contains(&text))
            });
        // "Strands of the rush have broken at the front rail": it is not the rail that broke.
        let is_where = self.is_where(mentions) && left.iter().any(|left| left.why == Why::NoRule);
        // "Gap between the leaves": of which of them?
        let is_between = mentions.iter().any(|mention| {
            let first = mention.words.iter().min().copied().unwrap_or_default();
            let mut before = self.line.words[..first].iter().rev().take(2);
            before.any(|word| word.token.text == "between")
        });
        // Beside words that nothing reads, what is said of a part is not said of the whole piece.
        let is_of_piece = chosen
            .iter()
            .any(|(best, _)| best.kind == PIECE && best.place.far > 0.1)
            && left.iter().any(|left| left.why == Why::NoRule);
        // "Cane brittle and dirty" does not say that the whole chair is dirty.
        let goes_on = self.clause.joint == Joint::And && self.subject.iter().any(|&of| of != 0);
        let is_of_piece = is_of_piece
            || (mentions.is_empty()
                && chosen.iter().any(|(best, _)| best.kind == PIECE)
                && (goes_on || chosen.iter().any(|(best, _)| best.kind != PIECE)));
        // A fault that nobody can see is not certain beside words that nothing reads.
        let is_hidden = chosen.iter().any(|(best, _)| best.is_hidden);
        let is_read = !is_hidden || left.iter().all(|left| left.why != Why::NoRule);
        // "Woodworm holes", of the back, where nobody named it and the whole piece may have them.
        let is_unnamed = mentions.is_empty()
            && self.subject.is_empty()
            && chosen.iter().any(|(best, rivals)| {
                let may_be_of_piece = rivals.iter().any(|rival| rival.kind == PIECE);
                best.kind != PIECE && (may_be_of_piece || best.is_loose)
            });
        // "3 mm out of round", where the top can be measured so as well as the column.
        let is_unnamed = is_unnamed
            || (mentions.is_empty()
                && self.subject.is_empty()
                && chosen.iter().any(|(best, _)| {
                    let is_other = |one: &&Candidate| {
                        one.kind != best.kind
                            && one.coverage >= 0.5
                            && !one.words.is_disjoint(&best.words)
                    };
                    best.quantity.is_some()
                        && best.kind != PIECE
                        && all.iter().any(|one| is_other(&one))
                }));
        // "The whole thing leans forward": more of it is not read than is.
        let unread = left.iter().filter(|left| left.why == Why::NoRule).count();
        let is_mostly_unread = unread > used.len();
        // "Smells of mice": the words beside it say what it is.
        let is_of_more = left
            .iter()
            .any(|left| left.why == Why::NoRule && self.is_told_more(left.at, used));
        // "Caning needs replaced" finds nothing by itself.
        let is_wished = self.wished().is_some();
        is_read
            && !is_wished
            && !is_unnamed
            && !is_of_more
            && !is_mostly_unread
            && !is_of_piece
            && !is_where
            && !is_between
            && !of_some
            // "Rings gone": that they are there, or were.
            && (manner.missing.is_empty() || chosen.iter().all(|(best, _)| best.is_by_not))
            && manner.turns.is_empty()
            && left
                .iter()
                .all(|left| left.is_harmless || (!left.is_figure && !may_say(left.at)))
    }

    /// Whether a word says what something is of: "mice" of "smells of mice".
    fn is_told_more(&self, at: usize, used: &BTreeSet<usize>) -> bool {
        let words = self.line.words;
        let is_inside = |at: &usize| self.clause.words.contains(at);
        let mut before = (0..at).rev().take_while(is_inside);
        let tie = before.find(|&at| !matches!(words[at].token.text.as_str(), "a" | "an" | "the"));
        let is_tie = |at: usize| matches!(words[at].token.text.as_str(), "of" | "like");
        tie.is_some_and(|tie| is_tie(tie) && tie > 0 && used.contains(&(tie - 1)))
    }

    /// Where a circumstance begins, "when you lift it", behind what was said: nothing that
    /// stands in it is found.
    pub(super) fn circumstance(&self, said: &BTreeSet<usize>) -> usize {
        const BEGINS: [&str; 9] = [
            "when", "while", "after", "until", "since", "where", "as", "because", "so",
        ];
        let first = said.first().copied().unwrap_or(usize::MAX);
        let mut words = self.clause.words.iter().copied();
        let begins = words
            .find(|&at| at > first && BEGINS.contains(&self.line.words[at].token.text.as_str()));
        begins.unwrap_or(usize::MAX)
    }

    /// Where it begins to say what comes of it, "so far that the lock no longer meets its keep":
    /// what is denied there is something else.
    pub(super) fn consequence(&self, said: &BTreeSet<usize>) -> usize {
        let Some(&first) = said.first() else {
            return usize::MAX;
        };
        let mut words = self.clause.words.iter().copied();
        let begins = words.find(|&at| at > first && self.line.words[at].token.text == "so");
        begins.unwrap_or(usize::MAX)
    }

    /// "Can't see behind the interior": what is there is not the interior.
    pub(super) fn is_beside(&self, mentions: &[Mention]) -> bool {
        const WHERE: [&str; 12] = [
            "behind",
            "under",
            "underneath",
            "beneath",
            "below",
            "inside",
            "into",
            "past",
            "through",
            "above",
            "beyond",
            "between",
        ];
        let first = mentions.iter().filter_map(|m| m.words.first()).min();
        let mut before = self.clause.words.iter().filter(|&at| Some(at) < first);
        before.any(|&at| WHERE.contains(&self.line.words[at].token.text.as_str()))
    }

    /// Whether a part only says where: "at the front rail".
    pub(super) fn is_where(&self, mentions: &[Mention]) -> bool {
        const WHERE: [&str; 6] = ["at", "near", "by", "along", "beside", "against"];
        let words = self.line.words;
        mentions.iter().any(|mention| {
            let first = mention.words.iter().min().copied().unwrap_or_default();
            let mut before = words[..first].iter().rev().take(2);
            before.any(|word| WHERE.contains(&word.token.text.as_str()))
        })
    }

    /// "Old holes that don't match": they are there, and something else is not so.
    pub(super) fn is_not_what_is(&self, best: &Candidate, manner: &Manner) -> bool {
        let last = best.words.last().copied().unwrap_or_default();
        let relates =
            |at: usize| ["that", "which", "who"].contains(&self.line.words[at].token.text.as_str());
        let mut after = self.clause.words.iter().copied().filter(|&at| at > last);
        let begins = after.find(|&at| relates(at));
        begins.is_some_and(|at| manner.nots.iter().any(|&not| not > at))
    }

    /// Whether it ends in a word that may just say that all is well: "the dovetails are fine" is
    /// not fine dovetails.
    pub(super) fn ends_in_praise(&self, best: &Candidate) -> bool {
        let last = best.words.last().copied();
        best.words.len() > 1 && last.is_some_and(|at| is_praise(&self.line.words[at].token.text))
    }

    /// Whether the clause only names a part, for what follows.
    pub(super) fn says_nothing(&self, mentions: &[Mention]) -> bool {
        // "No lock" says that there is none.
        if mentions.iter().any(Mention::is_none) {
            return false;
        }
        let is_named = |at: &usize| mentions.iter().any(|m| m.words.contains(at));
        self.clause.words.iter().all(|at| {
            let word = &self.line.words[*at];
            let is_empty = matches!(word.small, Some(Small::Empty | Small::And | Small::All));
            let is_mark = matches!(word.token.sort, Sort::Break(_) | Sort::Question);
            is_named(at) || is_empty || is_mark
        }) && (!mentions.is_empty()
            || self
                .clause
                .words
                .iter()
                .all(|&at| self.line.words[at].small.is_some()))
    }
}

/// "Screws are loose" of every screw there is, where one hinge is spoken of.
pub(super) fn is_far_reaching(scene: &Scene, fact: &Fact) -> bool {
    let parts = scene.meant(&fact.part);
    let owner = |part: &usize| scene.parts[*part].owner;
    fact.part.steps.len() == 1 && parts.iter().any(|part| owner(part) != owner(&parts[0]))
}

/// Whether a candidate takes the name of a part for a word of what it says of something larger,
/// where the better one is said of that part itself: "screw 1 of the hinge is loose" is no loose
/// hinge.
pub(super) fn is_above(one: &Candidate, best: &Candidate) -> bool {
    one.place.far >= best.place.far + ABOVE && !one.words.is_disjoint(&best.mentioned)
}

/// Whether a candidate leaves out a part that was named, and that the better one is said of:
/// "screw 1 of the hinge is loose" says nothing of the hinge itself.
pub(super) fn explains_less(one: &Candidate, best: &Candidate) -> bool {
    let all = |of: &Candidate| -> BTreeSet<usize> { &of.words | &of.mentioned };
    let (one, best) = (all(one), all(best));
    one.is_subset(&best) && one.len() < best.len()
}
