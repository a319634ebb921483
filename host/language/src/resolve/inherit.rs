//! Signs and states that a kind has from the kinds that it is a kind of.
//!
//! A bracket foot has a like of everything that is said of a foot: "is damp" is one state
//! of a foot and another of a bracket foot, each with its own chance, in the same words.

use std::collections::HashMap;

use crate::message::{Message, Problem};
use crate::model::{Asks, KindId, Nature, Sign, SignId, State, StateId};
use crate::resolve::Reader;
use crate::span::Span;
use crate::vocab::{Said, key};
use crate::words::{a, capital};

impl Reader<'_> {
    /// Adds the likes of what is said of one kind to every kind of it.
    pub(super) fn inherit_words(&mut self) {
        let states = self.model.states.clone();
        let signs = self.model.signs.clone();
        for kind in (1..self.model.kinds.len()).filter_map(|at| u16::try_from(at).ok()) {
            if self.model.kinds[usize::from(kind)].general.is_some() {
                self.inherit_said(KindId(kind), &states, &signs);
            }
        }
        let is_counted = |sign: &&Sign| matches!(sign.asks, Asks::HowMany(_));
        if signs.iter().any(|sign| is_counted(&sign)) {
            self.inherit_counts(&signs);
        }
    }

    fn inherit_said(&mut self, kind: KindId, states: &[State], signs: &[Sign]) {
        let generals: Vec<KindId> = self.model.lineage(kind).skip(1).collect();
        let mut likes: HashMap<SignId, SignId> = HashMap::new();
        for (id, sign) in (0..).map(SignId).zip(signs) {
            let words: Vec<&String> = match &sign.asks {
                _ if !generals.contains(&sign.kind) => continue,
                Asks::Which { attribute, values } => values.iter().chain([attribute]).collect(),
                Asks::HowMuch { word, phrase, .. } if phrase.is_empty() => vec![word],
                Asks::HowMuch { phrase, .. } => vec![phrase],
                Asks::Whether(_) | Asks::HowMany(_) => continue,
            };
            let mut words = words.into_iter();
            if words.any(|words| self.is_said_of_both(kind, sign.kind, words, sign.at)) {
                continue;
            }
            let asks = sign.asks.clone();
            if let Some(like) = self.like_sign(kind, id, sign, asks) {
                likes.insert(id, like);
            }
        }
        for (id, state) in (0..).map(StateId).zip(states) {
            if !generals.contains(&state.kind)
                || self.is_said_of_both(kind, state.kind, &state.phrase, state.at)
            {
                continue;
            }
            let Ok(like) = u16::try_from(self.model.states.len()).map(StateId) else {
                return self.too_many("signs", state.at);
            };
            let nature = match &state.nature {
                Nature::Seen(sign) => {
                    let asks = Asks::Whether(like);
                    let seen = &signs[sign.index()];
                    let Some(sign) = self.like_sign(kind, *sign, seen, asks) else {
                        return;
                    };
                    Nature::Seen(sign)
                }
                Nature::CountsAs { sign, mark } => match likes.get(sign) {
                    Some(&sign) => Nature::CountsAs { sign, mark: *mark },
                    None => continue,
                },
                Nature::Hidden { missed } => Nature::Hidden { missed: *missed },
            };
            self.vocab.add_state(kind, like, &state.phrase);
            for other in &state.also {
                self.vocab.add_state(kind, like, other);
            }
            self.model.states.push(State {
                kind,
                nature,
                ..state.clone()
            });
            self.model.inherited.states.push(id);
        }
    }

    /// Adds the like of a sign.
    fn like_sign(&mut self, kind: KindId, of: SignId, sign: &Sign, asks: Asks) -> Option<SignId> {
        let Ok(like) = u16::try_from(self.model.signs.len()).map(SignId) else {
            self.too_many("signs", sign.at);
            return None;
        };
        self.vocab.add_asks(kind, like, &asks);
        self.model.signs.push(Sign {
            kind,
            asks,
            ..sign.clone()
        });
        self.model.inherited.signs.push(of);
        Some(like)
    }

    /// "You can count the feet of a chest" for bracket feet, and for every kind of chest.
    fn inherit_counts(&mut self, signs: &[Sign]) {
        for (id, sign) in (0..).map(SignId).zip(signs) {
            let Asks::HowMany(part) = sign.asks else {
                continue;
            };
            let owners: Vec<KindId> = self.model.kinds_of(sign.kind).collect();
            for owner in owners {
                let such = self.tree.members(owner).iter().map(|member| member.kind);
                let such = such.filter(|&member| self.model.is_kind_of(member, part));
                for member in such.collect::<Vec<KindId>>() {
                    let asks = Asks::HowMany(member);
                    let mut known = self.model.signs.iter();
                    if !known.any(|sign| sign.kind == owner && sign.asks == asks) {
                        self.like_sign(owner, id, sign, asks);
                    }
                }
            }
        }
    }

    /// Refuses words that are said of a kind and of the kind that it is a kind of.
    fn is_said_of_both(&mut self, kind: KindId, general: KindId, words: &str, at: Span) -> bool {
        let Some(own) = self.where_said(kind, words) else {
            return false;
        };
        let name = |kind: KindId| &self.model.kinds[kind.index()].name;
        let line = self.files.line_from(at, own);
        let problem = Problem::SaidOfGeneral {
            phrase: words,
            a_kind: &capital(&a(name(kind))),
            a_general: &a(name(general)),
            general: name(general),
            line: &line,
        };
        self.say(Message::new(own, problem).with_also(at));
        true
    }

    /// Where these words are said of a kind itself.
    fn where_said(&self, kind: KindId, words: &str) -> Option<Span> {
        let sign = |sign: SignId| self.model.signs.get(sign.index()).map(|sign| sign.at);
        let said = self.vocab.said(&key(words));
        if let Some((_, said)) = said.iter().find(|(of, _)| *of == kind) {
            return match said {
                Said::State(state) => self.model.states.get(state.index()).map(|state| state.at),
                Said::Measure(measure) => sign(*measure),
                Said::Value(choice, _) => sign(*choice),
            };
        }
        let attributes = self.vocab.attributes.get(&key(words));
        if let Some((_, choice)) = attributes.iter().find(|(of, _)| *of == kind) {
            return sign(*choice);
        }
        // "how thick a top is"
        let is_such = |sign: &&Sign| {
            let Asks::HowMuch { word, phrase, .. } = &sign.asks else {
                return false;
            };
            sign.kind == kind && phrase.is_empty() && key(word) == key(words)
        };
        self.model.signs.iter().find(is_such).map(|sign| sign.at)
    }
}
