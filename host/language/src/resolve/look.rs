//! Looking names up, and what to say when that fails.

use std::cell::RefCell;

use crate::files::Files;
use crate::message::{Message, Problem};
use crate::model::{Asks, Kind, KindId, Model, Region, Sign, SignId, State, StateId, Verb};
use crate::near::{Near, nearest};
use crate::resolve::tree::Tree;
use crate::span::Span;
use crate::syntax::Name;
use crate::vocab::{Said, Vocab, applies, key};
use crate::words::{a, capital, how_words, list_or};

/// A result, or what to say.
pub type Done<T> = Result<T, Box<Message>>;

/// A message as a failure.
pub fn refuse<T>(at: Span, problem: Problem<'_>) -> Done<T> {
    Err(Box::new(Message::new(at, problem)))
}

/// Everything that is known while names are looked up.
#[derive(Clone, Copy)]
pub struct Look<'a> {
    /// The words.
    pub vocab: &'a Vocab,
    /// What they stand for.
    pub model: &'a Model,
    /// The files, for their lines.
    pub files: &'a Files,
    /// What is built into what.
    pub tree: &'a Tree,
    /// The piece that is spoken of, where one is.
    pub piece: Option<KindId>,
    /// Remarks made on the way.
    pub notes: &'a RefCell<Vec<Message>>,
    /// Whether near words are looked for.
    pub is_explaining: bool,
}

/// How a measure is put.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Put {
    /// "how much a runner is worn", "how long ago a piece was moved".
    Named,
    /// "is worn 3 mm", "was moved 3 weeks ago".
    Said,
}

/// A noun looked up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Found {
    /// The kind.
    pub kind: KindId,
    /// Whether it was a plural.
    pub plural: bool,
    /// The value that was put before it: "gimlet-point screw".
    pub choice: Option<(SignId, u8)>,
}

impl<'a> Look<'a> {
    /// The nearest of the candidates, if any is near and it is still looked for.
    pub fn nearest<'c>(
        &self,
        word: &str,
        candidates: impl IntoIterator<Item = &'c str>,
    ) -> Option<Near<'c>> {
        self.is_explaining
            .then(|| nearest(word, candidates))
            .flatten()
    }

    /// A kind.
    #[must_use]
    pub fn kind(&self, id: KindId) -> &'a Kind {
        &self.model.kinds[id.index()]
    }

    /// A state.
    #[must_use]
    pub fn state(&self, id: StateId) -> &'a State {
        &self.model.states[id.index()]
    }

    /// A sign.
    #[must_use]
    pub fn sign(&self, id: SignId) -> &'a Sign {
        &self.model.signs[id.index()]
    }

    /// "hinge".
    #[must_use]
    pub fn name(&self, id: KindId) -> &'a str {
        &self.kind(id).name
    }

    /// "hinges".
    #[must_use]
    pub fn plural(&self, id: KindId) -> &'a str {
        &self.kind(id).plural
    }

    /// "a hinge".
    #[must_use]
    pub fn a(&self, id: KindId) -> String {
        a(self.name(id))
    }

    /// "line 26".
    #[must_use]
    pub fn line(&self, at: Span, seen_from: Span) -> String {
        self.files.line_from(at, seen_from)
    }

    /// "front, bottom, runners": what a kind is made of.
    #[must_use]
    pub fn parts(&self, id: KindId) -> String {
        let mut names: Vec<&str> = Vec::new();
        for member in self.tree.members(id) {
            let kind = self.kind(member.kind);
            let name = if member.most > 1 {
                &kind.plural
            } else {
                &kind.name
            };
            if !names.contains(&name.as_str()) {
                names.push(name);
            }
        }
        names.truncate(12);
        names.join(", ")
    }

    /// A noun, with the value before it if there is one.
    pub fn noun(&self, name: &Name) -> Done<Found> {
        if let Some(found) = self.plain_noun(&name.text, name.at)? {
            return Ok(Found {
                kind: found.0,
                plural: found.1,
                choice: None,
            });
        }
        let mut split = 0;
        while let Some(next) = name.text[split..].find(' ') {
            let at = split + next;
            let (value, noun) = (&name.text[..at], &name.text[at + 1..]);
            split = at + 1;
            for (kind, said) in self.vocab.values.get(value) {
                let Said::Value(sign, index) = said else {
                    continue;
                };
                if let Some((found, plural)) = self.plain_noun(noun, name.at)?
                    && found == *kind
                {
                    return Ok(Found {
                        kind: found,
                        plural,
                        choice: Some((*sign, *index)),
                    });
                }
            }
        }
        Err(Box::new(self.unknown_noun(name, None)))
    }

    /// A noun that must be a kind and no more.
    pub fn plain(&self, name: &Name) -> Done<Found> {
        let found = self.noun(name)?;
        if found.choice.is_some() {
            let right = self.a(found.kind);
            return refuse(
                name.at,
                Problem::ValueOfAnother {
                    noun: &name.text,
                    a_noun: &a(&name.text),
                    plural: self.plural(found.kind),
                    value: name.text.split(' ').next().unwrap_or(&right),
                },
            );
        }
        Ok(found)
    }

    /// The kind a form stands for, by the region of the pack where a word
    /// means two things.
    fn plain_noun(&self, form: &str, at: Span) -> Done<Option<(KindId, bool)>> {
        let all = self.vocab.nouns.get(form);
        let Some(first) = all.first() else {
            return Ok(None);
        };
        let several = all.iter().any(|n| n.kind != first.kind);
        if !several {
            if let (Some(region), Some(pack)) = (first.region, self.vocab.region)
                && region != pack
            {
                let name = self.name(first.kind);
                let line = self.line(first.at, at);
                self.notes.borrow_mut().push(Message::new(
                    at,
                    Problem::HouseWord {
                        word: form,
                        name,
                        line: &line,
                    },
                ));
            }
            return Ok(Some((first.kind, first.plural)));
        }
        let here: Vec<_> = all
            .iter()
            .filter(|n| n.region.is_some() && n.region == self.vocab.region)
            .collect();
        if let [one] = here[..] {
            return Ok(Some((one.kind, one.plural)));
        }
        let marked = all.iter().find(|n| n.region.is_some()).unwrap_or(first);
        let other = all.iter().find(|n| n.kind != marked.kind).unwrap_or(first);
        let region = marked.region.map_or("", region_mark);
        let problem = Problem::RegionOpen {
            word: form,
            region,
            marked: self.name(marked.kind),
            pack: self.vocab.region.map(region_word),
            other: self.name(other.kind),
        };
        Err(Box::new(Message::new(at, problem).with_also(marked.at)))
    }

    /// What a phrase says of a part of this kind.
    pub fn said(&self, kind: KindId, name: &Name) -> Done<Said> {
        let all = self.vocab.said(&name.text);
        if let Some(said) = self.pick(kind, &all) {
            return Ok(said);
        }
        let several = self.shared(kind, &name.text);
        if !several.is_empty() {
            return refuse(
                name.at,
                Problem::SaidOfSeveral {
                    phrase: &name.text,
                    owner: &self.a(kind),
                    things: &list_or(&several),
                },
            );
        }
        match all.first() {
            Some((other, said)) => Err(Box::new(self.wrong_part(kind, *other, *said, name))),
            None => Err(Box::new(self.unknown_phrase(kind, name))),
        }
    }

    /// What an everyday word may mean on a kind of part, if it is more than one thing.
    fn shared(&self, kind: KindId, phrase: &str) -> Vec<&'a str> {
        let piece = self.kind(kind).is_piece;
        let states = self.model.states.iter();
        let such = states.filter(|state| {
            applies(state.kind, kind, piece) && state.shared.iter().any(|one| key(one) == phrase)
        });
        such.map(|state| state.phrase.as_str()).collect()
    }

    /// Of several meanings, the one that fits this kind.
    #[must_use]
    pub fn pick(&self, kind: KindId, all: &[(KindId, Said)]) -> Option<Said> {
        let piece = self.kind(kind).is_piece;
        all.iter()
            .find(|(of, _)| *of == kind)
            .or_else(|| all.iter().find(|(of, _)| applies(*of, kind, piece)))
            .map(|(_, said)| *said)
    }

    /// Everything that can be said of a part of this kind.
    #[must_use]
    pub fn sayings(&self, kind: KindId) -> Vec<&'a str> {
        let piece = self.kind(kind).is_piece;
        let mut all: Vec<&str> = Vec::new();
        // Other words for it are shown only if there is little else.
        let mut others: Vec<&str> = Vec::new();
        for (id, state) in (0..).map(StateId).zip(&self.model.states) {
            let is_higher = self.model.degree_of(id).is_some_and(|(_, d)| d > 1);
            if applies(state.kind, kind, piece) && !is_higher {
                all.push(&state.phrase);
                others.extend(state.also.iter().map(String::as_str));
            }
        }
        for sign in &self.model.signs {
            if applies(sign.kind, kind, piece) {
                match &sign.asks {
                    Asks::HowMuch { phrase, .. } if !phrase.is_empty() => all.push(phrase),
                    Asks::Which { values, .. } => all.extend(values.iter().map(String::as_str)),
                    _ => {}
                }
            }
        }
        all.append(&mut others);
        all
    }

    /// "how much a runner is worn".
    #[must_use]
    pub fn sign_words(&self, id: SignId) -> String {
        let sign = self.sign(id);
        let owner = self.a(sign.kind);
        match &sign.asks {
            Asks::Whether(state) => {
                let state = self.state(*state);
                format!("whether {owner} {} {}", verb_word(state.verb), state.phrase)
            }
            Asks::Which { attribute, .. } => format!("which {attribute} {owner} has"),
            asks @ (Asks::HowMuch { .. } | Asks::Degrees { .. }) => how_words(asks, &owner),
            Asks::HowMany(part) => format!("the {} of {owner}", self.plural(*part)),
        }
    }

    /// The choice that is called this of a part.
    pub fn attribute(&self, kind: KindId, name: &Name) -> Done<SignId> {
        let all = self.vocab.attributes.get(&name.text);
        let piece = self.kind(kind).is_piece;
        if let Some((_, sign)) = all.iter().find(|(of, _)| applies(*of, kind, piece)) {
            return Ok(*sign);
        }
        match all.first() {
            Some((other, _)) => refuse(
                name.at,
                Problem::HasNoSuchPart {
                    subject: &self.a(kind),
                    part: &name.text,
                    subject_cap: &capital(&self.a(kind)),
                    parts: None,
                    owner: Some(&self.a(*other)),
                    plural: &name.text,
                },
            ),
            None => {
                let found = self.nearest(&name.text, self.vocab.attributes.forms());
                match found {
                    Some(near) => Err(Box::new(
                        Message::new(
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
                    )),
                    None => refuse(
                        name.at,
                        Problem::UnknownPhrase {
                            phrase: &name.text,
                            owner: &self.a(kind),
                            near: None,
                            known: None,
                        },
                    ),
                }
            }
        }
    }

    /// The measure that is said with this phrase or word of a part.
    pub fn measure(
        &self,
        kind: KindId,
        phrase: Option<&Name>,
        word: Option<&Name>,
        said: Put,
    ) -> Option<SignId> {
        let piece = self.kind(kind).is_piece;
        let fits = |sign: &Sign| {
            let Asks::HowMuch {
                word: w, phrase: p, ..
            } = &sign.asks
            else {
                return false;
            };
            let is_called = w.to_lowercase();
            applies(sign.kind, kind, piece)
                && phrase.map_or(p.is_empty(), |name| p.to_lowercase() == name.text)
                && match said {
                    Put::Named => word.is_none_or(|name| is_called == name.text),
                    Put::Said => self.is_said_so(&sign.asks, word),
                }
        };

        match phrase {
            Some(name) => self
                .vocab
                .phrases
                .get(&name.text)
                .iter()
                .filter_map(|(_, said)| match said {
                    Said::Measure(sign) => Some(*sign),
                    _ => None,
                })
                .find(|sign| fits(self.sign(*sign))),
            None => (0..self.model.signs.len())
                .filter_map(|i| u16::try_from(i).ok())
                .map(SignId)
                .find(|sign| fits(self.sign(*sign))),
        }
    }
}

/// "is", "shows".
#[must_use]
pub fn verb_word(verb: Verb) -> &'static str {
    match verb {
        Verb::Is => "is",
        Verb::Shows => "shows",
    }
}

/// "US", "UK".
#[must_use]
pub fn region_mark(region: Region) -> &'static str {
    match region {
        Region::British => "UK",
        Region::American => "US",
    }
}

/// "British", "American".
#[must_use]
pub fn region_word(region: Region) -> &'static str {
    match region {
        Region::British => "British",
        Region::American => "American",
    }
}
