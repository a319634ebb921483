//! The words of a house, ready to be found in a note: what can be said of which part, in
//! every way that the house says it.

use crate::english::{self, Small, is_loss, is_ordinary, is_praise, same_place, small};
use crate::slips::{distance, furthest};
use crate::stem::stem;
use std::collections::{BTreeMap, BTreeSet};
use tellmark_language::model::{Asks, KindId, Model, Nature, PIECE, SignId, StateId};

/// What a saying means.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Meaning {
    /// Something that is so or not.
    State(StateId),
    /// A measure, which a quantity goes with.
    Measure(SignId),
    /// A value of a choice.
    Value(SignId, u8),
    /// A degree of a judgement.
    Degree(SignId, u8),
}

/// One way to say something of one kind of part.
#[derive(Clone, Debug)]
pub(crate) struct Saying {
    /// Of which kind.
    pub(crate) kind: KindId,
    /// What it means.
    pub(crate) meaning: Meaning,
    /// Its words, each as written and its stem, with its weight.
    pub(crate) words: Vec<Wording>,
    /// How it is written.
    pub(crate) phrase: String,
    /// Whether a piece must be taken apart to see it.
    pub(crate) is_hidden: bool,
    /// One word that is not the house's own for it.
    pub(crate) is_loose: bool,
    /// The place of the word that it turns on: "rings" of "black rings".
    pub(crate) head: usize,
    /// It is said by a "not", which is none of its words: "won't shut".
    pub(crate) is_negated: bool,
    /// The "not" is that of a verb: "won't shut", "doesn't hold".
    pub(crate) denies_verb: bool,
    /// The place of a word that says that something is not there: "lost" of "lost keys".
    pub(crate) loss: Option<usize>,
    /// The place of a small word that turns all the others into their opposite: "out" of "out of
    /// level".
    pub(crate) turns: Option<usize>,
    /// The place of a small word that says it, beside one other: "off" of "escutcheon off".
    pub(crate) needs: Option<usize>,
    /// The place of what does not go as it should: "shut" of "won't shut" and "shutting badly".
    pub(crate) goes: Option<usize>,
    /// The place of a word that says how it goes: "badly", or "freely" of "not running freely".
    pub(crate) how: Option<usize>,
}

/// Small words that turn what follows into its opposite, at the beginning of a saying.
const TURNS: [&str; 6] = ["out", "off", "below", "above", "beyond", "without"];

/// A word of a saying.
#[derive(Clone, Debug)]
pub(crate) struct Wording {
    pub(crate) word: String,
    pub(crate) stem: String,
    pub(crate) weight: f64,
}

/// A word for a kind of part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Noun {
    pub(crate) kind: KindId,
    pub(crate) plural: bool,
}

/// What a typed word may be.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Known {
    /// A word of the house.
    pub(crate) word: String,
    /// How near it is: 1 as it was typed.
    pub(crate) near: f64,
}

/// How near a form of a word is, and a slip of the finger.
const FORM: f64 = 0.96;
const SLIP: f64 = 0.86;
/// A word of which only the beginning was typed.
const BEGUN: f64 = 0.8;
/// A word that is an ordinary one, taken for a slip: never without asking.
const ODD_SLIP: f64 = 0.55;

/// The words of a house.
#[derive(Clone, Debug, Default)]
pub(crate) struct Lexicon {
    pub(crate) sayings: Vec<Saying>,
    /// Sayings by the stems in them.
    by_stem: BTreeMap<String, Vec<(usize, usize)>>,
    nouns: BTreeMap<String, Vec<Noun>>,
    longest_noun: usize,
    /// The words of names of single parts, "left", with their short forms.
    names: BTreeMap<String, String>,
    /// The names of single parts: "left", "front left".
    whole_names: BTreeSet<String>,
    /// "wide", "deep": how a measure goes on.
    measuring: BTreeSet<String>,
    /// The attribute of each choice.
    attributes: BTreeMap<SignId, Vec<String>>,
    /// Every word of the house, for slips.
    all: Vec<(String, Vec<char>)>,
    /// Words that are never taken for a saying, and what they are not taken for.
    apart: Vec<(Vec<String>, Vec<String>)>,
}

impl Lexicon {
    pub(crate) fn of(model: &Model) -> Lexicon {
        let mut lexicon = Lexicon::default();
        lexicon.take_nouns(model);
        lexicon.take_states(model);
        lexicon.take_signs(model);
        lexicon.weigh();
        lexicon.take_words();
        lexicon.apart = model
            .wrong_friends
            .iter()
            .map(|friend| (split(&friend.word), friend.phrases.clone()))
            .collect();
        lexicon
    }

    fn take_nouns(&mut self, model: &Model) {
        for (kind, entry) in (0..).map(KindId).zip(&model.kinds) {
            self.add_noun(&entry.name, kind, false);
            self.add_noun(&entry.plural, kind, true);
            // "Shelfs", as it is often written.
            self.add_noun(&format!("{}s", entry.name), kind, true);
            for other in &entry.also {
                self.add_noun(other, kind, false);
                self.add_noun(&tellmark_language::vocab::plural(other), kind, true);
            }
            for member in &entry.members {
                for name in &member.names {
                    self.add_name(name);
                }
            }
        }
        for (kind, plural) in &model.other_plurals {
            self.add_noun(plural, *kind, true);
        }
        self.add_short_names(model);
    }

    /// "chest" for "chest of drawers": a word of a piece's name that means nothing else.
    fn add_short_names(&mut self, model: &Model) {
        let mut short: BTreeMap<String, Vec<KindId>> = BTreeMap::new();
        for (kind, entry) in (0..).map(KindId).zip(&model.kinds) {
            if kind == PIECE || !entry.is_piece {
                continue;
            }
            for name in std::iter::once(&entry.name).chain(&entry.also) {
                let head = head_of(name);
                if !self.nouns.contains_key(&head) {
                    let kinds = short.entry(head).or_default();
                    if !kinds.contains(&kind) {
                        kinds.push(kind);
                    }
                }
            }
        }
        for (word, kinds) in short {
            for kind in kinds {
                self.add_noun(&word, kind, false);
            }
        }
    }

    fn add_noun(&mut self, form: &str, kind: KindId, plural: bool) {
        let form = split(form).join(" ");
        self.longest_noun = self.longest_noun.max(form.split(' ').count());
        let entry = self.nouns.entry(form).or_default();
        let noun = Noun { kind, plural };
        if !entry.iter().any(|n| n.kind == kind) {
            entry.push(noun);
        }
    }

    /// "left", "l", "lh", and "left hand"; of "front left" each word by itself.
    fn add_name(&mut self, name: &str) {
        let name = name.to_lowercase();
        self.whole_names.insert(name.clone());
        for word in name.split(' ') {
            self.add_name_word(word.to_owned());
        }
    }

    fn add_name_word(&mut self, name: String) {
        self.names.insert(name.clone(), name.clone());
        for other in same_place(&name) {
            self.names
                .entry((*other).to_owned())
                .or_insert(name.clone());
        }
        if let Some(first) = name.chars().next() {
            for short in [first.to_string(), format!("{first}h")] {
                // A letter that begins two names stands for neither.
                match self.names.get(&short) {
                    Some(other) if *other != name => {
                        self.names.insert(short, String::new());
                    }
                    _ => {
                        self.names.insert(short, name.clone());
                    }
                }
            }
        }
    }

    fn take_states(&mut self, model: &Model) {
        for (id, state) in (0..).map(StateId).zip(&model.states) {
            // Degrees above the lowest are said in their own words.
            if model.degree_of(id).is_some_and(|(_, degree)| degree > 1) {
                continue;
            }
            let is_hidden = matches!(state.nature, Nature::Hidden { .. });
            self.add(state.kind, Meaning::State(id), &state.phrase, is_hidden);
            for phrase in state.also.iter().chain(&state.shared) {
                self.add(state.kind, Meaning::State(id), phrase, is_hidden);
                if let Some(last) = self.sayings.last_mut() {
                    last.is_loose = last.words.len() < 2;
                }
            }
        }
    }

    fn take_signs(&mut self, model: &Model) {
        for (id, sign) in (0..).map(SignId).zip(&model.signs) {
            if sign.worked.is_some() {
                continue;
            }
            match &sign.asks {
                Asks::Whether(_) | Asks::HowMany(_) => {}
                Asks::Which { attribute, values } => {
                    self.attributes.insert(id, stems(attribute));
                    for (value, words) in (0..).zip(values) {
                        self.add(sign.kind, Meaning::Value(id, value), words, false);
                    }
                }
                Asks::HowMuch { word, phrase, .. } => {
                    for word in split(word) {
                        self.measuring.insert(word);
                    }
                    let said = if phrase.is_empty() { word } else { phrase };
                    self.add(sign.kind, Meaning::Measure(id), said, false);
                }
                Asks::Degrees {
                    word,
                    phrase,
                    degrees,
                } => {
                    let said = if phrase.is_empty() { word } else { phrase };
                    for (degree, how) in (1..).zip(degrees) {
                        let said = format!("{how} {said}");
                        self.add(sign.kind, Meaning::Degree(id, degree), &said, false);
                    }
                }
            }
        }
    }

    fn add(&mut self, kind: KindId, meaning: Meaning, phrase: &str, is_hidden: bool) {
        let all = split(phrase);
        let is_not = |word: &str| small(word) == Some(Small::Not);
        let is_negated = all.iter().any(|word| is_not(word)) && !all.iter().all(|w| is_not(w));
        const OF_NO_VERB: [&str; 7] = ["not", "no", "non", "isnt", "arent", "isn't", "aren't"];
        let is_verb = |word: &str| is_not(word) && !OF_NO_VERB.contains(&word);
        let denies_verb = is_negated && all.iter().any(|word| is_verb(word));
        let words: Vec<Wording> = all
            .into_iter()
            .filter(|word| !JOINS.contains(&word.as_str()))
            .filter(|word| !is_negated || !is_not(word))
            .map(|word| Wording {
                stem: stem(&word),
                word,
                weight: 1.0,
            })
            .collect();
        if words.is_empty() {
            return;
        }
        let head = head_of(phrase);
        let how = words.iter().position(|word| {
            is_praise(&word.word) || matches!(word.word.as_str(), "badly" | "poorly")
        });
        let how = how.filter(|_| words.len() == 2);
        let is_ill = how.is_some_and(|how| !is_praise(&words[how].word));
        let goes = match (how, words.len()) {
            (Some(how), _) if is_negated || is_ill => Some(1 - how),
            (None, 1) if is_negated => Some(0),
            _ => None,
        };
        let says_it = |word: &Wording| {
            let is_particle = matches!(word.word.as_str(), "off" | "out" | "away");
            is_particle && words.len() == 2
        };
        self.sayings.push(Saying {
            needs: words.iter().position(says_it),
            goes,
            how: how.filter(|_| goes.is_some()),
            head: words.iter().position(|w| w.word == head).unwrap_or(0),
            is_negated,
            denies_verb,
            loss: words
                .iter()
                .position(|w| is_loss(&w.word) && words.len() > 1)
                .filter(|_| !phrase.contains("short") || phrase.contains("short of ")),
            turns: words
                .first()
                .filter(|first| words.len() > 1 && TURNS.contains(&first.word.as_str()))
                .map(|_| 0),
            kind,
            meaning,
            words,
            phrase: phrase.to_lowercase(),
            is_hidden,
            is_loose: false,
        });
    }

    /// Rare words weigh more; small ones, as "out" and "off", little.
    fn weigh(&mut self) {
        let mut kinds_with: BTreeMap<&str, BTreeSet<Meaning>> = BTreeMap::new();
        for saying in &self.sayings {
            for word in &saying.words {
                let with = kinds_with.entry(&word.stem).or_default();
                with.insert(saying.meaning);
            }
        }
        let often: BTreeMap<String, usize> = kinds_with
            .into_iter()
            .map(|(stem, with)| (stem.to_owned(), with.len()))
            .collect();
        for (index, saying) in self.sayings.iter_mut().enumerate() {
            for (at, word) in saying.words.iter_mut().enumerate() {
                let often = often.get(&word.stem).copied().unwrap_or(1);
                let often = f64::from(u32::try_from(often).unwrap_or(u32::MAX));
                word.weight = 1.0 / (1.0 + often.ln() * 0.35);
                if small(&word.word).is_some() {
                    word.weight *= 0.25;
                }
                let places = self.by_stem.entry(word.stem.clone()).or_default();
                places.push((index, at));
            }
        }
    }

    fn take_words(&mut self) {
        let mut all: BTreeSet<String> = BTreeSet::new();
        let sayings = self.sayings.iter().flat_map(|saying| &saying.words);
        let words: BTreeSet<&str> = sayings.map(|word| word.word.as_str()).collect();
        for word in words {
            all.extend(forms_of(word));
            all.insert(word.to_owned());
        }
        for noun in self.nouns.keys() {
            all.extend(noun.split(' ').map(str::to_owned));
        }
        all.extend(self.names.keys().filter(|name| name.len() > 2).cloned());
        let mut all: Vec<String> = all.into_iter().filter(|w| w.chars().count() > 2).collect();
        all.sort();
        let letters = |word: String| {
            let letters = word.chars().collect();
            (word, letters)
        };
        self.all = all.into_iter().map(letters).collect();
    }

    /// The words of the house that a typed word may be: itself, a form of one, or, if it is
    /// none, what it may be a slip for.
    pub(crate) fn known(&self, typed: &str) -> Vec<Known> {
        let known = |word: &str, near| Known {
            word: word.to_owned(),
            near,
        };
        // A small word is one of the house's only as it stands: "her" is no "herring".
        let is_form = small(typed).is_none() && self.by_stem.contains_key(&stem(typed));
        if self.is_word(typed) || is_form {
            return vec![known(typed, 1.0)];
        }
        if small(typed).is_some() || english::place(typed).is_some() {
            return Vec::new();
        }
        let letters: Vec<char> = typed.chars().collect();
        let most = furthest(letters.len());
        let near = self.all.iter().filter_map(|(word, known)| {
            // One that is closed or means something by itself is no target.
            let cost = distance(&letters, known, most)?;
            Some((cost, word))
        });
        let mut near: Vec<(u32, &String)> = near.collect();
        near.sort();
        if near.is_empty() {
            return self.begun(typed);
        }
        let Some(&(least, _)) = near.first() else {
            return Vec::new();
        };
        let how_near = if is_ordinary(typed) { ODD_SLIP } else { SLIP };
        let nearest = near.iter().take_while(|(cost, _)| *cost <= least + 3);
        nearest
            .take(4)
            .map(|(_, word)| known(word, how_near))
            .collect()
    }

    /// The word that a word is the beginning of, if there is only one: "ply", "mahog".
    fn begun(&self, typed: &str) -> Vec<Known> {
        if typed.chars().count() < 3 || is_ordinary(typed) {
            return Vec::new();
        }
        let mut longer = self.all.iter().filter(|(word, _)| word.starts_with(typed));
        match (longer.next(), longer.next()) {
            (Some((word, _)), None) => vec![Known {
                word: word.clone(),
                near: BEGUN,
            }],
            _ => Vec::new(),
        }
    }

    /// Whether some saying has these words in it as they stand.
    pub(crate) fn has_phrase(&self, words: &str) -> bool {
        let mut phrases = self
            .sayings
            .iter()
            .map(|saying| saying.phrase.replace('-', " "));
        phrases.any(|phrase| phrase.contains(words))
    }

    /// Whether it is a word of the house.
    pub(crate) fn is_word(&self, word: &str) -> bool {
        self.all
            .binary_search_by(|(known, _)| known.as_str().cmp(word))
            .is_ok()
    }

    /// The sayings that a word stands in, each with its place and how near it is.
    pub(crate) fn with(&self, known: &Known) -> impl Iterator<Item = (usize, usize, f64)> + '_ {
        let places = self.by_stem.get(&stem(&known.word));
        let near = known.near;
        let word = known.word.clone();
        places.into_iter().flatten().map(move |&(saying, at)| {
            let same = self.sayings[saying].words[at].word == word;
            (saying, at, if same { near } else { near * FORM })
        })
    }

    /// The longest noun that the words begin with, each given with what it may be.
    pub(crate) fn noun(&self, words: &[&str]) -> Option<(usize, &[Noun])> {
        let most = self.longest_noun.min(words.len());
        (1..=most).rev().find_map(|count| {
            let form = words[..count].join(" ");
            let found = self.nouns.get(&form);
            let found = found.or_else(|| self.joined_badly(&words[..count]))?;
            Some((count, found.as_slice()))
        })
    }

    /// "chest od drawers": a slip in the small word that holds a noun together.
    fn joined_badly(&self, words: &[&str]) -> Option<&Vec<Noun>> {
        let [first, small_word, last] = words else {
            return None;
        };
        if small_word.len() > 3 || small(small_word).is_some() {
            return None;
        }
        let joins = JOINS
            .iter()
            .filter(|join| join.len().abs_diff(small_word.len()) < 2);
        let mut forms = joins.map(|join| format!("{first} {join} {last}"));
        forms.find_map(|form| self.nouns.get(&form))
    }

    /// The name of single parts that a word stands for: "left" for "lh".
    pub(crate) fn name(&self, word: &str) -> Option<&str> {
        let name = self.names.get(word)?;
        (!name.is_empty()).then_some(name.as_str())
    }

    /// Whether it is the name of a single part by itself: "left", but not the "front" of "front
    /// left".
    pub(crate) fn is_whole_name(&self, name: &str) -> bool {
        self.whole_names.contains(name)
    }

    /// Whether a word goes with a measure: "wide".
    pub(crate) fn is_measuring(&self, word: &str) -> bool {
        self.measuring.contains(word)
    }

    /// Whether a word stands in the attribute of a choice: "wood" of "main wood".
    pub(crate) fn is_attribute(&self, sign: SignId, word: &str) -> bool {
        let stem = stem(word);
        let attribute = self.attributes.get(&sign);
        attribute.is_some_and(|words| words.contains(&stem))
    }

    /// Whether the house says that these words are never taken for a saying.
    pub(crate) fn is_apart(&self, typed: &[String], saying: &Saying) -> bool {
        self.apart.iter().any(|(words, phrases)| {
            phrases.contains(&saying.phrase) && words.iter().all(|word| typed.contains(word))
        })
    }
}

/// Other forms of a word that ends in -ing or -ed, for slips: "rattle", "rattles".
fn forms_of(word: &str) -> Vec<String> {
    let Some(base) = word.strip_suffix("ing").or_else(|| word.strip_suffix("ed")) else {
        return Vec::new();
    };
    if base.len() < 3 {
        return Vec::new();
    }
    let mut single = base.to_owned();
    let bytes = base.as_bytes();
    if let [.., a, b] = bytes
        && a == b
    {
        single.pop();
    }
    let bases = [base.to_owned(), single, format!("{base}e")];
    let forms = bases
        .iter()
        .flat_map(|base| [base.clone(), format!("{base}s")]);
    let stem_of = stem(word);
    forms
        .chain([format!("{base}ing"), format!("{base}ed")])
        .filter(|form| stem(form) == stem_of)
        .collect()
}

/// Words that only hold a saying together.
const JOINS: [&str; 14] = [
    "of", "in", "on", "at", "to", "the", "with", "by", "a", "an", "for", "from", "its", "into",
];

/// The words of a phrase, in small letters, hyphens taken apart.
pub(crate) fn split(phrase: &str) -> Vec<String> {
    phrase
        .to_lowercase()
        .replace('’', "'")
        .split(|c: char| !(c.is_alphanumeric() || c == '\''))
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

fn stems(phrase: &str) -> Vec<String> {
    split(phrase).iter().map(|word| stem(word)).collect()
}

/// The word that a name turns on: "chest" of "chest of drawers", "table" of "drop-leaf
/// table".
fn head_of(name: &str) -> String {
    let words = split(name);
    let before = words
        .iter()
        .take_while(|word| !JOINS.contains(&word.as_str()));
    before.last().cloned().unwrap_or_default()
}
