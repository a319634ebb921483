//! Names that tell parts of one kind apart: "front left", "top".

use super::Finder;
use crate::english::{self, Small};
use crate::line::Word;
use crate::token::Sort;
use tellmark_language::model::{CountedFrom, KindId};

impl Finder<'_> {
    pub(crate) fn is_name(&self, word: &Word) -> bool {
        word.is_word() && self.lexicon.name(&word.token.text).is_some()
            || word.is_word() && self.lexicon.name(word.text()).is_some()
    }

    pub(super) fn name_of(&self, word: &Word) -> Option<String> {
        let name = self.lexicon.name(&word.token.text);
        name.or_else(|| self.lexicon.name(word.text()))
            .map(str::to_owned)
    }

    /// The name that a word stands for, if parts spoken of have it.
    pub(crate) fn name_word(&self, word: &Word) -> Option<String> {
        word.is_word().then(|| self.name_of(word)).flatten()
    }

    /// "Worn right down", "right so": no side.
    pub(crate) fn is_no_side(words: &[Word], at: usize) -> bool {
        const AFTER: [&str; 14] = [
            "down", "through", "out", "off", "away", "up", "round", "across", "along", "into",
            "so", "then", "okay", "ok",
        ];
        let text = |at: usize| words.get(at).map_or("", |word| word.token.text.as_str());
        text(at) == "right" && AFTER.contains(&text(at + 1))
    }

    /// Whether parts of these kinds can have such a name, be they there or not: "right leaf"
    /// is never the left one because the right one is gone.
    pub(super) fn have_name(&self, kinds: &[KindId], name: &str) -> bool {
        let mut members = self.model.kinds.iter().flat_map(|kind| &kind.members);
        members.any(|member| {
            let of_kind = kinds
                .iter()
                .any(|&kind| self.model.is_kind_of(member.kind, kind));
            // Of drawers that are counted from the left one is the left one.
            let is_across = matches!(member.from, Some(CountedFrom::Left | CountedFrom::Right));
            let is_end = is_across && matches!(name, "left" | "right") && {
                let mut row = self.scene.parts.iter();
                row.any(|part| part.kind == member.kind && part.of > 1)
            };
            of_kind && (is_end || member.names.iter().any(|one| english::is_named(one, name)))
        })
    }

    /// "left and right front legs": what the last name has beside, all have.
    pub(super) fn share(&self, names: &mut [String]) {
        let Some((last, others)) = names.split_last_mut() else {
            return;
        };
        let is_name = |one: &str, other: &str| {
            self.lexicon.is_whole_name(&format!("{one} {other}"))
                || self.lexicon.is_whole_name(&format!("{other} {one}"))
        };
        for other in others.iter_mut().filter(|other| !other.contains(' ')) {
            let mut words = last.split(' ').filter(|_| last.contains(' '));
            if let Some(shared) = words.find(|word| is_name(word, other)) {
                *other = format!("{shared} {other}");
            }
        }
    }

    /// Whether a word and the next are a name, "front right", with nothing behind them that is
    /// called so.
    pub(super) fn is_corner(
        &self,
        words: &[Word],
        at: usize,
        usable: &dyn Fn(usize) -> bool,
    ) -> bool {
        let text = |at: usize| words.get(at).map_or("", |next| next.token.text.as_str());
        let mut next = at + 2;
        while words
            .get(next)
            .is_some_and(|word| self.is_name(word) || word.token.text == "hand")
        {
            next += 1;
        }
        matches!(text(at), "front" | "back" | "fore" | "rear" | "hind")
            && matches!(text(at + 1), "left" | "right" | "lh" | "rh")
            && self.noun_at(words, next, usable).is_none()
    }

    /// Whether a noun is the first word of the name of what stands behind it: "front left leg",
    /// "front and back legs".
    pub(super) fn begins_a_name(
        &self,
        words: &[Word],
        at: usize,
        usable: &dyn Fn(usize) -> bool,
    ) -> bool {
        let Some(first) = words.get(at).and_then(|word| self.name_of(word)) else {
            return false;
        };
        let is_named = |noun: Option<(usize, Vec<KindId>, bool)>| {
            noun.is_some_and(|(_, kinds, _)| self.have_name(&kinds, &first))
        };
        let mut next = at + 1;
        while let Some(word) = words.get(next).filter(|_| usable(next)) {
            if is_named(self.noun_at(words, next, usable)) {
                return true;
            }
            let joins = word.small == Some(Small::And)
                || matches!(word.token.sort, Sort::Break(',' | '&' | '/'));
            if !joins && !self.is_name(word) {
                return false;
            }
            next += 1;
        }
        false
    }
}
