//! Things said one after the other with no mark between them, as a machine writes down what is
//! spoken: "bottom drawer sticks runners are worn".

use super::Line;
use crate::candidate::{Candidate, Seeker};
use crate::clause::{Clause, Joint};
use crate::english::Small;
use crate::mention::Atom;

/// What follows a part of which something is said.
const SAYS: [&str; 12] = [
    "is", "are", "has", "have", "was", "were", "isn't", "aren't", "won't", "doesn't", "don't",
    "keeps",
];

/// Words before a part that tie it to what was said before it.
const TIES: [&str; 38] = [
    "of", "in", "on", "at", "to", "from", "with", "by", "into", "onto", "for", "and", "or", "but",
    "nor", "when", "while", "where", "which", "that", "who", "if", "as", "because", "so", "than",
    "until", "after", "before", "since", "under", "over", "behind", "between", "against", "near",
    "beside", "like",
];

impl Line<'_> {
    /// The clause, cut before each part of which something new is said.
    pub(super) fn run_on(&self, clause: &Clause) -> Vec<Clause> {
        let is_inside = |at: usize| clause.words.contains(&at);
        let nouns = self.finder.atoms(self.words, &is_inside);
        let mut cuts: Vec<usize> = Vec::new();
        for noun in nouns.iter().skip(1) {
            if let Some(cut) = self.begins_anew(clause, &nouns[0], noun) {
                let before = cuts.last().copied().unwrap_or(0);
                let said = self.part_of(clause, before, cut);
                if self.is_whole(&said) {
                    cuts.push(cut);
                }
            }
        }
        if let Some(cut) = self.others_begin(clause)
            && cuts.last().is_none_or(|last| *last < cut)
        {
            let said = self.part_of(clause, cuts.last().copied().unwrap_or(0), cut);
            if self.is_whole(&said) {
                cuts.push(cut);
            }
        }
        if cuts.is_empty() {
            return vec![clause.clone()];
        }
        let ends = cuts.iter().copied().chain([usize::MAX]);
        let mut from = 0;
        let mut out = Vec::new();
        for end in ends {
            let mut said = self.part_of(clause, from, end);
            if from > 0 {
                said.joint = Joint::Strong;
            }
            out.push(said);
            from = end;
        }
        out
    }

    /// Whether something is said of a part, in words that the house has.
    fn is_whole(&self, clause: &Clause) -> bool {
        let seeker = Seeker {
            finder: self.finder,
            words: self.words,
            clause: &clause.words,
            quantities: self.quantities,
            subject: &[],
        };
        let candidates = seeker.candidates(&|_| true);
        !self.mentions(clause).is_empty() && candidates.iter().any(Candidate::is_whole)
    }

    /// Where "the other three are …" begins, behind something that is said of one.
    fn others_begin(&self, clause: &Clause) -> Option<usize> {
        let text = |at: usize| {
            let word = self.words.get(at).filter(|_| clause.words.contains(&at));
            word.map_or("", |word| word.token.text.as_str())
        };
        let mut all = clause.words.iter().copied();
        let other = all.find(|&at| {
            let next = at
                + 1
                + usize::from(matches!(
                    text(at + 1),
                    "one" | "two" | "three" | "four" | "five"
                ));
            matches!(text(at), "other" | "others") && matches!(text(next), "is" | "are")
        })?;
        let is_the = other > 0 && text(other - 1) == "the";
        let cut = other - usize::from(is_the);
        let before = cut.checked_sub(1).filter(|at| clause.words.contains(at))?;
        (!TIES.contains(&text(before))).then_some(cut)
    }

    /// Where a clause of its own begins with a noun, if it does.
    fn begins_anew(&self, clause: &Clause, first: &Atom, noun: &Atom) -> Option<usize> {
        let text = |at: usize| {
            self.words
                .get(at)
                .map_or("", |word| word.token.text.as_str())
        };
        let start = noun.words.iter().min().copied()?;
        let last = noun.words.iter().max().copied()?;
        let is_inside = |at: usize| clause.words.contains(&at);
        let is_of_it = |at: usize| {
            matches!(
                text(at),
                "the" | "its" | "their" | "a" | "an" | "this" | "these"
            ) || self.words[at].small == Some(Small::All)
        };
        let mut cut = start;
        while cut > 0 && is_inside(cut - 1) && is_of_it(cut - 1) {
            cut -= 1;
        }
        let before = cut.checked_sub(1).filter(|&at| is_inside(at))?;
        if TIES.contains(&text(before)) || !self.words[before].is_word() {
            return None;
        }
        let says_of_it = is_inside(last + 1) && SAYS.contains(&text(last + 1));
        // "Drawer 2 stiff drawer 3 scraping".
        let is_such = noun.step.kinds == first.step.kinds && !noun.step.picks.is_empty();
        let next = self.words.get(last + 1).filter(|_| is_inside(last + 1));
        let goes_on = next.is_some_and(|next| next.is_word() && next.small.is_none());
        let is_plain_before = self.words[before].small.is_none();
        (says_of_it || (is_such && goes_on && is_plain_before)).then_some(cut)
    }

    /// The words of a clause between two places.
    fn part_of(&self, clause: &Clause, from: usize, until: usize) -> Clause {
        let words = clause.words.iter().copied();
        Clause {
            words: words.filter(|at| (from..until).contains(at)).collect(),
            joint: clause.joint,
            is_asked: clause.is_asked,
        }
    }
}
