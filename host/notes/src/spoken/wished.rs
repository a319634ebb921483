//! What is said to be well, or wished for, which is no finding.

use super::Spoken;
use crate::english::{Small, is_well};

impl Spoken<'_, '_> {
    /// Whether one of these words stands in the clause.
    pub(super) fn says(&self, wanted: &[&str]) -> bool {
        let mut words = self.clause.words.iter();
        words.any(|&at| wanted.contains(&self.line.words[at].token.text.as_str()))
    }

    /// The word that says that all is well, if the clause ends in one.
    pub(super) fn says_well(&self) -> Option<usize> {
        let words = self.line.words;
        let says = |at: &&usize| {
            words[**at].is_word() && !matches!(words[**at].small, Some(Small::Degree))
        };
        let last = self.clause.words.iter().rfind(says).copied()?;
        let is_denied = self
            .clause
            .words
            .iter()
            .any(|&at| matches!(words[at].small, Some(Small::Not | Small::Missing)));
        (is_well(&words[last].token.text) && !is_denied).then_some(last)
    }

    /// Where it begins to say what is to be done, "needs gluing": nothing that stands there is
    /// found.
    pub(super) fn wish(&self) -> usize {
        let wished = self.wished().filter(|&at| {
            // "Wants a new lock" may say something of the old one.
            let next = self
                .line
                .words
                .get(at + 1)
                .map(|word| word.token.text.as_str());
            !next.is_some_and(|next| matches!(next, "a" | "an" | "new" | "some" | "another"))
        });
        wished.unwrap_or(usize::MAX)
    }

    /// The word by which it says what is to be done.
    pub(super) fn wished(&self) -> Option<usize> {
        const WISHES: [&str; 9] = [
            "need",
            "needs",
            "needed",
            "needing",
            "want",
            "wants",
            "require",
            "requires",
            "requiring",
        ];
        let wishes = |at: &usize| WISHES.contains(&self.line.words[*at].token.text.as_str());
        let mut words = self.clause.words.iter().copied();
        let last = self.clause.words.last().copied();
        words.find(|at| wishes(at) && Some(*at) != last)
    }
}
