//! Signs and states that a kind has from the kinds that it is a kind of.
//!
//! A bracket foot has a like of everything that is said of a foot: "is damp" is one state
//! of a foot and another of a bracket foot, each with its own chance, in the same words.

use std::collections::HashMap;

use crate::message::{Message, Problem};
use crate::model::{Asks, Disturbs, KindId, Nature, Sign, SignId, State, StateId, Thousandths};
use crate::resolve::Reader;
use crate::span::Span;
use crate::vocab::{Said, key};
use crate::words::{a, capital};

/// How much was declared.
struct Declared {
    states: usize,
    signs: Vec<Sign>,
}

/// What a sign says of itself that has a usual value where it says nothing.
#[derive(Clone, Copy, Default)]
pub(super) struct SaidOfSign {
    pub(super) slip: Option<Thousandths>,
    pub(super) disturbs: Option<Disturbs>,
}

impl Reader<'_> {
    /// Adds the likes of what is said of one kind to every kind of it.
    pub(super) fn inherit_words(&mut self) {
        let kinds = (0..).map(KindId).zip(&self.model.kinds);
        let special = kinds.filter(|(_, record)| record.general.is_some());
        let special = special.map(|(kind, _)| (self.model.lineage(kind).count(), kind));
        let mut special: Vec<(usize, KindId)> = special.collect();
        special.sort_unstable();
        let declared = Declared {
            states: self.model.states.len(),
            signs: self.model.signs.clone(),
        };
        let mut by_kind: HashMap<KindId, Vec<StateId>> = HashMap::new();
        for (id, state) in (0..).map(StateId).zip(&self.model.states) {
            by_kind.entry(state.kind).or_default().push(id);
        }
        for (_, kind) in special {
            let generals: Vec<KindId> = self.model.lineage(kind).skip(1).collect();
            let measures = self.inherit_measures(kind, &generals, &declared.signs);
            let of = |general: &KindId| by_kind.get(general).cloned().unwrap_or_default();
            let mut states: Vec<StateId> = generals.iter().flat_map(of).collect();
            states.sort_unstable();
            for id in states {
                self.inherit_state(kind, id, (&generals, &measures), &declared);
            }
        }
        self.inherit_counts(&declared.signs);
        self.inherit_workings();
    }

    /// Measures and choices.
    fn inherit_measures(
        &mut self,
        kind: KindId,
        generals: &[KindId],
        signs: &[Sign],
    ) -> HashMap<SignId, SignId> {
        let mut likes: HashMap<SignId, SignId> = HashMap::new();
        for (id, sign) in (0..).map(SignId).zip(signs) {
            let words: Vec<&String> = match &sign.asks {
                _ if !generals.contains(&sign.kind) => continue,
                _ if sign.place().is_some() => Vec::new(),
                Asks::Which { attribute, values } => values.iter().chain([attribute]).collect(),
                Asks::HowMuch { word, phrase, .. } | Asks::Degrees { word, phrase, .. }
                    if phrase.is_empty() =>
                {
                    vec![word]
                }
                Asks::HowMuch { phrase, .. } | Asks::Degrees { phrase, .. } => vec![phrase],
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
        likes
    }

    /// Gives a kind the like of a state of one of its general kinds.
    fn inherit_state(
        &mut self,
        kind: KindId,
        id: StateId,
        (generals, measures): (&[KindId], &HashMap<SignId, SignId>),
        declared: &Declared,
    ) {
        let state = &self.model.states[id.index()];
        if self.model.declared_like(id) != id {
            return;
        }
        // What is said again of a kind between the two counts for this one.
        let said = |kind: &KindId| self.own_state(*kind, &state.phrase, declared.states);
        let nearest = generals.iter().find_map(said).unwrap_or(id);
        let (state, at) = (self.model.states[nearest.index()].clone(), state.at);
        if let Some(own) = self.own_state(kind, &state.phrase, declared.states)
            && self.is_said_again(own, &state)
        {
            self.say_again_of_kind(own, &state);
            self.model.add_state_again(own, id);
            let nature = &self.model.states[own.index()].nature;
            if let (Nature::Seen(own), Nature::Seen(general)) = (nature, &state.nature) {
                let (own, general) = (*own, self.model.declared_sign(*general));
                self.model.add_sign_again(own, general);
            }
            return;
        }
        if self.is_said_of_both(kind, state.kind, &state.phrase, at) {
            return;
        }
        let Ok(like) = u16::try_from(self.model.states.len()).map(StateId) else {
            return self.too_many("signs", at);
        };
        let nature = match &state.nature {
            Nature::Seen(sign) => {
                let root = self.model.declared_sign(*sign);
                let seen = self.model.signs[sign.index()].clone();
                match self.like_sign(kind, root, &seen, Asks::Whether(like)) {
                    Some(sign) => Nature::Seen(sign),
                    None => return,
                }
            }
            Nature::CountsAs { sign, mark } => match measures.get(sign) {
                Some(&sign) => Nature::CountsAs { sign, mark: *mark },
                None => return,
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
            ..state
        });
        self.model.inherited.states.push(id);
    }

    /// The state with these words that is declared of a kind itself.
    fn own_state(&self, kind: KindId, phrase: &str, declared: usize) -> Option<StateId> {
        let said = self.vocab.phrases.get(&key(phrase)).iter();
        let mut own = said
            .filter(|(of, _)| *of == kind)
            .filter_map(|(_, said)| match said {
                Said::State(state) => Some(*state),
                _ => None,
            });
        own.find(|state| state.index() < declared)
    }

    /// Whether a kind's own state is what a general kind has, said again: a fault is a fault,
    /// and what is seen is found by the same sense.
    fn is_said_again(&self, own: StateId, general: &State) -> bool {
        let own = &self.model.states[own.index()];
        let sense = |sign: &SignId| self.model.signs[sign.index()].sense;
        own.verb == general.verb
            && match (&own.nature, &general.nature) {
                (Nature::Seen(own), Nature::Seen(general)) => sense(own) == sense(general),
                (Nature::Hidden { .. }, Nature::Hidden { .. }) => true,
                _ => false,
            }
    }

    /// What a kind does not say anew stays as it is said of the general kind.
    fn say_again_of_kind(&mut self, own: StateId, general: &State) {
        let state = &mut self.model.states[own.index()];
        let kind = state.kind;
        state.on_its_own = state.on_its_own.or(general.on_its_own);
        state.source = state.source.or(general.source);
        state.also.extend(general.also.iter().cloned());
        state.shared.extend(general.shared.iter().cloned());
        match (&mut state.nature, &general.nature) {
            (Nature::Hidden { missed }, Nature::Hidden { missed: general }) => {
                *missed = missed.or(*general);
            }
            (Nature::Seen(own), Nature::Seen(general)) => {
                let general = self.model.signs[general.index()].clone();
                let said = self.said_of_sign.get(own).copied().unwrap_or_default();
                let sign = &mut self.model.signs[own.index()];
                sign.ask = sign.ask.take().or(general.ask);
                sign.how = sign.how.take().or(general.how);
                sign.takes = sign.takes.or(general.takes);
                sign.slip = said.slip.unwrap_or(general.slip);
                sign.disturbs = said.disturbs.unwrap_or(general.disturbs);
                sign.source = sign.source.or(general.source);
                sign.in_order = sign.in_order.take().or_else(|| general.in_order.clone());
            }
            _ => {}
        }
        for other in &general.also {
            self.vocab.add_state(kind, own, other);
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

    /// "You can count the feet of a chest" for bracket feet, and for every kind of chest, as
    /// far as there can be more or fewer.
    fn inherit_counts(&mut self, signs: &[Sign]) {
        for (id, sign) in (0..).map(SignId).zip(signs) {
            let Asks::HowMany(part) = sign.asks else {
                continue;
            };
            let owners: Vec<KindId> = self.model.kinds_of(sign.kind).collect();
            for owner in owners {
                let members = self.tree.members(owner).iter();
                let such = members.filter(|member| self.model.is_kind_of(member.kind, part));
                let open = such.filter(|member| member.least < member.most);
                let mut open: Vec<KindId> = open.map(|member| member.kind).collect();
                if owner == sign.kind && self.tree.own_member(owner, part).is_none() {
                    // It has no feet but bracket feet: these are what is counted.
                    if let Some(&first) = open.first() {
                        self.model.signs[id.index()].asks = Asks::HowMany(first);
                        open.remove(0);
                    }
                }
                for member in open {
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
            general: name(general),
            line: &line,
        };
        self.say(Message::new(own, problem).with_also(at));
        true
    }

    /// Whether a sign was added as the like of another.
    fn is_like(&self, sign: SignId) -> bool {
        sign.index() >= self.model.declared_signs().len()
    }

    /// Where these words are said of a kind itself.
    pub(super) fn where_said(&self, kind: KindId, words: &str) -> Option<Span> {
        let sign = |sign: SignId| self.model.signs.get(sign.index()).map(|sign| sign.at);
        let said = self.vocab.said(&key(words));
        if let Some((_, said)) = said.iter().find(|(of, _)| *of == kind) {
            return match said {
                Said::State(state) => self.model.states.get(state.index()).map(|state| state.at),
                Said::Measure(measure) => sign(*measure),
                // The degrees of a like come before its states.
                Said::Degree(judgement, _) if self.is_like(*judgement) => None,
                Said::Value(sign_, _) | Said::Degree(sign_, _) => sign(*sign_),
            };
        }
        let attributes = self.vocab.attributes.get(&key(words));
        if let Some((_, choice)) = attributes.iter().find(|(of, _)| *of == kind) {
            return sign(*choice);
        }
        // "how thick a top is"
        let is_such = |sign: &&Sign| {
            let (Asks::HowMuch { word, phrase, .. } | Asks::Degrees { word, phrase, .. }) =
                &sign.asks
            else {
                return false;
            };
            sign.kind == kind && phrase.is_empty() && key(word) == key(words)
        };
        self.model.signs.iter().find(is_such).map(|sign| sign.at)
    }
}
