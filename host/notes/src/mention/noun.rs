//! Nouns: which kinds of part a word or several stand for.

use super::Finder;
use crate::lexicon::Noun;
use crate::line::Word;
use crate::token::Sort;
use tellmark_language::model::KindId;

impl Finder<'_> {
    pub(super) fn noun_at(
        &self,
        words: &[Word],
        at: usize,
        usable: &dyn Fn(usize) -> bool,
    ) -> Option<(usize, Vec<KindId>, bool)> {
        let run = words.iter().enumerate().skip(at);
        let run = run.take_while(|(at, word)| word.is_word() && usable(*at));
        let texts: Vec<&str> = run.map(|(_, word)| word.text()).take(6).collect();
        if let Some((count, nouns)) = self.lexicon.noun(&texts) {
            let kinds: Vec<KindId> = nouns
                .iter()
                .filter(|noun| !self.such(noun.kind).is_empty())
                .map(|noun| noun.kind)
                .collect();
            let plural = nouns.iter().all(|noun| noun.plural);
            let kinds = match kinds.is_empty() {
                true => self.in_place_of(nouns),
                false => kinds,
            };
            return Some((count, kinds, plural));
        }
        self.short_noun(words, at, usable)
    }

    /// What a word means of which this piece has none: a "leaf" where all leaves are draw
    /// leaves. A part that it has none of is still a part.
    fn in_place_of(&self, nouns: &[Noun]) -> Vec<KindId> {
        let name_of = |kind: KindId| {
            let kind = self.model.kinds.get(kind.index());
            kind.map_or("", |kind| kind.name.as_str())
        };
        let mut kinds: Vec<KindId> = Vec::new();
        for part in &self.scene.parts {
            let last = name_of(part.kind).rsplit(' ').next();
            let ends_so = |noun: &Noun| Some(name_of(noun.kind)) == last;
            if nouns.iter().any(ends_so) && !kinds.contains(&part.kind) {
                kinds.push(part.kind);
            }
        }
        match kinds.is_empty() {
            true => nouns.iter().map(|noun| noun.kind).collect(),
            false => kinds,
        }
    }

    /// "d2", "dr 2": a short word with a number behind it, where only one sort of part
    /// begins like that.
    fn short_noun(
        &self,
        words: &[Word],
        at: usize,
        usable: &dyn Fn(usize) -> bool,
    ) -> Option<(usize, Vec<KindId>, bool)> {
        let word = words.get(at)?;
        let number = words.get(at + 1)?;
        let short = word.token.text.as_str();
        let touches = number.token.start == word.token.end;
        let is_short = word.is_word() && usable(at) && short.len() <= 3 && word.small.is_none();
        if !is_short || number.whole().is_none() || (short.len() == 1 && !touches) {
            return None;
        }
        if self.lexicon.name(short).is_some() || self.is_unit_after(words, at + 2) {
            return None;
        }
        let mut kinds: Vec<KindId> = Vec::new();
        for part in self.scene.parts.iter().filter(|part| part.of > 1) {
            let name = self
                .model
                .kinds
                .get(part.kind.index())
                .map(|k| k.name.as_str());
            if name.is_some_and(|name| shortens(short, name)) && !kinds.contains(&part.kind) {
                kinds.push(part.kind);
            }
        }
        (kinds.len() == 1).then_some((1, kinds, false))
    }

    pub(super) fn is_unit_after(&self, words: &[Word], at: usize) -> bool {
        let word = words.get(at);
        word.is_some_and(|word| {
            word.token.sort == Sort::Unit
                || [
                    "mm",
                    "cm",
                    "m",
                    "inch",
                    "inches",
                    "percent",
                    "mil",
                    "mils",
                    "millimetres",
                    "millimeters",
                    "degrees",
                    "cms",
                    "mms",
                ]
                .contains(&word.token.text.as_str())
                || (word.token.text == "in"
                    && words
                        .get(at + 1)
                        .is_none_or(|next| next.known.is_empty() && next.token.text != "the"))
        })
    }
}

/// Whether a short form may stand for a name: its letters stand there in that order, the
/// first first.
fn shortens(short: &str, name: &str) -> bool {
    let mut letters = name.chars();
    let mut first = true;
    short.chars().all(|letter| {
        let found = if first {
            letters.next() == Some(letter)
        } else {
            letters.any(|one| one == letter)
        };
        first = false;
        found
    })
}
