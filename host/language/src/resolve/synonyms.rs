//! Other words for parts and for what is said of them.

use crate::entry::{Entry, Opener};
use crate::grammar::declare;
use crate::message::{Message, Problem};
use crate::model::{Asks, KindId, StateId};
use crate::resolve::Reader;
use crate::syntax::{Name, NewName};
use crate::vocab::{Said, key, plural};
use crate::words::a;

impl Reader<'_> {
    /// Other words for parts; gives back those that are not about a part.
    pub(super) fn noun_synonyms<'e>(
        &mut self,
        entries: &'e [Entry],
    ) -> Vec<(&'e Entry, Name, Vec<NewName>)> {
        let mut others = Vec::new();
        // A house's own words come first, and those of the standard rules give way to them.
        let of = |standard| {
            let of = move |e: &&Entry| e.opener == Opener::Synonym && e.standard == standard;
            entries.iter().filter(of)
        };
        let mut said = Vec::new();
        for entry in of(false).chain(of(true)) {
            if let Some((name, words)) = self.parse(entry, declare::synonym) {
                let _ = self.particulars(entry);
                said.push((entry, name, words));
            }
        }
        // Where two families have a word, that of a piece goes before that of a part: "mirror".
        let (pieces, parts): (Vec<_>, Vec<_>) = said.into_iter().partition(|(entry, name, _)| {
            let noun = self.vocab.nouns.get(&name.text).first();
            let kind = noun.and_then(|noun| self.model.kinds.get(noun.kind.index()));
            !entry.standard || kind.is_some_and(|kind| kind.is_piece)
        });
        for (entry, name, words) in pieces.into_iter().chain(parts) {
            match self.vocab.nouns.get(&name.text).first().copied() {
                Some(noun) => {
                    for word in &words {
                        self.noun_synonym(entry, noun.kind, word);
                    }
                }
                None => others.push((entry, name, words)),
            }
        }
        others
    }

    fn noun_synonym(&mut self, entry: &Entry, kind: KindId, new: &NewName) {
        if let Err(message) = self.good_name(&new.name, false) {
            self.fail(entry, *message);
            return;
        }
        let region = match self.new_region(new) {
            Ok(region) => region,
            Err(message) => {
                self.fail(entry, *message);
                return;
            }
        };
        let clash = self
            .vocab
            .nouns
            .get(&new.name.text)
            .iter()
            .find(|n| n.region == region || n.kind == kind)
            .copied();
        if let Some(before) = clash {
            let houses = entry.standard && !self.is_standard(before.at);
            if houses || self.files.are_of_two_families(entry.at, before.at) {
                return;
            }
            let line = self.files.line_from(before.at, new.name.at);
            if before.kind == kind {
                self.say(Message::new(
                    new.name.at,
                    Problem::ListedTwice {
                        word: &new.name.text,
                        line: &line,
                    },
                ));
                return;
            }
            let one = self.model.kinds[before.kind.index()].name.clone();
            let other = self.model.kinds[kind.index()].name.clone();
            let here = self.files.line_from(new.name.at, new.name.at);
            self.fail(
                entry,
                Message::new(
                    new.name.at,
                    Problem::WordOfTwoMeanings {
                        word: &new.name.text,
                        one: &one,
                        line: &line,
                        other: &other,
                        otherline: &here,
                    },
                )
                .with_also(before.at),
            );
            return;
        }
        let name = self.written(new.name.at);
        self.add_noun(kind, &name, false, region, false, new.name.at);
        let many = match &new.plural {
            Some(given) => {
                let many = self.written(given.at);
                self.model.other_plurals.push((kind, many.clone()));
                many
            }
            None => plural(&name),
        };
        if key(&many) != key(&name) {
            self.add_noun(kind, &many, true, region, false, new.name.at);
        }
        self.model.kinds[kind.index()].also.push(name);
    }

    /// Other words for what is said of parts.
    pub(super) fn state_synonyms(&mut self, others: Vec<(&Entry, Name, Vec<NewName>)>) {
        for (entry, name, words) in others {
            let all: Vec<(KindId, StateId)> = self
                .vocab
                .phrases
                .get(&name.text)
                .iter()
                .filter_map(|(kind, said)| match said {
                    Said::State(state) => Some((*kind, *state)),
                    _ => None,
                })
                .filter(|(_, state)| {
                    let said = self.model.states[state.index()].at;
                    !self.files.are_of_two_families(entry.at, said)
                })
                .collect();
            if all.is_empty() {
                let message = self.nothing_called(&name);
                self.fail(entry, message);
                continue;
            }
            for new in words {
                if let Err(message) = self.good_name(&new.name, true) {
                    self.fail(entry, *message);
                    continue;
                }
                for &(kind, state) in &all {
                    self.state_synonym(entry, &new, kind, state);
                }
            }
        }
    }

    /// Another word for what is said of one kind of part.
    fn state_synonym(&mut self, entry: &Entry, new: &NewName, kind: KindId, state: StateId) {
        let written = self.written(new.name.at);
        let said = self.vocab.said(&new.name.text);
        let before = said.iter().any(|(of, _)| *of == kind);
        let word = (kind, key(&written));
        if self.shared_words.contains(&word) {
            self.also_shared(state, written);
            return;
        }
        let others = self.family_words.get(&word).copied();
        let others = others.or_else(|| self.where_said(kind, &new.name.text));
        let is_others = others.is_some_and(|at| self.files.are_of_two_families(entry.at, at));
        if before && (is_others || self.gives_way(entry, kind, &new.name.text)) {
            return;
        }
        if before && self.share(&word, state, &written) {
            return;
        }
        if before {
            let owner = a(&self.model.kinds[kind.index()].name);
            let said = self.model.states[state.index()].at;
            let message = Message::new(
                new.name.at,
                Problem::SaidAlready {
                    phrase: &new.name.text,
                    owner: &owner,
                    line: &self.files.line_from(said, new.name.at),
                },
            );
            self.fail(entry, message);
            return;
        }
        self.vocab.add_state(kind, state, &written);
        if !entry.standard {
            self.house_words.insert(word);
        } else if self.files.is_of_a_family(entry.at) {
            self.family_words.insert(word, entry.at);
        }
        if let Some((sign, _)) = self.model.degree_of(state)
            && let Asks::Degrees { degrees, .. } = &self.model.signs[sign.index()].asks
        {
            self.vocab.add_degrees(kind, sign, degrees, &written);
        }
        self.model.states[state.index()].also.push(written);
    }

    /// An everyday word that is everyday for something else on the same part already ("woodworm":
    /// old holes, fresh ones) is shared by both: a note with it is asked about. Not the name that
    /// the rules themselves give a thing.
    fn share(&mut self, word: &(KindId, String), state: StateId, written: &str) -> bool {
        let said = self.vocab.said(&word.1);
        let of_kind = said.iter().find(|(of, _)| *of == word.0);
        let Some((_, Said::State(other))) = of_kind else {
            return false;
        };
        let other = *other;
        let is_degree = |state| self.model.degree_of(state).is_some();
        let named = &self.model.states[other.index()];
        let is_name = key(&named.phrase) == word.1;
        if other == state || is_name || is_degree(other) || is_degree(state) {
            return false;
        }
        let also = &mut self.model.states[other.index()].also;
        let Some(at) = also.iter().position(|one| key(one) == word.1) else {
            return false;
        };
        let before = also.remove(at);
        self.also_shared(other, before);
        self.also_shared(state, written.to_owned());
        self.vocab.remove_state(word.0, other, &word.1);
        self.shared_words.insert(word.clone());
        true
    }

    fn also_shared(&mut self, state: StateId, word: String) {
        let shared = &mut self.model.states[state.index()].shared;
        if !shared.contains(&word) {
            shared.push(word);
        }
    }

    /// The message that neither a part nor anything said of one is called so.
    fn nothing_called(&mut self, name: &Name) -> Message {
        self.with_look(|look| {
            let phrases = look.vocab.phrases.forms();
            let phrases: Vec<&str> = phrases.chain(look.vocab.nouns.forms()).collect();
            match look.nearest(&name.text, phrases) {
                Some(near) => Message::new(
                    name.at,
                    Problem::UnknownWord {
                        word: &name.text,
                        near: Some(&near.joined()),
                        figure: None,
                        read: None,
                        wants: None,
                    },
                )
                .with_fix(name.at, near.words[0], near.sure()),
                None => Message::new(
                    name.at,
                    Problem::UnknownPart {
                        word: &name.text,
                        whose: None,
                        whose_noun: None,
                        owner: None,
                        parts: None,
                    },
                ),
            }
        })
    }

    /// Whether another word of the standard rules gives way to what the house says of a kind.
    fn gives_way(&self, entry: &Entry, kind: KindId, words: &str) -> bool {
        let said = self.where_said(kind, words);
        let is_houses = said.is_some_and(|at| !self.is_standard(at));
        let is_other_word = || self.house_words.contains(&(kind, key(words)));
        entry.standard && (is_houses || is_other_word())
    }
}
